/** The factor that a candidate reading of the study itself is corrected by: that of its power. */

import type { FactorByPower } from '../agree/analyseSeriesMeans.js';
import type { WavelengthResult } from '../vocabulary.js';
import { curveOfLevels } from './curveOfLevels.js';
import { factorAtPower } from './factorAtPower.js';

export function factorByPower(
  wavelengths: readonly WavelengthResult[],
  confidence: number,
): FactorByPower {
  // Only ln K is asked for, and of this part the uncertainty needs no search.
  const curves = new Map(
    wavelengths.flatMap(({ wavelength_nm, levels, by_power }) =>
      levels.length === 0
        ? []
        : [
            [
              wavelength_nm,
              curveOfLevels({ levels, offset_mW: by_power.offset_mW }, confidence, 'rest'),
            ],
          ],
    ),
  );
  return (nm, candidate_mW) => {
    const curve = curves.get(nm);
    if (curve === undefined || !(candidate_mW > 0)) return null;
    const found = factorAtPower(curve, candidate_mW);
    return found === null ? null : Math.exp(found.logFactor);
  };
}
