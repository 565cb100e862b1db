import { MeterpairError } from '../error.js';
import { runOrder } from '../plan/runOrder.js';
import { eachMeter } from '../record/meters.js';
import { laggedResponse } from '../settle/laggedResponse.js';
import type { Random } from '../statistics/random.js';
import type { MeterRole, Run, Series } from '../vocabulary.js';
import { type BenchOptions, requireBench } from './benchOptions.js';

/** What a real bench never tells. */
export interface BenchTruth {
  /** The true K of the candidate where it is in order. */
  readonly factor: number;
  /**
   * Reference ÷ candidate at `level_mW` with noise, drift and rounding off: `factor` altered by the
   * effects that no order of runs cancels (heat sink, lag, zeros that nobody wrote down).
   */
  readonly apparent_factor: number;
  /** True power of each run at the moment of reading, in mW. */
  readonly power_mW: readonly number[];
}

export interface SimulatedSeries {
  readonly series: Series;
  readonly truth: BenchTruth;
}

/**
 * What would two meters with known faults have shown, turn about, on a source with known habits?
 *
 * Effects multiply on the power, in this order: drift and noise of the source, what each meter does
 * to it (gain, heat sink, lag, noise of the reading), then the zero is added and the display rounds.
 * The same options and the same random stream give the same series.
 *
 * @returns the series as the record of a study holds it, and the truth behind it (mW; factor
 * without unit).
 * @throws argument-wrong for a bench that cannot be built; reading-not-positive when a display
 * would show zero or less, since no ratio can be taken of it.
 *
 * Source: the model is this project's own; docs/methods/virtual-bench.md has every formula.
 */
export function simulateSeries(options: BenchOptions, random: Random): SimulatedSeries {
  requireBench(options);
  const meters = runOrder(options.order ?? 'reference-first', options.laps);
  const time_s = startTimes(options, meters.length, random);
  const power_mW = sourcePower(options, time_s, random);
  const show = eachMeter((meter) => meterModel(options, meter));
  const runs: Run[] = [];
  for (let index = 0; index < meters.length; index++) {
    const meter = meters[index]!;
    const { noise, zero, zeroShown, round, response } = show[meter];
    const light = response(power_mW[index]!) * positiveFactor(noise, random);
    const reading_mW = round(light + zero) - zeroShown;
    const peak = options.peak_excess;
    const raised = peak === undefined ? null : light * (1 + peak * (0.5 + random.uniform()));
    if (reading_mW <= 0) throw notPositive(reading_mW, index + 1, meter);
    runs.push({
      run: index + 1,
      lap: Math.floor(index / 2) + 1,
      row: index + 2,
      meter,
      reading_mW,
      scale: 1,
      peak_mW: raised === null ? null : round(raised + zero) - zeroShown,
      zero_mW: options.zero_recorded === true ? zeroShown : null,
      time_s: time_s[index]!,
      setting_nm: null,
      exclude: null,
      checked: false,
      note: null,
    });
  }
  const { label } = options;
  return {
    series: {
      id: label?.id ?? 'virtual',
      source: label?.source ?? 'virtual source',
      wavelength_nm: label?.wavelength_nm ?? 532,
      runs,
      timed: true,
      kind: 'comparison',
      filter: label?.filter ?? null,
    },
    truth: { factor: options.factor, apparent_factor: apparentFactor(options, show), power_mW },
  };
}

interface MeterModel {
  /** What the sensor answers to a true power, before noise, zero and rounding. */
  readonly response: (power_mW: number) => number;
  readonly round: (value_mW: number) => number;
  readonly noise: number;
  readonly zero: number;
  /** The dark reading that is subtracted: 0 when nobody wrote it down. */
  readonly zeroShown: number;
}

function meterModel(options: BenchOptions, meter: MeterRole): MeterModel {
  const round = rounding(options.resolution_mW?.[meter] ?? 0);
  const gain = (meter === 'reference' ? 1 : 1 / options.factor) * lagGain(options, meter);
  const zero = options.zero_mW?.[meter] ?? 0;
  const hot = meter === 'candidate' ? options.heat_sink : undefined;
  const loss = (power: number) =>
    hot === undefined ? 0 : hot.droop_per_mW * Math.max(0, power - hot.onset_mW);
  return {
    response: (power) => power * gain * (1 - loss(power)),
    round,
    noise: options.noise?.[meter] ?? 0,
    zero,
    zeroShown: options.zero_recorded === true ? round(zero) : 0,
  };
}

/** Reading over power at the moment of reading. */
function lagGain(options: BenchOptions, meter: MeterRole): number {
  if (options.lag === undefined) return 1;
  const { read_at_s: time_s, fall_per_s = 0, time_constant_s } = options.lag;
  const now = laggedResponse({ time_s, fall_per_s, time_constant_s: time_constant_s[meter] ?? 0 });
  return now / (1 - fall_per_s * time_s);
}

/** Start of each run in s; the first is 0. */
function startTimes(options: BenchOptions, runs: number, random: Random): readonly number[] {
  const interval = options.run_interval_s ?? 45;
  const jitter = options.jitter_s ?? 0;
  const times = [0];
  for (let run = 1; run < runs; run++) {
    const late = jitter === 0 ? 0 : jitter * (2 * random.uniform() - 1);
    times.push(times[run - 1]! + interval + late);
  }
  return times;
}

/** True power of each run. Drift follows the clock, so unequal intervals mean unequal steps. */
function sourcePower(
  options: BenchOptions,
  time_s: readonly number[],
  random: Random,
): readonly number[] {
  const interval = options.run_interval_s ?? 45;
  const { noise = 0, drift = {} } = options.source ?? {};
  const { linear_per_run = 0, quadratic = 0, droop, wander = 0, hop } = drift;
  const cold = options.cold_start;
  const coldRuns = cold === undefined ? 0 : (cold.runs ?? 1);
  const half = time_s.at(-1)! / 2;
  let walk = 0;
  let hopped = false;
  return time_s.map((time, index) => {
    const steps = time / interval;
    const fromMiddle = (time - half) / half;
    if (index > 0 && wander > 0) walk += wander * random.normal();
    if (index > 0 && hop !== undefined && random.uniform() < hop.probability) hopped = !hopped;
    let power =
      options.level_mW * Math.exp(linear_per_run * steps + quadratic * fromMiddle ** 2 + walk);
    if (droop !== undefined) {
      power *= 1 - droop.amplitude * (1 - Math.exp(-steps / droop.time_constant_runs));
    }
    if (hopped && hop !== undefined) power *= 1 + hop.size;
    if (cold !== undefined && index < coldRuns) {
      power *= 1 - cold.deficit * (cold.decay ?? 0) ** index;
    }
    return power * positiveFactor(noise, random);
  });
}

/** 1 + sd × normal; a draw at or below zero (possible only with absurd noise) is drawn again. */
function positiveFactor(sd: number, random: Random): number {
  if (sd === 0) return 1;
  let factor = 1 + sd * random.normal();
  while (factor <= 0) factor = 1 + sd * random.normal();
  return factor;
}

/** To the nearest step of the display. */
export function rounding(step: number): (value: number) => number {
  if (step === 0) return (value) => value;
  const perUnit = Math.round(1 / step);
  // Dividing by a whole number gives 0.3 where multiplying by 0.1 would give 0.30000000000000004.
  if (Math.abs(perUnit * step - 1) < 1e-9) return (value) => Math.round(value * perUnit) / perUnit;
  return (value) => Math.round(value / step) * step;
}

function apparentFactor(
  options: BenchOptions,
  show: Readonly<Record<MeterRole, MeterModel>>,
): number {
  const shown = (meter: MeterRole) => {
    const { response, zero, zeroShown } = show[meter];
    return response(options.level_mW) + zero - zeroShown;
  };
  const candidate = shown('candidate');
  const reference = shown('reference');
  if (candidate <= 0) throw notPositive(candidate, 0, 'candidate');
  if (reference <= 0) throw notPositive(reference, 0, 'reference');
  return reference / candidate;
}

function notPositive(reading_mW: number, run: number, meter: MeterRole): MeterpairError {
  return new MeterpairError({
    code: 'reading-not-positive',
    message: `The ${meter} of the virtual bench shows nothing above zero${run > 0 ? ` in run ${run}` : ''}.`,
    found: `${reading_mW} mW`,
    expected: 'more power, a finer display, less noise or a smaller zero offset',
  });
}
