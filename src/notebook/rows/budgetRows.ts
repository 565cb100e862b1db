import { formatDegreesOfFreedom, formatNumber } from '../../findings/formatNumber.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** Every contribution to the uncertainty, wavelength by wavelength, the largest first. */
export function budgetRows(result: Result): readonly TableRow[] {
  return result.wavelengths.flatMap((one) =>
    [...one.budget]
      .sort((a, b) => b.share - a.share)
      .map((line) => ({
        'Wavelength in nm': one.wavelength_nm,
        Contribution: line.name,
        Type: line.type,
        'u in %': formatNumber(line.relative_standard_uncertainty, {
          as: 'percent',
          digits: 2,
          unit: '',
        }),
        'Degrees of freedom': formatDegreesOfFreedom(line.dof),
        'Share of the variance': formatNumber(line.share, { as: 'percent', digits: 2 }),
        'Where it comes from': line.note,
      })),
  );
}
