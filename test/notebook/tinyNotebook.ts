import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A notebook made for a test: prose and code in turn. */
export type TinyCell = string | { readonly code: string; readonly tags?: readonly string[] };

/** Writes a notebook with these cells into a fresh folder and gives its path. */
export function tinyNotebook(cells: readonly TinyCell[], name = 'tiny.ipynb'): string {
  const path = join(mkdtempSync(join(tmpdir(), 'meterpair-test-')), name);
  const notebook = {
    nbformat: 4,
    nbformat_minor: 5,
    metadata: {},
    cells: cells.map((cell, place) =>
      typeof cell === 'string'
        ? { cell_type: 'markdown', id: `prose-${place}`, metadata: {}, source: cell }
        : {
            cell_type: 'code',
            id: `code-${place}`,
            metadata: cell.tags ? { tags: cell.tags } : {},
            execution_count: null,
            outputs: [],
            source: cell.code,
          },
    ),
  };
  writeFileSync(path, JSON.stringify(notebook));
  return path;
}
