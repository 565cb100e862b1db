import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  NO_NUMBER,
} from '../../findings/formatNumber.js';
import { formatUncertain, formatUncertainty } from '../../findings/formatUncertain.js';
import { factorLines, isSettled, VERDICT_WORDS } from '../../findings/words.js';
import type { Result, WavelengthResult } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/**
 * The factor of each wavelength: the number a candidate reading is multiplied by. Where the data
 * cannot tell, no factor is shown, so that nobody takes it away.
 */
export function factorRows(result: Result): readonly TableRow[] {
  return result.wavelengths.map((one) => ({
    'Wavelength in nm': one.wavelength_nm,
    Series: one.series.length,
    'Factor K': isSettled(one)
      ? formatUncertain(one.factor, expanded(one), { show: 'value' })
      : NO_NUMBER,
    Interval: isSettled(one) ? formatInterval(one.low, one.high) : NO_NUMBER,
    U: formatUncertainty(one.relative_expanded_uncertainty, { as: 'percent' }),
    k: formatNumber(one.coverage_factor, { digits: 3 }),
    'Degrees of freedom': formatDegreesOfFreedom(one.dof),
    'Holds for candidate readings': isSettled(one)
      ? factorLines(one)
          .map(({ holds }) => holds)
          .join('; ')
      : NO_NUMBER,
    Verdict: VERDICT_WORDS[one.verdict],
  }));
}

/** The factor of each series, by both roads: the model and the bracketing runs. */
export function seriesFactorRows(result: Result): readonly TableRow[] {
  return result.series.map((series) => ({
    Series: series.id,
    'Wavelength in nm': series.wavelength_nm,
    'K, model': formatNumber(series.factor.value, { digits: 5 }),
    Interval: formatInterval(series.factor.low, series.factor.high),
    'K, bracketed': formatNumber(series.factor_bracketed.value, { digits: 5 }),
    ' Interval': formatInterval(series.factor_bracketed.low, series.factor_bracketed.high),
    Verdict: series.verdict,
  }));
}

function expanded(one: WavelengthResult): number | null {
  if (one.factor === null || one.relative_expanded_uncertainty === null) return null;
  return one.factor * one.relative_expanded_uncertainty;
}
