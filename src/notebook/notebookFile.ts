import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import * as z from 'zod';
import { MeterpairError } from '../error.js';

export type NotebookOutput =
  | {
      readonly output_type: 'stream';
      readonly name: 'stdout' | 'stderr';
      readonly text: readonly string[];
    }
  | {
      readonly output_type: 'display_data';
      readonly data: Readonly<Record<string, unknown>>;
      readonly metadata: Readonly<Record<string, unknown>>;
    };

const cellShape = z.object({
  cell_type: z.enum(['markdown', 'code', 'raw']),
  id: z.string().optional(),
  metadata: z.record(z.string(), z.unknown()),
  source: z.union([z.string(), z.array(z.string())]),
});
const notebookShape = z.object({
  nbformat: z.literal(4),
  nbformat_minor: z.number().int(),
  metadata: z.record(z.string(), z.unknown()),
  cells: z.array(cellShape),
});

/** A cell of a notebook file (nbformat 4.5), as far as running it needs to know. */
export interface NotebookCell {
  readonly cell_type: 'markdown' | 'code' | 'raw';
  readonly id: string;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly source: string | readonly string[];
  readonly execution_count?: number | null;
  readonly outputs?: readonly NotebookOutput[];
}

export interface Notebook {
  readonly nbformat: 4;
  readonly nbformat_minor: number;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly cells: readonly NotebookCell[];
}

/**
 * Reads a notebook file for running: outputs of an earlier run are dropped, cells without an id
 * get one that follows from their place and content.
 *
 * @throws file-unreadable when there is no such file or it is not a notebook of format 4
 */
export async function readNotebook(path: string): Promise<Notebook> {
  const file = basename(path);
  let content: unknown;
  try {
    content = JSON.parse(await readFile(path, 'utf8'));
  } catch (error) {
    throw unreadable(file, error instanceof Error ? error.message : String(error));
  }
  const parsed = notebookShape.safeParse(content);
  if (!parsed.success) throw unreadable(file, z.prettifyError(parsed.error));
  return {
    ...parsed.data,
    nbformat_minor: 5,
    cells: parsed.data.cells.map((cell, place) => ({
      ...cell,
      id: cell.id ?? idOf(place, sourceText(cell)),
      ...(cell.cell_type === 'code' ? { execution_count: null, outputs: [] } : {}),
    })),
  };
}

export function sourceText({ source }: { readonly source: string | readonly string[] }): string {
  return typeof source === 'string' ? source : source.join('');
}

/** Text as notebook files keep it: a list of lines, each with its line end. */
export function sourceLines(source: string): string[] {
  return source.match(/[^\n]*\n|[^\n]+$/g) ?? [];
}

export function cellTags(cell: Pick<NotebookCell, 'metadata'>): readonly string[] {
  const tags = cell.metadata.tags;
  return Array.isArray(tags) ? tags.filter((tag) => typeof tag === 'string') : [];
}

function idOf(place: number, source: string): string {
  return createHash('sha256').update(`${place}\n${source}`).digest('hex').slice(0, 12);
}

function unreadable(file: string, found: string): MeterpairError {
  return new MeterpairError({
    code: 'file-unreadable',
    file,
    message: 'This is not a notebook that can be run.',
    found,
    expected: 'a Jupyter notebook, format 4',
  });
}
