/** The factor that a candidate reading of the study itself is corrected by: that of its power. */

import { curveOfLevels, factorAtPower } from '../power/index.js';
import type { WavelengthResult } from '../vocabulary.js';
import type { FactorByPower } from './analyseSeriesMeans.js';

export function factorByPower(
  wavelengths: readonly WavelengthResult[],
  confidence: number,
): FactorByPower {
  const curves = new Map(
    wavelengths.flatMap(({ wavelength_nm, levels, by_power }) =>
      levels.length === 0
        ? []
        : [[wavelength_nm, curveOfLevels({ levels, offset_mW: by_power.offset_mW }, confidence)]],
    ),
  );
  return (nm, candidate_mW) => {
    const curve = curves.get(nm);
    if (curve === undefined || !(candidate_mW > 0)) return null;
    const found = factorAtPower(curve, candidate_mW);
    return found === null ? null : Math.exp(found.logFactor);
  };
}
