/** A new reading brought to the kind that the factors hold for. */

import { percent, significant } from '../findings/formatNumber.js';
import { gainAt } from '../readings/lacking.js';
import {
  COUNTS_AS_SETTLED,
  MOST_MISSING,
  missingFraction,
  timeToSettle,
} from '../settle/missingFraction.js';
import { requireShape } from '../statistics/shapes.js';
import type { Factors, Warning } from '../vocabulary.js';

export interface SettledReading {
  readonly reading_mW: number;
  /** Relative standard uncertainty of bringing it there; 0 where nothing was done. */
  readonly standardUncertainty: number;
  readonly cautions: readonly Warning[];
}

/**
 * Divides an early reading by 1 − e^(−t/τ) where the factors hold for settled readings and know the
 * candidate's time constant; says so where they cannot be brought to one kind.
 *
 * @param read_at_s when it was taken, s after switch-on; `undefined`: not stated
 * @throws argument-wrong for a time that is not above 0
 */
export function settledReading(
  factors: Pick<Factors, 'reading'>,
  reading_mW: number,
  read_at_s: number | undefined,
): SettledReading {
  requireShape(read_at_s, 'A reading time in s', { maybe: 'above-zero' });
  const as = (cautions: readonly Warning[]): SettledReading => ({
    reading_mW,
    standardUncertainty: 0,
    cautions,
  });
  const { reading } = factors;
  if (reading === undefined) return as([KIND_NOT_STATED]);
  const { kind, read_at_s: studied, candidate_time_constant_s: tau } = reading;
  if (kind === 'as-read') {
    const other = read_at_s !== undefined && studied !== null && read_at_s !== studied;
    return as(other ? [otherTime(studied, read_at_s)] : []);
  }
  if (read_at_s === undefined) return as(waitFor(studied, tau));
  if (tau === null) return as([cannotBring(read_at_s)]);
  const gain = gainAt(
    read_at_s,
    {
      value_s: tau,
      standard_uncertainty_s: reading.candidate_time_constant_standard_uncertainty_s ?? 0,
    },
    0,
  );
  const missing = missingFraction(read_at_s, tau);
  return {
    reading_mW: reading_mW / gain.value,
    standardUncertainty: gain.standardUncertainty,
    cautions: missing > COUNTS_AS_SETTLED ? [broughtThere(read_at_s, missing)] : [],
  };
}

const KIND_NOT_STATED: Warning = {
  code: 'reading-kind-not-stated',
  message:
    'These factors do not say whether they hold for settled readings or for readings at a certain time after switch-on, so nothing is done about settling: read at the time of the comparison, or make them anew from the study.',
};

const otherTime = (studied: number, read_at_s: number): Warning => ({
  code: 'read-at-another-time',
  message: `The factor holds for readings taken ${studied} s after switch-on, and this one was taken at ${read_at_s} s: how far the sensor had settled is not known, and U does not hold that.`,
});

const cannotBring = (read_at_s: number): Warning => ({
  code: 'reading-may-be-early',
  message: `The factor holds for settled readings, and the candidate's time constant is not known: whether ${read_at_s} s were enough cannot be told, and U does not hold that.`,
});

/** Nobody said when the new reading was taken, and the study's own reading time was too early. */
function waitFor(studied: number | null, tau: number | null): Warning[] {
  if (studied !== null && tau !== null && missingFraction(studied, tau) <= COUNTS_AS_SETTLED)
    return [];
  const wait =
    tau === null
      ? ''
      : `: wait ${Math.ceil(timeToSettle(COUNTS_AS_SETTLED, tau))} s for 1 %, or say when it was read`;
  return [
    {
      code: 'settled-readings-only',
      message: `The factor holds for settled readings${wait}. A reading taken as early as those of the comparison would be too low.`,
    },
  ];
}

const broughtThere = (read_at_s: number, missing: number): Warning => ({
  code: 'reading-brought-to-settled',
  message: `At ${significant(read_at_s, 3)} s this reading still lacks ${percent(missing)}; it is brought to a settled one, and U holds how well that is known.${missing > MOST_MISSING ? ' More than half is missing, so it rests on the time constant more than on the display: read later.' : ''}`,
});
