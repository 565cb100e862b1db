import { formatNumber, NO_NUMBER } from '../../findings/formatNumber.js';
import { formatUncertain, formatUncertainty } from '../../findings/formatUncertain.js';
import { factorLines, isSettled } from '../../findings/words.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** K by level of power, for wavelengths measured at several; no rows where there is none. */
export function levelRows(result: Result): readonly TableRow[] {
  return result.wavelengths
    .filter((one) => one.levels.length > 1)
    .flatMap((one) =>
      factorLines(one).map(({ factor, reach, U, k, holds }, i) => ({
        'Wavelength in nm': one.wavelength_nm,
        'Candidate shows': holds,
        'Factor K': isSettled(one)
          ? formatUncertain(factor, factor * U, { show: 'value' })
          : NO_NUMBER,
        'U or interval': isSettled(one) ? reach : NO_NUMBER,
        U: formatUncertainty(U, { as: 'percent' }),
        k: formatNumber(k, { digits: 3 }),
        Series: one.levels[i].series.join(', '),
      })),
    );
}
