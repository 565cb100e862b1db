import { formatDegreesOfFreedom, formatInterval, formatNumber } from '../../report/formatNumber.js';
import { formatUncertain } from '../../report/formatUncertain.js';
import type { Result, WavelengthResult } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** The factor of each wavelength: the number a candidate reading is multiplied by. */
export function factorRows(result: Result): readonly TableRow[] {
  return result.wavelengths.map((one) => ({
    'Wavelength in nm': one.wavelength_nm,
    Series: one.series.length,
    'Factor K': formatUncertain(one.factor, expanded(one)),
    Interval: formatInterval(one.low, one.high),
    'U in %': formatNumber(one.relative_expanded_uncertainty, {
      as: 'percent',
      digits: 2,
      unit: '',
    }),
    k: formatNumber(one.coverage_factor, { digits: 3 }),
    'Degrees of freedom': formatDegreesOfFreedom(one.dof),
    Verdict: one.verdict.replaceAll('-', ' '),
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
