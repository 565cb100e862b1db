import type { ReChecks } from '../vocabulary.js';
import { CHANGE_WORDS, controlWords } from './findingWords.js';
import { formatEstimate, formatNumber } from './formatNumber.js';

/** Whether the factors of several studies stay where they were. */
export function reCheckSentences(charts: readonly ReChecks[] | null): readonly string[] {
  const titles = charts?.[0]?.values.map((one) => `"${one.title}"`);
  if (charts === null || titles === undefined) {
    return [
      'Fewer than two earlier files of factors were given, so there is no chart of re-checks.',
    ];
  }
  return [
    `Oldest first, in the order given: ${titles.join(', ')}.`,
    ...charts.map(
      (one) =>
        `${formatNumber(one.wavelength_nm)} nm, ${controlWords(one)}: ${one.why}${sinceFirst(one)}`,
    ),
  ];
}

/** Change of the last factor since the first, and what that says; `null` where there is none. */
export function firstToLast({ since_first: change }: ReChecks): string | null {
  if (change === null || change.change_percent === null) return null;
  return `${formatEstimate(change.change_percent, change.low_percent, change.high_percent, { unit: '%' })}, ${CHANGE_WORDS[change.verdict]}`;
}

function sinceFirst(chart: ReChecks): string {
  const change = firstToLast(chart);
  const sign = (chart.since_first?.change_percent ?? 0) > 0 ? '+' : '';
  return change === null ? '' : ` From the first to the last: ${sign}${change}.`;
}

/** Where a value stands on its chart: "2", and nothing for one that is not on it. */
export function placesOnChart(chart: ReChecks): readonly (number | null)[] {
  let place = 0;
  return chart.values.map((one) => {
    if (one.factor === null) return null;
    place += 1;
    return place;
  });
}
