import { CHANGE_WORDS } from '../../findings/findingWords.js';
import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** The factors of an earlier study against those of this one. */
export function changeRows(result: Result): readonly TableRow[] {
  return (result.then_and_now?.wavelengths ?? []).map((one) => ({
    'Wavelength in nm': one.wavelength_nm,
    'K then': formatNumber(one.earlier_factor, { digits: 4, keepZeros: true }),
    'K now': formatNumber(one.factor, { digits: 4, keepZeros: true }),
    'Change in %': formatNumber(one.change_percent, { digits: 2 }),
    'Interval in %': formatInterval(one.low_percent, one.high_percent),
    Verdict: CHANGE_WORDS[one.verdict],
  }));
}
