/** A corrected reading that does not tell on which side of a class limit the power lies. */

import { significant } from '../findings/formatNumber.js';
import { accessibleEmissionLimits } from '../hazard/accessibleEmissionLimits.js';
import type { Warning } from '../vocabulary.js';
import { SOURCE_WAVELENGTH_NM } from '../wavelengths/wavelengthContributions.js';

/**
 * A caution where the limit of a class lies within the interval of a power, at the wavelength or as far off
 * as a source may be of its nominal one; none elsewhere.
 */
export function classLimitWithin(
  wavelength_nm: number,
  { low, high }: { readonly low: number; readonly high: number },
): readonly Warning[] {
  const { limits } = accessibleEmissionLimits(wavelength_nm, {
    tolerance_nm: SOURCE_WAVELENGTH_NM,
  });
  const within = limits.filter(({ limit_mW }) => low <= limit_mW && limit_mW <= high);
  if (within.length === 0) return [];
  const named = within.map((one) => `class ${one.class} (${significant(one.limit_mW, 3)} mW)`);
  return [
    {
      code: 'class-limit-within',
      message: `The limit of ${named.join(' and of ')} lies within this corrected reading, so a higher class is not excluded. This is no classification: IEC 60825-1, local rules and a laser safety officer decide.`,
    },
  ];
}
