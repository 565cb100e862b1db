/** The smooth drift that a model of alternated runs always carries. */

/** Runs from which on the model carries a parabola whether it is evident or not. */
export const RUNS_FOR_PARABOLA = 10;

/** Base degree that a series of so many runs carries. */
export function baseDegree(runs: number): number {
  if (runs >= RUNS_FOR_PARABOLA) return 2;
  return runs >= 4 ? 1 : 0;
}
