import { argumentWrong } from '../error.js';
import { eachMeter } from '../record/meters.js';
import { laggedResponse } from '../settle/laggedResponse.js';
import type { Random } from '../statistics/random.js';
import type { MeterRole, Run, Trace } from '../vocabulary.js';
import { type BenchTruth, rounding, simulateSeries } from './bench.js';
import type { BenchOptions } from './benchOptions.js';
import { displayText } from './displayText.js';
import type { BeamPart, Scenario, ScenarioSeries, Slip } from './scenario.js';

/** One run as it would be written down: the display before the zero is subtracted. */
export interface WrittenRun {
  readonly meter: MeterRole;
  readonly shown_mW: number;
  /** What stands in the table for it: the same, but for a slip of the pen. */
  readonly typed_mW: string;
  readonly peak_mW: number | null;
  readonly zero_mW: number | null;
  readonly time_s: number;
  readonly setting_nm: number | null;
  readonly exclude: string | null;
  readonly note: string | null;
}

/** The truth behind one series. */
export interface SeriesTruth {
  readonly id: string;
  readonly source: string;
  readonly wavelength_nm: number;
  readonly kind: 'comparison' | 'setting';
  /** K that would give the true power; the setting's reading(from) ÷ reading(to) in its kind. */
  readonly factor_to_truth: number;
  /** K that would give the reading of this reference, heads placed perfectly, no other effect. */
  readonly factor_to_reference: number;
  /** K that these readings would show without noise and drift: everything systematic included. */
  readonly apparent_factor: number;
  /** True power of each run, mW; behind the filter if there is one. */
  readonly power_mW: readonly number[];
  /** The parts of the beam, behind the filter if there is one; `null` for one wavelength. */
  readonly beam: readonly BeamPart[] | null;
  /** Readings that were typed wrongly. */
  readonly slips: readonly {
    /** 1-based place in the series. */
    readonly run: number;
    readonly meter: MeterRole;
    readonly shown_mW: number;
    readonly typed_mW: number;
  }[];
}

export interface WrittenSeries {
  readonly runs: readonly WrittenRun[];
  readonly traces: readonly Trace[];
  readonly truth: SeriesTruth;
}

/**
 * What would have been written down of one series of a scenario, and what was true?
 *
 * @throws argument-wrong for a source or filter that the study does not have, a trace without a
 * lag, a slip that changes nothing, or a bench that cannot be built.
 */
export function scenarioSeries(
  scenario: Scenario,
  plan: ScenarioSeries,
  random: Random,
): WrittenSeries {
  const { study } = scenario;
  const source = study.sources.find((one) => one.name === plan.source);
  if (source === undefined) {
    throw argumentWrong(`Series "${plan.id}" needs a source of the study.`, plan.source);
  }
  const beam = plan.beam === undefined ? null : behindFilter(scenario, plan, plan.beam);
  const light = beam === null ? plan.bench : { ...plan.bench, ...mixture(beam) };
  // A meter that is compared with itself under another setting carries its own error on both sides.
  const high = plan.setting === undefined ? 1 + (plan.reference_error ?? 0) : 1;
  const bench: BenchOptions = {
    ...light,
    level_mW: light.level_mW * high,
    factor: (light.factor * high) / (plan.placement ?? 1),
    label: { id: plan.id, source: source.name, wavelength_nm: source.wavelength_nm },
    resolution_mW: resolutions(scenario, plan),
  };
  const { series, truth } = simulateSeries(bench, random);
  const traced =
    plan.trace === undefined ? null : traceRuns(plan, bench, series.runs, truth, random);
  const runs = (traced?.runs ?? series.runs).map((run) => writeDown(scenario, plan, bench, run));
  return {
    runs,
    traces: traced?.traces ?? [],
    truth: {
      id: plan.id,
      source: source.name,
      wavelength_nm: source.wavelength_nm,
      kind: plan.setting === undefined ? 'comparison' : 'setting',
      factor_to_truth: light.factor,
      factor_to_reference: light.factor * high,
      apparent_factor: truth.apparent_factor,
      power_mW: truth.power_mW.map((power) => power / high),
      beam,
      slips: runs.flatMap(({ meter, shown_mW, typed_mW }, index) =>
        plan.incidents?.some((one) => one.run === index + 1 && one.slip !== undefined)
          ? [{ run: index + 1, meter, shown_mW, typed_mW: Number(typed_mW) }]
          : [],
      ),
    },
  };
}

const resolutions = ({ study }: Scenario, { setting }: ScenarioSeries) =>
  eachMeter((meter) => study[setting?.meter ?? meter].resolution_mW);

function behindFilter(
  scenario: Scenario,
  plan: ScenarioSeries,
  beam: readonly BeamPart[],
): readonly BeamPart[] {
  if (plan.filter === undefined) return beam;
  const filter = scenario.study.filters?.find((one) => one.name === plan.filter);
  return beam.map((part) => {
    const passed = filter?.transmissions.find((one) => one.wavelength_nm === part.wavelength_nm);
    if (passed === undefined) {
      throw argumentWrong(
        `Series "${plan.id}" needs a filter with a transmission at ${part.wavelength_nm} nm.`,
        plan.filter,
      );
    }
    return { ...part, power_mW: part.power_mW * passed.transmission };
  });
}

/** Whole power, and the K that a mixture of wavelengths shows: parts weighted by what each reads. */
function mixture(beam: readonly BeamPart[]) {
  const level_mW = beam.reduce((sum, part) => sum + part.power_mW, 0);
  const read = beam.reduce((sum, part) => sum + part.power_mW / part.factor, 0);
  return { level_mW, factor: level_mW / read };
}

/** Records every run against time; reading and peak come from the trace, so that both agree. */
function traceRuns(
  plan: ScenarioSeries,
  bench: BenchOptions,
  runs: readonly Run[],
  truth: BenchTruth,
  random: Random,
): { readonly runs: readonly Run[]; readonly traces: readonly Trace[] } {
  const { lag, noise } = bench;
  const { every_s, until_s } = plan.trace!;
  if (lag === undefined || lag.read_at_s % every_s !== 0 || lag.read_at_s > until_s) {
    throw argumentWrong(
      `Series "${plan.id}" needs bench.lag and a reading time on the grid of its trace.`,
    );
  }
  const elapsed_s = Array.from(
    { length: Math.floor(until_s / every_s) + 1 },
    (_, i) => i * every_s,
  );
  const fall_per_s = lag.fall_per_s ?? 0;
  const traces = runs.map(({ run, meter }, index): Trace => {
    const gain = meter === 'reference' ? 1 : 1 / bench.factor;
    const first = (truth.power_mW[index]! * gain) / (1 - fall_per_s * lag.read_at_s);
    const time_constant_s = lag.time_constant_s[meter] ?? 0;
    const round = rounding(bench.resolution_mW?.[meter] ?? 0);
    const reading_mW = elapsed_s.map((time_s) => {
      const ideal = first * laggedResponse({ time_s, time_constant_s, fall_per_s });
      return round(ideal * (1 + (noise?.[meter] ?? 0) * random.normal()));
    });
    return { series: plan.id, run, meter, elapsed_s, reading_mW };
  });
  const readAt = elapsed_s.indexOf(lag.read_at_s);
  return {
    traces,
    runs: runs.map((run, index) => ({
      ...run,
      reading_mW: traces[index]!.reading_mW[readAt]!,
      peak_mW: Math.max(...traces[index]!.reading_mW),
    })),
  };
}

function writeDown(
  scenario: Scenario,
  plan: ScenarioSeries,
  bench: BenchOptions,
  run: Run,
): WrittenRun {
  const incident = plan.incidents?.find((one) => one.run === run.run);
  const round = rounding(bench.resolution_mW?.[run.meter] ?? 0);
  const zero = run.zero_mW ?? 0;
  const shown = (value_mW: number) => round(value_mW * (incident?.reading_factor ?? 1) + zero);
  const second = run.meter === 'candidate';
  const meter = plan.setting?.meter ?? run.meter;
  const shown_mW = shown(run.reading_mW);
  const text = displayText(scenario.study[meter].resolution_mW, shown_mW);
  return {
    meter,
    shown_mW,
    typed_mW: incident?.slip === undefined ? text : slipped(plan, text, incident.slip),
    peak_mW: run.peak_mW === null ? null : shown(run.peak_mW),
    zero_mW: run.zero_mW,
    time_s: Math.round(run.time_s),
    setting_nm:
      plan.setting === undefined
        ? ownSetting(scenario, plan, run.meter)
        : second
          ? plan.setting.to_nm
          : plan.setting.from_nm,
    exclude: incident?.exclude ?? null,
    note: incident?.note ?? null,
  };
}

function slipped(plan: ScenarioSeries, text: string, slip: Slip): string {
  const typed = text.replace('.', '');
  if (typed === text) {
    throw argumentWrong(`Series "${plan.id}" has a slip that changes nothing: ${slip}.`, text);
  }
  return typed;
}

/** A meter that has to be told the wavelength was told that of the source. */
function ownSetting(scenario: Scenario, plan: ScenarioSeries, meter: MeterRole): number | null {
  const { study } = scenario;
  if (study[meter].wavelength_setting !== true) return null;
  return study.sources.find((one) => one.name === plan.source)?.wavelength_nm ?? null;
}
