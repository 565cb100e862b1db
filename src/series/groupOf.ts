import type { Group } from '../statistics/twoGroupFit.js';
import type { Run } from '../vocabulary.js';

/** The meter of a run as a group of observations: 0 the reference, 1 the candidate. */
export function groupOf(run: Pick<Run, 'meter'>): Group {
  return run.meter === 'reference' ? 0 : 1;
}
