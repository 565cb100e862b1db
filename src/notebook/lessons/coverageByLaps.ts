import type { Series } from '../../vocabulary.js';
import type { CoverageLine } from './coverageFigure.js';
import { coverageOf } from './coverageOf.js';
import { type Estimate, lapLogs } from './lapEstimate.js';

/** A way from the laps of a series to an interval. */
export interface NamedEstimate {
  readonly name: string;
  readonly estimate: (logs: readonly number[]) => Estimate;
}

/**
 * How often do intervals hold the truth, for several numbers of laps?
 *
 * @param options.series the repetitions with so many laps
 * @param options.ways each of them sees the same laps
 */
export function coverageByLaps(options: {
  readonly laps: readonly number[];
  readonly series: (laps: number) => readonly Series[];
  readonly ways: readonly NamedEstimate[];
  readonly truth: number;
}): readonly CoverageLine[] {
  const logs = options.laps.map((laps) => ({
    laps,
    all: options.series(laps).map((series) => lapLogs(series)),
  }));
  return options.ways.map(({ name, estimate }) => ({
    name,
    points: logs.map(({ laps, all }) => ({
      laps,
      coverage: coverageOf(all.map(estimate), options.truth),
    })),
  }));
}

/** The coverage of one line at one number of laps. */
export function coverageAt(line: CoverageLine | undefined, laps: number) {
  return line?.points.find((point) => point.laps === laps)?.coverage ?? null;
}
