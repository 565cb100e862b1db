/** The runs of a series as the figure shows them: when, which are left out, who took them. */
import { mean, median } from 'simple-statistics';
import { formatNumber } from '../findings/formatNumber.js';
import { METERS, runsOn } from '../record/meters.js';
import type { Result, Run, Series } from '../vocabulary.js';
import { resultOf } from './laps.js';

export interface Clock {
  readonly title: string;
  readonly at: (run: Run) => number;
}

/** The unit that suits a time of so many seconds. */
export function timeUnit(longest_s: number): { readonly unit: string; readonly seconds: number } {
  if (longest_s > 10_800) return { unit: 'h', seconds: 3600 };
  return longest_s > 300 ? { unit: 'min', seconds: 60 } : { unit: 's', seconds: 1 };
}

/** Time in a unit that suits its length, or the number of the run when no time was recorded. */
export function clockOf(series: Series): Clock {
  if (!series.timed) return { title: 'run (no times recorded)', at: (run) => run.run };
  const longest = Math.max(0, ...series.runs.map((run) => run.time_s));
  const { unit, seconds } = timeUnit(longest);
  return { title: `time since the first run / ${unit}`, at: (run) => run.time_s / seconds };
}

export interface Prepared {
  readonly left: ReadonlyMap<number, string>;
  /** Mean of the medians of both meters' kept readings in mW; `null` when it is not above zero. */
  readonly middle: number | null;
}

export function prepare(series: Series, result: Result): Prepared {
  const left = new Map(
    (resultOf(result, series.id)?.excluded ?? []).map((one) => [one.run, one.reason] as const),
  );
  for (const run of series.runs) {
    if (run.exclude !== null && !left.has(run.run)) left.set(run.run, run.exclude);
  }
  const kept = series.runs.filter((run) => !left.has(run.run));
  const used = kept.length > 0 ? kept : series.runs;
  const medians = METERS.map((meter) => runsOn(used, meter).map((run) => run.reading_mW))
    .filter((readings) => readings.length > 0)
    .map(median);
  const middle = medians.length > 0 ? mean(medians) : 0;
  return { left, middle: middle > 0 ? middle : null };
}

/** Every entry that the legend will have. */
export function legendNames(shown: readonly Series[], result: Result): ReadonlySet<string> {
  return new Set(
    shown.flatMap((series) => {
      const { left } = prepare(series, result);
      return groupsOf(series).flatMap((group) => [
        group.name,
        ...(group.runs.some((run) => left.has(run.run)) ? [`${group.meter}, left out`] : []),
      ]);
    }),
  );
}

/** By meter; in a series about the wavelength setting by meter and setting. */
export function groupsOf(series: Series) {
  const settings = [...new Set(series.runs.map((run) => run.setting_nm))];
  const split = series.kind === 'setting';
  return METERS.flatMap((meter) =>
    (split ? settings : [null]).flatMap((setting, index) => {
      const runs = series.runs.filter(
        (run) => run.meter === meter && (!split || run.setting_nm === setting),
      );
      const name =
        split && setting !== null ? `${meter}, set to ${formatNumber(setting)} nm` : meter;
      // Which of several settings, counted from 0; `null` in a comparison.
      const number = split ? index : null;
      return runs.length === 0 ? [] : [{ meter, runs, name, setting: number }];
    }),
  );
}
