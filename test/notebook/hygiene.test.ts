import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

interface Cell {
  readonly cell_type: string;
  readonly id?: string;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly source: string | readonly string[];
  readonly outputs?: readonly unknown[];
  readonly execution_count?: number | null;
}

interface NotebookFile {
  readonly nbformat: number;
  readonly nbformat_minor: number;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly cells: readonly Cell[];
}

const folder = fileURLToPath(new URL('../../notebooks', import.meta.url));
const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(
  (name) => name.endsWith('.ipynb') && !name.includes('.ipynb_checkpoints'),
);

test('there are notebooks, the comparison among them', () => {
  expect(files).toContain('2-compare.ipynb');
});

describe.each(files)('%s', (file) => {
  const text = readFileSync(join(folder, file), 'utf8');
  const notebook = JSON.parse(text) as NotebookFile;
  const code = notebook.cells.filter((cell) => cell.cell_type === 'code');
  const sourceOf = (cell: Cell) =>
    typeof cell.source === 'string' ? cell.source : cell.source.join('');

  test('is of format 4.5 and names the TypeScript kernel, and nothing of the machine', () => {
    expect([notebook.nbformat, notebook.nbformat_minor]).toEqual([4, 5]);
    expect(Object.keys(notebook.metadata).sort()).toEqual(['kernelspec', 'language_info']);
    expect(notebook.metadata.kernelspec).toMatchObject({ name: 'tslab' });
  });

  test('carries no outputs and no execution counts', () => {
    expect(code.length).toBeGreaterThan(0);
    expect(code.filter((cell) => cell.outputs?.length !== 0)).toEqual([]);
    expect(code.filter((cell) => cell.execution_count !== null)).toEqual([]);
  });

  test('has a cell id everywhere, each once, and no metadata but tags', () => {
    const ids = notebook.cells.map((cell) => cell.id ?? '');
    expect(ids.filter((id) => !/^[a-zA-Z0-9-_]{1,64}$/.test(id))).toEqual([]);
    expect(new Set(ids).size).toBe(ids.length);
    const keys = notebook.cells.flatMap((cell) => Object.keys(cell.metadata));
    expect(keys.filter((key) => key !== 'tags')).toEqual([]);
  });

  test('puts prose before each code cell, and keeps cells to ten lines', () => {
    const bare = notebook.cells.filter(
      (cell, place) =>
        cell.cell_type === 'code' && notebook.cells[place - 1]?.cell_type !== 'markdown',
    );
    expect(bare.map(sourceOf)).toEqual([]);
    expect(code.map(sourceOf).filter((source) => source.split('\n').length > 10)).toEqual([]);
    expect(code.map(sourceOf).filter((source) => source.trim() === '')).toEqual([]);
  });

  test('opens with what to do, to learn and to need, and warns before anyone acts', () => {
    const prose = notebook.cells.filter((cell) => cell.cell_type === 'markdown').map(sourceOf);
    expect(prose[0]).toMatch(/^# [\s\S]*\*\*Do\.\*\*[\s\S]*\*\*Learn\.\*\*[\s\S]*\*\*Need\.\*\*/);
    expect(notebook.cells[1]?.id).toBe('caution');
    expect(prose[1]).toMatch(/Eyewear|eyewear/);
    expect(prose[1]).toContain('IEC 60825-1');
    expect(prose[1]).toContain('laser safety officer');
    expect(prose.filter((text) => text.startsWith('## On your own'))).toHaveLength(1);
  });

  test('types no number with a unit into its prose: a cell prints it', () => {
    const prose = notebook.cells
      .filter((cell) => cell.cell_type === 'markdown')
      .map(sourceOf)
      .join('\n')
      // Names of standards carry numbers that are no results.
      .replace(/IEC 60825-1|JCGM 10\d|ISO \d+/g, '');
    expect(prose.match(/\d+(?:[.,]\d+)?\s*(?:%|mW|nm|W\b|s\b)/g)).toBeNull();
  });

  test('holds no path of a machine', () => {
    expect(text).not.toMatch(/\/(?:home|Users|root|tmp)\/|[A-Z]:\\\\/);
  });
});

test('the comparison notebook has one cell for the study folder', () => {
  const text = readFileSync(join(folder, '2-compare.ipynb'), 'utf8');
  const notebook = JSON.parse(text) as NotebookFile;
  const tagged = notebook.cells.filter((cell) =>
    [cell.metadata.tags].flat().includes('study-folder'),
  );
  expect(tagged).toHaveLength(1);
  // The study that `npm start` takes when none is named, so that both give the same result.
  const demo = readdirSync(join(folder, '..', 'data-demo'), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()[0];
  expect([tagged[0]?.source].flat().join('')).toContain(`'../data-demo/${demo}'`);
  const earlier = notebook.cells.filter((cell) =>
    [cell.metadata.tags].flat().includes('earlier-factors'),
  );
  expect(earlier.map((cell) => [cell.source].flat().join(''))).toEqual([
    'const earlierFactors: string[] = [];',
  ]);
});
