import type { Part } from '../statistics/combineIndependent.js';
import { stepUncertainty } from '../statistics/roundedDisplay.js';
import { type Factors, KNOWN_EXACTLY } from '../vocabulary.js';
import type { FactorFor } from './factorFor.js';
import type { TakenReading } from './newReading.js';

/** One contribution to a corrected reading, as a fraction of it. */
export interface ReadingPart extends Part {
  readonly name:
    | 'factor K'
    | 'placement'
    | 'scatter of the reading'
    | 'display step'
    | 'zero'
    | 'settling'
    | 'power between the levels'
    | 'power outside the levels'
    | 'wavelength of the source';
  readonly shape: 'student' | 'rectangular';
  /** Whether the factors say how large it is; counted as 0 where they do not. */
  readonly stated: boolean;
}

/** What is known of a factor and of the readings it corrects. */
export type KnownFactor = Pick<
  FactorFor,
  'rest' | 'placement' | 'nextPlacement' | 'scatter' | 'between' | 'outside' | 'colour'
>;

/**
 * What the uncertainty of a corrected reading is made of (parts that know nothing of each other). What
 * placements left in K and what the new one brings are one part: both come from one estimate of their
 * spread, and are wrong together where that is wrong.
 */
export function readingParts(
  factors: { readonly candidate: Pick<Factors['candidate'], 'resolution_mW'> },
  found: KnownFactor,
  taken: Pick<TakenReading, 'indication_mW' | 'readings' | 'seatings' | 'scatter' | 'settling'>,
): readonly ReadingPart[] {
  const step = factors.candidate.resolution_mW;
  const { nextPlacement: next } = found;
  const rounding = stepUncertainty(step ?? 0) / taken.indication_mW;
  const scatter = scatterOf(found, taken);
  const rectangular = (
    name: ReadingPart['name'],
    standardUncertainty: number,
    stated = true,
  ): ReadingPart => ({
    name,
    standardUncertainty,
    dof: KNOWN_EXACTLY,
    shape: 'rectangular',
    stated,
  });
  const limits = (name: ReadingPart['name'], half: number) =>
    half > 0 ? [rectangular(name, half / Math.sqrt(3))] : [];
  return [
    { name: 'factor K', ...found.rest, shape: 'student', stated: true },
    {
      name: 'placement',
      standardUncertainty: Math.hypot(found.placement, (next?.sd ?? 0) / Math.sqrt(taken.seatings)),
      dof: next?.dof ?? KNOWN_EXACTLY,
      shape: 'student',
      stated: next !== null,
    },
    { name: 'scatter of the reading', ...scatter, shape: 'student', stated: true },
    rectangular('display step', rounding, step !== null),
    rectangular('zero', rounding, step !== null),
    ...(taken.settling > 0 ? [rectangular('settling', taken.settling)] : []),
    ...limits('power between the levels', found.between),
    ...limits('power outside the levels', found.outside),
    ...limits('wavelength of the source', found.colour),
  ];
}

/** Of the mean: by the scatter that the factors know, or by that of these readings where it is more. */
function scatterOf(
  { scatter: known }: KnownFactor,
  { scatter, readings }: Pick<TakenReading, 'scatter' | 'readings'>,
) {
  const counts = scatter !== null && scatter.sd > known.sd ? scatter : known;
  return { standardUncertainty: counts.sd / Math.sqrt(readings), dof: Math.max(1, counts.dof) };
}
