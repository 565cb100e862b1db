import { formatPower } from '../../report/formatNumber.js';
import type { HazardResult, Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** The class of each source on the safe side, beside what its label says. */
export function hazardRows(result: Result): readonly TableRow[] {
  return result.hazard.map((one) => ({
    Source: one.source,
    'Wavelength in nm': one.wavelength_nm,
    'Highest reading': formatPower(one.highest_mW, { up: true }),
    'With its uncertainty': formatPower(one.upper_mW, { up: true }),
    'Treat it as class': treatAs(one),
    'Label says': one.label_class === null ? 'not stated' : `class ${one.label_class}`,
    'Label understates': one.label_understates ?? 'cannot be told',
  }));
}

function treatAs(one: HazardResult): string {
  if (one.class === null) return 'not decided; treat as dangerous';
  return one.decided ? one.class : `${one.class} (cannot be excluded)`;
}
