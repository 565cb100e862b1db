/** The uncertainty budget by wavelength, and what to do next. */

import { formatDegreesOfFreedom, formatNumber, formatRelative } from '../findings/formatNumber.js';
import { referenceOnly } from '../findings/words.js';
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import type { FigureShelf, FigureSlot } from './figureBlock.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Budgets as tables and bars. */
export function budgetTables(
  study: Study,
  result: Result,
  shelf: FigureShelf,
  figure: FigureSlot,
): Html {
  const relative = referenceOnly(study);
  return html`<section id="budget"><h2>Where the uncertainty comes from, and what to do next</h2>
<p>Relative standard uncertainties of the factor, combined as in JCGM 100. Type A comes from the scatter of this data, type B from other knowledge. ν: degrees of freedom.</p>
${relative === null ? null : html`<p class="notice">${relative}</p>`}
${shelf.place(figure, 'The largest part is where an improvement pays; the others hardly matter. Parts too small to be seen are in the tables.')}
${result.wavelengths.map(budgetTable)}
</section>`;
}

function budgetTable(one: WavelengthResult): Html {
  const at = `${formatNumber(one.wavelength_nm)} nm`;
  const combined =
    one.relative_standard_uncertainty === null
      ? []
      : [
          [
            'combined',
            formatRelative(one.relative_standard_uncertainty),
            '100',
            formatDegreesOfFreedom(one.dof),
            '',
            `k = ${formatNumber(one.coverage_factor, { digits: 3, keepZeros: true })}, U = ${formatRelative(one.relative_expanded_uncertainty)} %`,
          ],
        ];
  return html`${table({
    caption: `Budget at ${at}`,
    columns: [
      { head: 'Contribution' },
      { head: 'u / %', number: true },
      { head: 'Share of the variance / %', number: true },
      { head: 'ν', number: true },
      { head: 'Type' },
      { head: 'Where it comes from' },
    ],
    rows:
      one.budget.length === 0
        ? []
        : [
            ...one.budget.map((part) => [
              part.name,
              formatRelative(part.relative_standard_uncertainty),
              formatRelative(part.share),
              formatDegreesOfFreedom(part.dof),
              part.type,
              part.note,
            ]),
            ...combined,
          ],
    empty: `There is no budget at ${at}: ${one.why}`,
  })}
${one.not_in_budget.length === 0 ? null : html`<p><strong>Not in the budget, because nobody recorded it:</strong> ${one.not_in_budget.join('; ')}.</p>`}
<p><strong>What to do next at ${at}:</strong> ${one.next_step}</p>`;
}
