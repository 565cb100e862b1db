import { compareFactors } from '../../factors/analyseThenAndNow.js';
import { CHANGE_WORDS, controlWords } from '../../findings/findingWords.js';
import {
  formatInterval,
  formatNumber,
  formatWithin,
  NO_NUMBER,
  TWO_DIGITS,
} from '../../findings/formatNumber.js';
import type { Factors, ReChecks } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/**
 * Check by check: what a comparison with the check before says, and what the chart says.
 *
 * @param checks the factors behind the chart, in its order
 * @param truth the true factor of each, for invented data
 */
export function checkByCheckRows(
  checks: readonly Factors[],
  chart: ReChecks,
  truth?: readonly number[] | undefined,
): readonly TableRow[] {
  return chart.values.map((one, i) => {
    const before = checks[i - 1];
    const change =
      before === undefined
        ? undefined
        : compareFactors(before, checks[i]).wavelengths.find(
            ({ wavelength_nm }) => wavelength_nm === chart.wavelength_nm,
          );
    return {
      'No.': i + 1,
      Study: one.title,
      'Factor K': formatNumber(one.factor, { keepZeros: true }),
      ...(truth === undefined
        ? {}
        : { 'True K': formatNumber(truth[i] ?? null, { keepZeros: true }) }),
      'Since the check before, in %': formatWithin(
        change?.change_percent ?? null,
        change?.low_percent ?? null,
        change?.high_percent ?? null,
      ),
      'Interval in %': formatInterval(change?.low_percent ?? null, change?.high_percent ?? null),
      'This comparison': change === undefined ? NO_NUMBER : CHANGE_WORDS[change.verdict],
      'The chart': one.factor === null ? one.why : one.signals.join('; ') || 'no rule broken',
    };
  });
}

/** Centre and limits of charts beside each other. */
export function chartLimitRows(
  charts: readonly { readonly name: string; readonly chart: ReChecks }[],
): readonly TableRow[] {
  return charts.map(({ name, chart }) => ({
    Chart: name,
    Values: chart.values.filter((one) => one.factor !== null).length,
    Centre: formatNumber(chart.centre, { keepZeros: true }),
    'Limits from the scatter': limitsText(chart.limits),
    'Limits from the uncertainty': limitsText(chart.limits_from_uncertainty),
    'Scatter over uncertainty': formatNumber(chart.scatter_ratio, TWO_DIGITS),
    Verdict: controlWords(chart),
  }));
}

function limitsText(limits: ReChecks['limits']): string {
  return limits === null ? NO_NUMBER : formatInterval(...limits);
}
