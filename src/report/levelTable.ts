/** Limits of agreement that change with the level. */

import { formatInterval, formatNumber, NO_NUMBER } from '../findings/formatNumber.js';
import { unitOfLevels } from '../findings/levelSentences.js';
import { confidenceWords } from '../findings/words.js';
import type { AgreementAtLevel, Result } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Nothing where constant limits serve: limits at a level would only repeat them less surely. */
export function levelTable(result: Result): Html | null {
  const { against_level: found } = result.agreement;
  if (found.description !== 'changes-with-level') return null;
  const unit = unitOfLevels(found);
  return html`${table({
    caption: `Limits of agreement at the level of the reading; intervals for ${confidenceWords(result.confidence)}`,
    columns: [
      { head: 'Measured level' },
      { head: 'Mean of both meters / mW', number: true },
      { head: `Bias / ${unit}`, number: true },
      { head: `Interval of the bias / ${unit}`, number: true },
      { head: `Limits of agreement / ${unit}`, number: true },
      { head: `Interval of each limit / ${unit}`, number: true, breaks: true },
    ],
    rows: found.levels.map((one) => [
      one.place,
      formatNumber(one.level_mW, { digits: 3 }),
      formatNumber(one.bias, { digits: 3 }),
      formatInterval(...one.bias_interval),
      formatInterval(one.low, one.high),
      limitIntervals(one),
    ]),
  })}
${reasons(found.levels)}`;
}

function limitIntervals({ low_interval: low, high_interval: high }: AgreementAtLevel) {
  const parts = [formatInterval(...low), formatInterval(...high)];
  return parts.every((part) => part === NO_NUMBER)
    ? NO_NUMBER
    : html`<span class="together">${parts[0]}</span>; <span class="together">${parts[1]}</span>`;
}

function reasons(levels: readonly AgreementAtLevel[]): Html | null {
  return levels.every((one) => one.low_interval[0] !== null)
    ? null
    : html`<p class="small">— means that there is no number; the means of the series, below, say why.</p>`;
}
