import type { Exclusion, ExclusionKind, Run, Series } from '../vocabulary.js';

/**
 * Leaves runs out in balanced units: with a run goes the other half of its lap, because leaving out
 * one half alone would change the order that remains.
 *
 * @param reasons run number → reason in words
 * @returns one entry for every run that goes, in the order of the series
 */
export function balancedExclusions(
  series: Pick<Series, 'runs'>,
  kind: ExclusionKind,
  reasons: ReadonlyMap<number, string>,
): Exclusion[] {
  const laps = new Map<number, Run>();
  for (const run of series.runs) {
    if (reasons.has(run.run) && run.lap !== null && !laps.has(run.lap)) laps.set(run.lap, run);
  }
  return series.runs.flatMap((run) => {
    const own = reasons.get(run.run);
    if (own !== undefined) return [{ run: run.run, meter: run.meter, kind, reason: own }];
    const partner = run.lap === null ? undefined : laps.get(run.lap);
    if (partner === undefined) return [];
    const reason = `the other half of its lap, run ${partner.run}, was left out: ${reasons.get(partner.run)}`;
    return [{ run: run.run, meter: run.meter, kind, reason }];
  });
}

/** Runs of a series that no exclusion names. */
export function runsWithout(
  series: Pick<Series, 'runs'>,
  excluded: readonly Pick<Exclusion, 'run'>[],
): Run[] {
  const out = new Set(excluded.map((exclusion) => exclusion.run));
  return series.runs.filter((run) => !out.has(run.run));
}
