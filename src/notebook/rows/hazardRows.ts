import { formatPower } from '../../findings/formatNumber.js';
import { hazardZone, labelVerdict, labelWords } from '../../findings/words.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** The class of each source on the safe side, beside what its label says. */
export function hazardRows(result: Result): readonly TableRow[] {
  return result.hazard.map((one) => ({
    Source: one.source,
    'Wavelength in nm': one.wavelength_nm,
    'Highest seen': formatPower(one.highest_mW, { up: true }),
    'With its uncertainty up to': formatPower(one.upper_mW, { up: true }),
    Outcome: hazardZone(one),
    'Label says': labelWords(one),
    'Label against data': labelVerdict(one),
  }));
}
