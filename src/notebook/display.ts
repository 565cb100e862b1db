import { argumentWrong } from '../error.js';
import { escapeHtml } from '../findings/escape.js';
import { cellText, type Finding, headOf, isNumeric } from '../findings/finding.js';
import { unbroken } from '../findings/unbroken.js';
import type { Result } from '../vocabulary.js';
import { bundleHtml, type DrawableFigure, figureHtml, packedBundle } from './figureHtml.js';
import { loadedKernel, notebookState } from './notebookState.js';
import { gridHtml, type TableRow, tableHtml } from './tableHtml.js';

/**
 * Shows a figure under the cell. The first figure of a notebook brings the plotting bundle along
 * (about 2 MB); running its cell again brings it again, so that the saved page stays whole.
 *
 * @throws argument-wrong outside a notebook cell, or when the project has not been built
 */
export function show(figure: DrawableFigure): void {
  const state = notebookState();
  state.bundleIn ??= figure.title;
  const bundle = state.bundleIn === figure.title ? bundleHtml(packedBundle()) : '';
  emit({ 'text/html': bundle + figureHtml(figure), 'text/plain': `[figure] ${figure.title}` });
}

/** Shows HTML that the caller vouches for: escape every text that came from a file first. */
export function showHtml(html: string): void {
  emit({ 'text/html': html });
}

/** Shows records as a table, or `none` where there are no rows. */
export function showTable(
  rows: readonly TableRow[],
  { none = 'Nothing to show.' }: { readonly none?: string } = {},
): void {
  if (rows.length === 0) showSentences([none]);
  else emit({ 'text/html': tableHtml(rows) });
}

/** Shows a finding as the report does: its table, how to read it, and what follows from it. */
export function showFinding(found: Finding): void {
  const { title, columns, rows, notes, sentences, empty } = found;
  const heads = columns.map(headOf);
  const cells = rows.map((row) => row.map((cell, i) => unbroken(cellText(columns[i], cell))));
  const sides = columns.map((column) => (isNumeric(column) ? 'right' : 'left'));
  const table = rows.length === 0 ? '' : gridHtml(title, heads, cells, sides);
  const said = [...(table === '' ? [empty] : []), ...notes, ...sentences].filter(
    (one) => one !== '',
  );
  emit({
    'text/html': table + said.map((one) => `<p>${escapeHtml(unbroken(one))}</p>`).join(''),
    'text/plain': [title, ...cells.map((row) => row.join('; ')), ...said].join('\n'),
  });
}

/** Shows plain sentences, one a paragraph. Nothing in them is read as markup. */
export function showSentences(sentences: readonly string[]): void {
  const said = sentences.filter((sentence) => sentence.trim() !== '');
  const html = said.map((sentence) => `<p>${escapeHtml(sentence)}</p>`).join('');
  if (said.length > 0) emit({ 'text/html': html, 'text/plain': said.join('\n') });
}

/**
 * Puts the result into the notebook as data (`application/json`), with one line for people. The
 * headless run takes result.json from there.
 */
export function showRecord(result: Result): void {
  const line = `${result.schema}, data ${result.data_sha256}`;
  emit({
    'application/json': JSON.parse(JSON.stringify(result)),
    'text/html': `<p>Record: <code>${escapeHtml(line)}</code></p>`,
    'text/plain': `Record: ${line}`,
  });
}

function emit(data: Readonly<Record<string, unknown>>): void {
  const write = notebookState().write ?? loadedKernel()?.lastWriteDisplayData ?? null;
  if (write === null) {
    throw argumentWrong('Showing works inside a notebook cell only.');
  }
  write({ data, metadata: {}, transient: {} }, false);
}
