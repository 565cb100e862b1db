import type { ComparisonWishes } from '../plan/comparisonWishes.js';
import { plannedPlacement } from '../plan/placement.js';
import type { ComparisonPlan } from '../plan/planComparison.js';
import { DRIFT_PER_RUN } from '../plan/shownReadings.js';
import { eachMeter } from '../record/meters.js';
import type { Random } from '../statistics/random.js';
import type { MeterRole } from '../vocabulary.js';
import { rounding } from './bench.js';
import type { Scenario } from './scenario.js';
import { virtualStudy } from './virtualStudy.js';

/** A reading of the candidate on a later day, and the power that it was taken of, mW. */
export interface LaterReading {
  readonly reading_mW: number;
  readonly power_mW: number;
}

export interface PlannedStudy {
  /** Content of the files of the study folder. */
  readonly files: Readonly<Record<string, string>>;
  readonly wavelength_nm: number;
  readonly later: readonly LaterReading[];
}

export interface PlannedStudyOptions {
  readonly wishes: ComparisonWishes;
  readonly design: { readonly series: number; readonly laps: number };
  /** What study.json has to state: `study` of the plan. */
  readonly study: ComparisonPlan['study'];
  /** How many later readings to take, each with the head put up anew. */
  readonly later: number;
}

/**
 * One of the comparisons that a plan speaks of: at the bench that the wishes describe, the error of
 * the reference drawn from its certificate, a placement for each series and each later reading, drift
 * of a tenth of a percent a run, zeros that are written down.
 *
 * @throws argument-wrong for wishes that mean nothing or a bench that cannot be built
 */
export function plannedStudy(options: PlannedStudyOptions, random: Random): PlannedStudy {
  const { wishes } = options;
  const { certificate } = wishes;
  const placement_sd = plannedPlacement(wishes.placement).sd;
  const steps = eachMeter((meter) => wishes.display?.step_mW[meter] ?? 0.001);
  const u = (certificate?.expanded_uncertainty ?? 0) / (certificate?.coverage_factor ?? 1);
  const bench: Bench = {
    steps,
    zero_mW: { reference: 1.3 * steps.reference, candidate: 2.4 * steps.candidate },
    // Where the level lies within a display step is nobody's choice.
    level_mW: (wishes.display?.level_mW ?? 50) * (1 + 0.04 * (random.uniform() - 0.5)),
    factor: 1 + 0.1 * (random.uniform() - 0.5),
    reference_error: Math.expm1(u * random.normal()),
    placed: () => Math.exp(placement_sd * random.normal()),
  };
  return {
    files: virtualStudy(scenarioOf(options, bench, random)).files,
    wavelength_nm: WAVELENGTH_NM,
    later: Array.from({ length: options.later }, () => laterReading(wishes, bench, random)),
  };
}

/** What nobody at the bench knows, drawn once. */
interface Bench {
  readonly steps: Readonly<Record<MeterRole, number>>;
  readonly zero_mW: Readonly<Record<MeterRole, number>>;
  readonly level_mW: number;
  readonly factor: number;
  readonly reference_error: number;
  /** What one placement of the head does. */
  readonly placed: () => number;
}

function scenarioOf(
  { wishes, design, study }: PlannedStudyOptions,
  { steps, zero_mW, level_mW, factor, reference_error, placed }: Bench,
  random: Random,
): Scenario {
  const { certificate, noise, source_noise = 0, order = 'ABBA-BAAB' } = wishes;
  return {
    folder: 'planned',
    seed: random.integer(1, 2 ** 31 - 1),
    opens_at: '2025-01-10T18:00:00Z',
    layout: 'tidy',
    study: {
      title: 'A planned comparison (invented)',
      reference: {
        name: 'R',
        resolution_mW: steps.reference,
        ...(certificate === undefined
          ? {}
          : {
              expanded_uncertainty_percent: 100 * certificate.expanded_uncertainty,
              coverage_factor: certificate.coverage_factor,
            }),
      },
      candidate: { name: 'C', resolution_mW: steps.candidate },
      sources: [{ name: 'source', wavelength_nm: WAVELENGTH_NM }],
      ...study,
      tolerance_percent: 5,
      confidence: wishes.confidence,
    },
    series: Array.from({ length: design.series }, (_, i) => ({
      id: `seat ${i + 1}`,
      source: 'source',
      starts_min: 60 * i,
      reference_error,
      placement: placed(),
      bench: {
        laps: design.laps,
        order,
        level_mW,
        factor,
        noise,
        source: { noise: source_noise, drift: { linear_per_run: DRIFT_PER_RUN } },
        zero_mW,
        zero_recorded: true,
      },
    })),
    story: ['One of the comparisons that a plan speaks of.'],
    hidden: [],
    expect: [],
  };
}

function laterReading(
  { noise, source_noise = 0 }: ComparisonWishes,
  { steps, zero_mW, level_mW, factor, placed }: Bench,
  random: Random,
): LaterReading {
  const seen =
    (level_mW / factor) *
    placed() *
    (1 + source_noise * random.normal()) *
    (1 + noise.candidate * random.normal());
  const round = rounding(steps.candidate);
  return {
    reading_mW: round(seen + zero_mW.candidate) - round(zero_mW.candidate),
    power_mW: level_mW,
  };
}

const WAVELENGTH_NM = 520;
