/** Zeros that stand in some rows only, or in other series: what the missing ones leave open. */

import { percent } from '../findings/formatNumber.js';
import { eachMeter, METERS, runsOn } from '../record/meters.js';
import { extremes, mean } from '../statistics/summary.js';
import type { MeterRole, Run, Series, Study, Warning } from '../vocabulary.js';

/** What is known of the zero of one meter in one series. */
export interface ZeroState {
  /** Part of the meter's runs whose zero was written down, 0 to 1. */
  readonly recorded: number;
  /**
   * How far an unrecorded zero may lie from what was subtracted, in mW, from the zeros that the
   * meter shows elsewhere; 0 where all were written down, `null` where no zero was ever recorded.
   */
  readonly open_mW: number | null;
}

export type ZeroStates = ReadonlyMap<string, Readonly<Record<MeterRole, ZeroState>>>;

/**
 * A run without a zero, beside runs of the same meter and series that have one, gets their mean. It
 * may as well have been 0 or the farthest of them, and that stays open.
 */
export function zeroed(study: Study): {
  readonly study: Study;
  readonly states: ZeroStates;
  readonly warnings: readonly Warning[];
} {
  const elsewhere = eachMeter((meter) => study.series.flatMap((one) => zerosOf(one, meter)));
  const states = new Map(
    study.series.map((series) => [
      series.id,
      eachMeter((meter) => stateOf(series, meter, elsewhere[meter])),
    ]),
  );
  return {
    study: { ...study, series: study.series.map(filled) },
    states,
    warnings: study.series.flatMap((series) => METERS.flatMap((meter) => someRows(series, meter))),
  };
}

const zerosOf = (series: Series, meter: MeterRole) =>
  runsOn(series.runs, meter).flatMap((run) => run.zero_mW ?? []);

/** `elsewhere`: what the meter showed in all series, which speak where this one has no zero. */
function stateOf(series: Series, meter: MeterRole, elsewhere: readonly number[]): ZeroState {
  const runs = runsOn(series.runs, meter);
  const own = zerosOf(series, meter);
  if (runs.length > 0 && own.length === runs.length) return { recorded: 1, open_mW: 0 };
  const recorded = runs.length === 0 ? 0 : own.length / runs.length;
  const seen = own.length > 0 ? own : elsewhere;
  if (seen.length === 0) return { recorded, open_mW: null };
  const taken = own.length > 0 ? mean(own) : 0;
  return {
    recorded,
    open_mW: extremes([0, ...seen].map((zero) => Math.abs(zero - taken)))[1] * (1 - recorded),
  };
}

function filled(series: Series): Series {
  const means = eachMeter((meter) => {
    const zeros = zerosOf(series, meter);
    return zeros.length === 0 ? null : mean(zeros);
  });
  const run = (one: Run): Run => {
    const zero = means[one.meter];
    if (one.zero_mW !== null || zero === null) return one;
    // A zero above the reading itself cannot be the one that belongs to it.
    if (one.reading_mW - zero <= 0) return one;
    return {
      ...one,
      zero_mW: zero,
      reading_mW: one.reading_mW - zero,
      peak_mW: one.peak_mW === null ? null : one.peak_mW - zero,
    };
  };
  return { ...series, runs: series.runs.map(run) };
}

function someRows(series: Series, meter: MeterRole): Warning[] {
  const runs = runsOn(series.runs, meter);
  const zeros = zerosOf(series, meter);
  if (zeros.length === 0 || zeros.length === runs.length) return [];
  const level = mean(runs.map((run) => Math.abs(run.reading_mW)));
  const largest = extremes(zeros.map(Math.abs))[1];
  return [
    {
      code: 'zero-in-some-rows',
      series: series.id,
      message: `The series "${series.id}" has a zero of the ${meter} in ${zeros.length} of ${runs.length} runs (up to ${percent(level > 0 ? largest / level : 0)} of a reading). The others get the mean of these, and the uncertainty holds what that leaves open. Note the indication with the beam blocked before every run.`,
    },
  ];
}
