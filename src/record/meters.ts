/** The two meters of a comparison, and what each of them has. */
import type { MeterRole, Run } from '../vocabulary.js';

export const METERS = ['reference', 'candidate'] as const;

export function eachMeter<T>(of: (meter: MeterRole) => T): Readonly<Record<MeterRole, T>> {
  return { reference: of('reference'), candidate: of('candidate') };
}

export const runsOn = (runs: readonly Run[], meter: MeterRole): readonly Run[] =>
  runs.filter((run) => run.meter === meter);
