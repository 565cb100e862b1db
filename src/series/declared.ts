import type { Exclusion, Protocol, Series } from '../vocabulary.js';
import { balancedExclusions } from './balanced.js';

/**
 * Runs that the user left out: those with a reason of their own, and the first laps that the
 * protocol declared beforehand to be warm-up. The other half of a lap goes with its run.
 */
export function declaredExclusions(
  series: Pick<Series, 'runs'>,
  protocol: Pick<Protocol, 'discard_first_laps'>,
): Exclusion[] {
  const reasons = new Map<number, string>();
  for (const run of series.runs) {
    if (run.exclude !== null) reasons.set(run.run, run.exclude);
    else if (run.lap !== null && run.lap <= protocol.discard_first_laps) {
      const laps = protocol.discard_first_laps;
      reasons.set(
        run.run,
        laps === 1
          ? 'the protocol discards the first lap'
          : `the protocol discards the first ${laps} laps`,
      );
    }
  }
  return balancedExclusions(series, 'declared', reasons);
}
