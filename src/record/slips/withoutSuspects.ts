import type { Study, Suspect } from '../../vocabulary.js';

/** Why a run is left out while it is not known what its display showed. */
export const OPEN_SUSPECT = 'open suspect';

/** The study without every run of the suspects' rows: each gets a reason in `exclude`. */
export function withoutSuspects(study: Study, suspects: readonly Suspect[]): Study {
  const series = study.series.map((one) => {
    const rows = new Set(
      suspects.filter((suspect) => suspect.series === one.id).flatMap((suspect) => suspect.rows),
    );
    if (rows.size === 0) return one;
    const runs = one.runs.map((run) =>
      rows.has(run.row) ? { ...run, exclude: run.exclude ?? OPEN_SUSPECT } : run,
    );
    return { ...one, runs };
  });
  return { ...study, series };
}
