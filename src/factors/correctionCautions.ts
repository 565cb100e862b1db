/** What a user of a factor has to know of it, whatever is corrected. */

import { saidBy } from '../opinions/saidBy.js';
import type { FactorEntry, Factors, Warning } from '../vocabulary.js';

export function correctionCautions(factors: Factors, entry: FactorEntry): Warning[] {
  const against = entry.reference_contradicted_by ?? [];
  const few = entry.next_series_dof !== undefined && entry.next_series_dof < FEW_DOF;
  const all: readonly (readonly [boolean, string, string])[] = [
    [
      entry.verdict === 'inconclusive',
      'factor-inconclusive',
      `The factor at ${entry.wavelength_nm} nm is not settled by the comparison: see there why before using it.`,
    ],
    [
      entry.next_series_relative_sd === undefined,
      'placement-not-stated',
      'These factors do not say how much one placement of the candidate differs from the next, so U lacks that: make them anew from the study.',
    ],
    [
      few,
      'placement-little-known',
      'How much one placement differs from the next is known from very few of them: U is large for that, and may still be too small.',
    ],
    [
      against.length > 0,
      'reference-contradicted',
      `The reference is contradicted at the wavelength of this factor (by ${against.map((kind) => saidBy(kind)).join(' and ')}). The factor may carry an error of the reference that U does not hold: find out first which of them is right.`,
    ],
    [
      !factors.reference.uncertainty_stated,
      'relative-to-reference',
      `The reference "${factors.reference.name}" states no uncertainty: U holds relative to this reference only.`,
    ],
    [
      factors.candidate.resolution_mW === null,
      'resolution-not-stated',
      "The candidate's display step is not stated, so U lacks its rounding.",
    ],
  ];
  return all.flatMap(([holds, code, message]) => (holds ? [{ code, message }] : []));
}

/** Below this the spread between placements is hardly known. */
const FEW_DOF = 3;
