import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { z } from 'zod';
import { MeterpairError } from '../error.js';

/** A cell of a notebook file (nbformat 4.5), as far as running it needs to know. */
export interface NotebookCell {
  readonly cell_type: 'markdown' | 'code' | 'raw';
  readonly id: string;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly source: string | readonly string[];
  readonly execution_count?: number | null;
  readonly outputs?: readonly NotebookOutput[];
}

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

export interface Notebook {
  readonly nbformat: 4;
  readonly nbformat_minor: 5;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly cells: readonly NotebookCell[];
}

const text = z.union([z.string(), z.array(z.string())]);
const notebookShape = z.object({
  nbformat: z.literal(4),
  nbformat_minor: z.number().int(),
  metadata: z.record(z.string(), z.unknown()),
  cells: z.array(
    z.object({
      cell_type: z.enum(['markdown', 'code', 'raw']),
      id: z.string().optional(),
      metadata: z.record(z.string(), z.unknown()),
      source: text,
    }),
  ),
});

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
    nbformat: 4,
    nbformat_minor: 5,
    metadata: parsed.data.metadata,
    cells: parsed.data.cells.map((cell, place) => ({
      cell_type: cell.cell_type,
      id: cell.id ?? idOf(place, sourceText(cell)),
      metadata: cell.metadata,
      source: cell.source,
      ...(cell.cell_type === 'code' ? { execution_count: null, outputs: [] } : {}),
    })),
  };
}

export function sourceText(cell: Pick<NotebookCell, 'source'>): string {
  return typeof cell.source === 'string' ? cell.source : cell.source.join('');
}

/** Text as notebook files keep it: a list of lines, each with its line end. */
export function sourceLines(source: string): readonly string[] {
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
