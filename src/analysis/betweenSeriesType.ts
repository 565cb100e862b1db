import { type CombinedSeries, DEFAULT_BETWEEN_DOF } from '../correct/index.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';

/**
 * Does the spread between series come from the scatter of this data (type A) or from other knowledge
 * (type B)? The scatter of the series themselves is A; a spread that the study states, and the
 * default alone, are B; a spread pooled from both is what brings more degrees of freedom.
 *
 * @returns `says` ends the note of the contribution, empty where the note says it all
 * Source: JCGM 100:2008, 2.3.2 and 2.3.3; that the larger part names the whole is ours.
 */
export function betweenSeriesType(combined: Pick<CombinedSeries, 'repeatability' | 'between'>): {
  readonly type: 'A' | 'B';
  readonly says: string;
} {
  // Without a repeatability of its own the line holds the scatter of these very series.
  if (combined.repeatability === null) return { type: 'A', says: '' };
  const { dof } = combined.between;
  if (dof >= KNOWN_EXACTLY || dof <= DEFAULT_BETWEEN_DOF) return { type: 'B', says: '' };
  return dof - DEFAULT_BETWEEN_DOF > DEFAULT_BETWEEN_DOF
    ? { type: 'A', says: ': the series say more of it' }
    : { type: 'B', says: ': the default says more of it' };
}
