/** The ratio reference ÷ candidate of every lap, kept or left out: the points behind two figures. */
import { median } from 'simple-statistics';
import { asTaken } from '../readings/asTaken.js';
import { lapPairs } from '../series/lapPairs.js';
import type { ExclusionKind, LapPair, Result, Run, Series, Study } from '../vocabulary.js';
import { resultOf } from './laps.js';

export interface LapRatio {
  readonly lap: number;
  /** Middle of both runs, in s from the first run of the series. */
  readonly time_s: number;
  readonly ratio: number;
  /** Ratio over the median of the kept laps of its series, less one, in percent. */
  readonly percent: number;
  /** Why the lap is left out; `null`: it is kept. */
  readonly left_out: ExclusionKind | null;
  readonly reason: string | null;
}

export interface SeriesRatios {
  readonly id: string;
  readonly wavelength_nm: number;
  readonly timed: boolean;
  readonly usable: boolean;
  /**
   * Median of the kept laps, of all where none is kept: a single lap that is far off does not move it,
   * as it moves the factor.
   */
  readonly median: number;
  /** Interval of the factor of the series, in percent off the median; `null` where it has none. */
  readonly interval: readonly [number, number] | null;
  readonly laps: readonly LapRatio[];
  /** Laps that have no ratio because a reading is not above zero. */
  readonly without_ratio: number;
}

/** One entry a comparison series that has a complete lap. */
export function lapRatios(study: Study, result: Result): readonly SeriesRatios[] {
  return asTaken(study)
    .series.filter((series) => series.kind === 'comparison')
    .map((series) => ratiosOf(series, result))
    .filter((one) => one.laps.length + one.without_ratio > 0);
}

function ratiosOf(series: Series, result: Result): SeriesRatios {
  const found = resultOf(result, series.id);
  const reasons = new Map((found?.excluded ?? []).map((one) => [one.run, one] as const));
  const whyOut = (run: Run) =>
    reasons.get(run.run) ??
    (run.exclude === null ? undefined : { kind: 'declared' as const, reason: run.exclude });
  const pairs = lapPairs(series);
  const lit = pairs.filter(
    (pair) => pair.reference.reading_mW > 0 && pair.candidate.reading_mW > 0,
  );
  const known = lit.map((pair) => ({
    pair,
    out: whyOut(pair.reference) ?? whyOut(pair.candidate),
  }));
  const { low = null, high = null } = found?.factor ?? {};
  const kept = known.filter(({ out }) => out === undefined);
  const ratios = (kept.length > 0 ? kept : known).map(({ pair }) => ratioOf(pair));
  const middle = ratios.length === 0 ? 1 : median(ratios);
  const percent = (ratio: number) => 100 * (ratio / middle - 1);
  return {
    id: series.id,
    wavelength_nm: series.wavelength_nm,
    timed: series.timed,
    usable: found?.verdict === 'usable',
    median: middle,
    interval: low === null || high === null ? null : [percent(low), percent(high)],
    laps: known.map(({ pair, out }) => ({
      lap: pair.lap,
      time_s: (pair.reference.time_s + pair.candidate.time_s) / 2,
      ratio: ratioOf(pair),
      percent: percent(ratioOf(pair)),
      left_out: out?.kind ?? null,
      reason: out?.reason ?? null,
    })),
    without_ratio: pairs.length - lit.length,
  };
}

const ratioOf = ({ reference, candidate }: LapPair) => reference.reading_mW / candidate.reading_mW;
