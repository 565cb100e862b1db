/** Tables that a screen reader can follow, a narrow window can stack and a page break can split. */
import { type Html, html, trustedHtml } from './html.js';

export interface Column {
  readonly head: string;
  /** Numbers stand to the right. */
  readonly number?: boolean;
  /** A number that may break into lines. */
  readonly breaks?: boolean;
}

export interface TableInput {
  readonly caption: string;
  readonly columns: readonly Column[];
  /** First cell of a row is its heading. */
  readonly rows: readonly (readonly (Html | string)[])[];
  /** Said instead of an empty table. */
  readonly empty?: string;
}

/**
 * A table with a caption and scoped headings. Each cell repeats the head of its column as a label,
 * which the style sheet shows where the window is too narrow for columns. Roles are written out
 * because a stacked table would lose them.
 */
export function table({ caption, columns, rows, empty }: TableInput): Html {
  if (rows.length === 0) return html`<p class="none">${empty ?? 'Nothing to show.'}</p>`;
  const names = columns.map((column) => unbroken(column.head));
  const heads = columns.map(
    (column, i) => html`<th scope="col" role="columnheader"${numberClass(column)}>${names[i]}</th>`,
  );
  const body = rows.map((row) => {
    const cells = row.map((cell, i) =>
      i === 0
        ? html`<th scope="row" role="rowheader">${cell}</th>`
        : html`<td role="cell" data-label="${names[i]}"${numberClass(columns[i])}><span>${cell}</span></td>`,
    );
    return html`<tr role="row">${cells}</tr>`;
  });
  return html`<table role="table">
<caption>${caption}</caption>
<thead role="rowgroup"><tr role="row">${heads}</tr></thead>
<tbody role="rowgroup">${body}</tbody>
</table>`;
}

/** A unit stays on the line of its quantity. */
function unbroken(head: string): string {
  return head.replaceAll(' / ', '\u00a0/\u00a0');
}

function numberClass(column: Column): Html {
  if (!column.number) return trustedHtml('');
  return trustedHtml(column.breaks ? ' class="number breaks"' : ' class="number"');
}
