/** Invented comparisons at one wavelength: one meter again and again, or several meters of a model. */

import { argumentWrong } from '../error.js';
import { type Random, seededRandom } from '../statistics/random.js';
import { requireShape } from '../statistics/shapes.js';
import { BENCH_HEAD_R, DRAWER_METER_C } from './demo/meters.js';
import type { Scenario } from './scenario.js';

interface Evening {
  /** By how much placing the heads moves each series, relative standard deviation. */
  readonly placement_sd: number;
  /** Series of each comparison; default 2. */
  readonly series?: number;
  /** Wavelength in nm; default 520. */
  readonly wavelength_nm?: number;
  readonly seed: number;
}

export interface ReCheckPlan extends Evening {
  readonly checks: number;
  /** True factor at the first check. */
  readonly factor: number;
  /** Relative change of the true factor from one check to the next; default 0. */
  readonly creep?: number;
}

export interface UnitPlan extends Evening {
  readonly units: number;
  /** True factor in the middle of the production. */
  readonly factor: number;
  /** Relative standard deviation of the true factors. */
  readonly between_units_sd: number;
}

/** By how much the reference reads high on everything; its certificate allows for 3 %. */
const REFERENCE_ERROR = 0.008;

/** Largest seed that is drawn. */
const MOST = 2 ** 31 - 1;

/**
 * One candidate that is compared again and again with one reference, oldest first. Its true factor
 * creeps.
 *
 * The same plan gives the same scenarios.
 *
 * @throws argument-wrong for a number of checks or a factor that cannot be
 */
export function reCheckScenarios(plan: ReCheckPlan): readonly Scenario[] {
  const random = started(plan, plan.checks);
  return Array.from({ length: plan.checks }, (_, i) =>
    comparison(plan, random, {
      title: `Check ${i + 1} (invented)`,
      candidate: DRAWER_METER_C.name,
      factor: plan.factor * (1 + (plan.creep ?? 0)) ** i,
    }),
  );
}

/**
 * Several candidates of one model, each compared with the same reference. Their true factors are
 * log-normal about that of the production.
 *
 * The same plan gives the same scenarios; more units leave the first ones as they are.
 *
 * @throws argument-wrong for a number of units or a factor that cannot be
 */
export function unitScenarios(plan: UnitPlan): readonly Scenario[] {
  const seeds = started(plan, plan.units);
  return Array.from({ length: plan.units }, (_, i) => {
    // A stream for each unit, so that further units change nothing in the first ones.
    const random = seededRandom(seeds.integer(1, MOST));
    return comparison(plan, random, {
      title: `Unit ${i + 1} (invented)`,
      candidate: `Drawer meter ${i + 1}`,
      factor: plan.factor * Math.exp(plan.between_units_sd * random.normal()),
    });
  });
}

function started({ seed, factor }: Evening & { readonly factor: number }, count: number): Random {
  if (!Number.isInteger(count) || count < 1) {
    throw argumentWrong('There must be at least one comparison.', count, 'a whole number above 0');
  }
  requireShape(factor, 'A true factor', 'above-zero');
  return seededRandom(seed);
}

function comparison(
  { placement_sd, series = 2, wavelength_nm = 520 }: Evening,
  random: Random,
  unit: { readonly title: string; readonly candidate: string; readonly factor: number },
): Scenario {
  const source = 'steady module';
  return {
    folder: unit.title,
    seed: random.integer(1, MOST),
    opens_at: '2025-01-10T18:00:00Z',
    layout: 'tidy',
    study: {
      title: unit.title,
      reference: BENCH_HEAD_R,
      candidate: { ...DRAWER_METER_C, name: unit.candidate, resolution_mW: 0.1 },
      sources: [{ name: source, wavelength_nm }],
      protocol: { order: 'ABBA-BAAB', read_at_s: 25 },
      tolerance_percent: 5,
    },
    series: Array.from({ length: series }, (_, i) => ({
      id: `seat ${i + 1}`,
      source,
      starts_min: 15 * i,
      reference_error: REFERENCE_ERROR,
      placement: Math.exp(placement_sd * random.normal()),
      bench: {
        laps: 8,
        order: 'ABBA-BAAB',
        level_mW: 80,
        factor: unit.factor,
        noise: { reference: 0.003, candidate: 0.006 },
        source: { noise: 0.002, drift: { linear_per_run: -0.0008 } },
        run_interval_s: 50,
        jitter_s: 6,
        zero_mW: { reference: 0.1, candidate: 0.9 },
        zero_recorded: true,
      },
    })),
    story: ['An invented comparison, made inside a notebook.'],
    hidden: [`The reference reads ${100 * REFERENCE_ERROR} % high on everything.`],
    expect: [],
  };
}
