/** Findings as tables that a screen reader can follow, a narrow window can stack and a page break can split. */
import {
  type Cell,
  cellText,
  type Finding,
  type FindingColumn,
  headOf,
  isNumeric,
} from '../findings/finding.js';
import { type Html, html, list, trustedHtml } from './html.js';

export interface TableOptions {
  /** Which columns to show, by their head; all when left out. */
  readonly only?: readonly string[];
  /** What else a cell shows: markup after its text, and a class of its own. */
  readonly beside?: (
    row: number,
    column: number,
  ) => { readonly after: Html; readonly style: string } | null;
  /** Says the sentences of the finding below the table (default false). */
  readonly sentences?: boolean;
}

/** A table up to this many rows stays on one page. */
const MOST_ON_A_PAGE = 16;

/**
 * A finding with its title as caption and scoped headings. Where the window is too narrow for its columns
 * a table of numbers scrolls sideways, and one of words stacks its cells, each with the head of its column
 * before it. Roles are written out because a stacked table would lose them.
 */
export function findingTable(found: Finding, options: TableOptions = {}): Html {
  const said = options.sentences === true ? list(found.sentences) : null;
  return html`<div class="${found.rows.length > MOST_ON_A_PAGE ? 'long' : 'short'}" id="table-${found.id}">${tableOf(found, options)}${found.notes.map((note) => html`<p class="note">${note}</p>`)}${said}</div>`;
}

function tableOf({ title, columns, rows, empty }: Finding, { only, beside }: TableOptions): Html {
  if (columns.length === 0) return html`<h3>${title}</h3>`;
  if (rows.length === 0) return html`<p class="none">${empty}</p>`;
  const shown = columns
    .map((column, place) => ({ column, place }))
    .filter(({ column }) => only === undefined || only.includes(column.head));
  const heads = shown.map(
    ({ column }) =>
      html`<th scope="col" role="columnheader"${sideOf(column)}>${headOf(column)}</th>`,
  );
  const body = rows.map((row, r) => {
    const cells = shown.map(({ column, place }, i) => {
      const text = cellText(column, row[place] as Cell);
      if (i === 0) return html`<th scope="row" role="rowheader"${sideOf(column)}>${text}</th>`;
      const more = beside?.(r, place) ?? null;
      const style = trustedHtml(more === null ? '' : ` ${more.style}`);
      return html`<td role="cell" data-label="${headOf(column)}" class="${isNumeric(column) ? 'number' : 'text'}${style}"><span>${text}${more?.after ?? null}</span></td>`;
    });
    return html`<tr role="row">${cells}</tr>`;
  });
  const scrolls = 2 * columns.filter(isNumeric).length >= columns.length;
  const table = html`<table role="table" class="${scrolls ? 'grid' : 'stack'}">
<caption>${title}</caption>
<thead role="rowgroup"><tr role="row">${heads}</tr></thead>
<tbody role="rowgroup">${body}</tbody>
</table>`;
  return scrolls
    ? html`<div class="scroll" role="region" tabindex="0" aria-label="${title}">${table}</div>`
    : table;
}

function sideOf(column: FindingColumn): Html {
  return trustedHtml(isNumeric(column) ? ' class="number"' : '');
}
