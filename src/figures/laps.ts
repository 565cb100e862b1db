/** Lap differences of the kept laps, the points behind the figures. */
import { asTaken } from '../readings/asTaken.js';
import { keptLaps } from '../series/lapPairs.js';
import type { Result, Series, SeriesResult, Study, WavelengthResult } from '../vocabulary.js';

export interface LapPoint {
  readonly series: string;
  readonly wavelength_nm: number;
  readonly lap: number;
  readonly reference_mW: number;
  readonly candidate_mW: number;
  /** Candidate minus reference, in percent of the reference. */
  readonly percent: number;
}

/** Every kept lap of every comparison series whose reference reading is above zero, as the analysis takes it. */
export function lapPoints(study: Study, result: Result): readonly LapPoint[] {
  return asTaken(study)
    .series.filter((series) => series.kind === 'comparison')
    .flatMap((series) => pointsOf(series, resultOf(result, series.id)));
}

/** The laps that the factor of a wavelength was made from. */
export function lapsOfFactor(
  laps: readonly LapPoint[],
  one: Pick<WavelengthResult, 'series' | 'wavelength_nm'>,
): readonly LapPoint[] {
  return laps.filter(
    (lap) => lap.wavelength_nm === one.wavelength_nm && one.series.includes(lap.series),
  );
}

/** What the result says of a series, when it says anything. */
export function resultOf(result: Result, id: string): SeriesResult | undefined {
  return result.series.find((one) => one.id === id);
}

function pointsOf(series: Series, result: SeriesResult | undefined): readonly LapPoint[] {
  return keptLaps(series, result?.excluded ?? [])
    .filter((pair) => pair.reference.reading_mW > 0)
    .map((pair) => ({
      series: series.id,
      wavelength_nm: series.wavelength_nm,
      lap: pair.lap,
      reference_mW: pair.reference.reading_mW,
      candidate_mW: pair.candidate.reading_mW,
      percent: 100 * (pair.candidate.reading_mW / pair.reference.reading_mW - 1),
    }));
}
