/** Runs a notebook for a test and reads what its cells show. */
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { runNotebook } from '../../src/notebook/headless.js';
import { cellTags, type Notebook, sourceText } from '../../src/notebook/notebookFile.js';

export const root = fileURLToPath(new URL('../..', import.meta.url));

/**
 * The notebook as it is, and after it the exercise once more for each of these answers, as `answer-0`,
 * `answer-1`, …
 *
 * @param name path below notebooks/
 * @param parameters what the constants of the cells with these tags are set to
 */
export async function runWithAnswers(
  name: string,
  answers: readonly string[],
  parameters: Readonly<Record<string, string>> = {},
): Promise<Notebook> {
  const path = join(root, 'notebooks', name);
  const notebook = JSON.parse(readFileSync(path, 'utf8')) as {
    cells: Notebook['cells'][number][];
  };
  const asked = notebook.cells.find((cell) => cellTags(cell).includes('answer'));
  if (asked === undefined) throw new Error('No cell for an answer.');
  notebook.cells.push(
    ...answers.map((value, place) => {
      const source = sourceText(asked).replace("answer('')", `answer('${value}')`);
      if (source === sourceText(asked)) throw new Error('No empty answer to replace.');
      return { ...asked, metadata: {}, id: `answer-${place}`, source };
    }),
  );
  const copy = join(mkdtempSync(join(tmpdir(), 'meterpair-test-')), basename(name));
  writeFileSync(copy, JSON.stringify(notebook));
  return runNotebook({
    notebook: copy,
    cwd: dirname(path),
    parameters: Object.fromEntries(
      Object.entries(parameters).map(([tag, run]) => [tag, { run, saved: run }]),
    ),
  });
}

/** What a cell shows, as HTML without scripts. */
export function htmlOf(run: Notebook, id: string): string {
  const cell = run.cells.find((one) => one.id === id);
  const outputs = (cell?.outputs ?? []).map((output) =>
    output.output_type === 'stream'
      ? `STREAM ${output.text.join('')}`
      : [output.data['text/html']].flat().join(''),
  );
  return outputs.join('\n').replace(/<script>[\s\S]*?<\/script>/g, '');
}

/** HTML without its tags. */
export const plain = (html: string): string =>
  html
    .replace(/<[^>]*>/g, '')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');

/** The sentences that a cell shows. */
export function sentencesOf(run: Notebook, id: string): readonly string[] {
  return [...htmlOf(run, id).matchAll(/<p>([\s\S]*?)<\/p>/g)].map(([, text]) => plain(text ?? ''));
}

/** A column of the first table of a cell. */
export function columnOf(run: Notebook, id: string, title: string): readonly string[] {
  const table = htmlOf(run, id).split('</table>')[0] ?? '';
  const [head, ...rows] = [...table.matchAll(/<tr>([\s\S]*?)<\/tr>/g)].map(([, row]) =>
    [...(row ?? '').matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, text]) =>
      plain(text ?? ''),
    ),
  );
  const at = head?.indexOf(title) ?? -1;
  if (at < 0) throw new Error(`${id} has no column ${title}: ${head?.join(' | ')}`);
  return rows.map((row) => row[at] ?? '');
}

/** A printed number is right to half a unit of its last digit. */
export function expectPrinted(text: string | undefined, value: number | null | undefined): void {
  const printed = (text ?? '').replace('−', '-');
  const digits = printed.split('.')[1]?.length ?? 0;
  const slack = 0.5001 * 10 ** -digits;
  expect(Number(printed)).toBeGreaterThanOrEqual((value ?? Number.NaN) - slack);
  expect(Number(printed)).toBeLessThanOrEqual((value ?? Number.NaN) + slack);
}

export const errorStreams = (run: Notebook) =>
  run.cells.flatMap((cell) =>
    (cell.outputs ?? []).filter(
      (output) => output.output_type === 'stream' && output.name === 'stderr',
    ),
  );
