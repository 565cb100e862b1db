/** Use of a factor: a new reading of the candidate, corrected, with its uncertainty. */
import { coverageOfBudget } from '../budget/coverageOfBudget.js';
import { MeterpairError } from '../error.js';
import { percent } from '../findings/formatNumber.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import type { CorrectedReading, Factors, Warning } from '../vocabulary.js';
import { classLimitWithin } from './classLimitWithin.js';
import { correctionCautions } from './correctionCautions.js';
import { factorFor } from './factorFor.js';
import { type NewReading, readingOf } from './newReading.js';
import { readingParts } from './readingParts.js';

/**
 * Corrected power = factor × reading, with the factor of the reading's own power: that of a level, or
 * between two levels what the data leave open about the way there. U holds the factor, what one
 * placement differs from the next (as series differ), display step and zero (step/√12 each), the scatter
 * of the readings, and what the wavelength of another source of this colour may do. The interval is
 * that of the budget's exact distribution where few degrees of freedom or a rectangle rule it
 * (`coverageOfBudget`), and never narrower than that of the factor.
 *
 * Several readings in a list were taken of one power with the head left where it was; a list of lists is
 * one list for each time it was put up. Their mean is corrected: scatter and placement average out,
 * the factor and the display do not.
 *
 * The factors say which kind of reading they hold for. With `read_at_s` a reading is brought to a
 * settled one where the candidate's time constant is known; what cannot be brought there is cautioned.
 *
 * Between two measured wavelengths a coating need not run straight: the factor is the geometric
 * middle of both neighbours, with their distance as a rectangular contribution, and the interval
 * never ends short of either neighbour's own interval; a caution says so. So it is where a wavelength
 * counts as that of two measured ones. Beyond the measured wavelengths, above the rated maximum, and
 * below half or above twice the measured powers the correction is refused.
 *
 * Corrected readings that share the reference share its error: of their difference it cancels, of their
 * mean it does not become less.
 *
 * @param factors what factors.json holds
 * @returns value and U in mW (value ± U holds low and high), the coverage factor k = half the interval
 *   on the log scale over the standard uncertainty, and cautions to read before use
 * @throws argument-wrong for what is no reading, reading-not-positive, wavelength-out-of-range,
 *   power-out-of-range, factors-invalid
 */
export function correct(factors: Factors, reading: NewReading): CorrectedReading {
  const taken = readingOf(factors, reading);
  check(factors, taken.indication_mW);
  const { reading_mW, wavelength_nm } = taken;
  const found = factorFor(factors, wavelength_nm, reading_mW);
  const { entry } = found;
  const parts = readingParts(factors, found, taken);
  const { standardUncertainty: u, dof } = combineIndependent(parts);
  const half = Math.max(
    coverageOfBudget(
      parts.map((part) => ({ ...part, relative_standard_uncertainty: part.standardUncertainty })),
      factors.confidence,
    ).high,
    // Never better known than the factor itself, nor than the neighbours in between.
    found.reach,
  );
  const value = found.factor * reading_mW;
  const U = Math.expm1(half);
  const [low, high] = [value * Math.exp(-half), value * Math.exp(half)];
  if (!Number.isFinite(U * value) || !Number.isFinite(high)) {
    throw new MeterpairError({
      code: 'factors-invalid',
      message: `These factors give no finite uncertainty at ${wavelength_nm} nm.`,
      found: `a factor of ${found.factor} with a half width of ${half} on the logarithmic scale`,
      expected: 'the factors.json that an analysis wrote',
    });
  }
  return {
    value,
    U: U * value,
    k: u > 0 ? half / u : 2,
    low,
    high,
    factor: found.factor,
    dof,
    parts: parts.map(({ name, standardUncertainty, dof: own, stated }) => ({
      name,
      relative_standard_uncertainty: standardUncertainty,
      dof: own,
      stated,
    })),
    cautions: [
      ...found.cautions,
      ...taken.cautions,
      ...correctionCautions(factors, entry),
      ...beyondTolerance(factors, U),
      ...classLimitWithin(wavelength_nm, { low, high }),
    ],
  };
}

function beyondTolerance({ tolerance_percent }: Factors, U: number): Warning[] {
  if (U <= tolerance_percent / 100) return [];
  return [
    {
      code: 'beyond-tolerance',
      message: `This corrected reading is known to ± ${percent(U)}, and the tolerance is ${tolerance_percent} %. Put the head up several times and correct the mean (reading_mW as a list for each time), or see from the budget what else would help.`,
    },
  ];
}

function check(factors: Factors, indication_mW: number): void {
  if (factors.factors.length === 0) {
    throw new MeterpairError({
      code: 'factors-invalid',
      message: 'These factors hold no wavelength: the comparison was inconclusive everywhere.',
    });
  }
  const most = factors.candidate.rated_max_mW;
  if (most !== null && indication_mW > most) {
    throw new MeterpairError({
      code: 'power-out-of-range',
      message: 'The reading is above the rated maximum of the candidate.',
      found: `${indication_mW} mW`,
      expected: `at most ${most} mW`,
    });
  }
}
