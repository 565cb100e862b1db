/**
 * Is the first run a cold start? It is compared with what the runs after its lap predict for its
 * moment, drift included.
 */

import { nullIfTooFew } from '../error.js';
import { runsOn } from '../record/meters.js';
import { polynomialRow } from '../statistics/polynomial.js';
import { twoSidedP } from '../statistics/student.js';
import { extremes } from '../statistics/summary.js';
import { type Group, type TwoGroupFit, twoGroupFit } from '../statistics/twoGroupFit.js';
import type { Run } from '../vocabulary.js';
import { groupOf } from './groupOf.js';

/** Laps that have to remain for a prediction. */
const LEAST_LAPS_AFTER = 3;
/** Below this p value of its last coefficient the drift counts as curved. */
const CURVED = 0.1;
/**
 * Bounds for (dof)·ln(squares left by a smooth drift ÷ squares left by a cold start), both with as
 * many coefficients: below the first the drift is the better explanation, up to the second a possible one.
 */
const SMOOTH_BETTER = -1;
const SMOOTH_POSSIBLE = 5;
/** Keeps the comparisons finite where readings repeat exactly, and the dust of the arithmetic out: (1e-7)² of the reading. */
const NEGLIGIBLE_VARIANCE = 1e-14;

export interface ColdStartTest {
  /** The run tested: the first one. */
  readonly run: Run;
  /** Deviation from the prediction as a fraction; negative: it reads low. */
  readonly deviation: number;
  /** Two-sided p value of the prediction test. */
  readonly p: number;
  /** Degree of the drift of the later runs in this test: 1, or 2 where they show a curve. */
  readonly degree: number;
  /** A smooth drift in place of the cold start. */
  readonly rival: SmoothRival;
}

export interface SmoothRival {
  /** `better`: it describes the runs better than the cold start does; `worse`: beyond doubt worse. */
  readonly fit: 'better' | 'possible' | 'worse';
  /** The meter effect that goes with it. */
  readonly effect: number;
}

/**
 * Tests the first run against the prediction of the runs after its lap (or after `aside` laps).
 *
 * The rest is described by a parabola in ln(reading) where its curvature shows (p below 0.1), by a
 * straight line otherwise, plus the meter effect; the deviation is judged by Student's t with the
 * residual variance, or that of the run's own meter where this is larger, plus `rounding`².
 *
 * A source that droops while it warms up looks much the same: its first runs stick out too. So the
 * cold start is compared with a smooth drift through all runs that has as many coefficients more as
 * runs are set aside (`rival`).
 *
 * @param runs kept runs of a series in order; the first lap is runs[0] and its partner
 * @param rounding relative standard uncertainty of the first run's display step
 * @param aside first laps that the prediction does without
 * @returns `null` where too few runs, or runs of one moment, remain for a prediction
 */
export function coldStartTest(
  runs: readonly Run[],
  rounding: number,
  aside = 1,
): ColdStartTest | null {
  const first = runs[0];
  if (first === undefined) return null;
  let rest = runs;
  for (let lap = 0; lap < aside; lap++) rest = afterFirstLap(rest);
  const candidates = runsOn(rest, 'candidate').length;
  if (Math.min(candidates, rest.length - candidates) < LEAST_LAPS_AFTER) return null;
  const range = extremes([first, ...rest].map((run) => run.time_s));
  const row = (run: Run, degree: number) => [
    1,
    groupOf(run) - 0.5,
    ...polynomialRow(run.time_s, ...range, degree),
  ];
  const groups = rest.map(groupOf);
  const y = rest.map((run) => Math.log(run.reading_mW));
  const fitted = (degree: number) =>
    nullIfTooFew(() => {
      const design = rest.map((run) => row(run, degree));
      return { fit: twoGroupFit(design, y, groups), degree };
    });
  const parabola = fitted(2);
  const chosen = parabola !== null && curved(parabola.fit) ? parabola : fitted(1);
  if (chosen === null) return null;
  return {
    ...judge({ first, row: row(first, chosen.degree), ...chosen, groups, rounding }),
    rival: smoothRival(runs, chosen, row),
  };
}

/** Without the first run and its partner. */
export function afterFirstLap(runs: readonly Run[]): readonly Run[] {
  const [first, ...rest] = runs;
  return rest.filter((run) => first.lap === null || run.lap !== first.lap);
}

interface Rest {
  readonly fit: TwoGroupFit;
  readonly degree: number;
}

function smoothRival(
  runs: readonly Run[],
  rest: Rest,
  row: (run: Run, degree: number) => readonly number[],
): SmoothRival {
  const dof = rest.fit.n - rest.fit.p;
  const y = runs.map((run) => Math.log(run.reading_mW));
  const groups = runs.map(groupOf);
  // Few moments carry no high degree; a straight line they do, as that of the rest shows.
  let smooth: TwoGroupFit | null = null;
  for (let degree = rest.degree + runs.length - rest.fit.n; smooth === null; degree--) {
    const design = runs.map((run) => row(run, degree));
    smooth = nullIfTooFew(() => twoGroupFit(design, y, groups));
  }
  const floor = runs.length * NEGLIGIBLE_VARIANCE;
  const evidence =
    dof * Math.log((smooth.residualSumOfSquares + floor) / (rest.fit.residualSumOfSquares + floor));
  const fit =
    evidence < SMOOTH_BETTER ? 'better' : evidence < SMOOTH_POSSIBLE ? 'possible' : 'worse';
  return { fit, effect: smooth.coefficients[1] };
}

/** Whether the parabola's last coefficient is distinguishable from zero. */
function curved(fit: TwoGroupFit): boolean {
  const last = fit.p - 1;
  const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[last]);
  if (!(standardUncertainty > 0)) return true;
  return twoSidedP(fit.coefficients[last] / standardUncertainty, dof) < CURVED;
}

interface Prediction extends Rest {
  readonly first: Run;
  /** Row of the design at the first run's moment. */
  readonly row: readonly number[];
  readonly groups: readonly Group[];
  readonly rounding: number;
}

function judge(prediction: Prediction): Omit<ColdStartTest, 'rival'> {
  const { first, row, fit, degree, groups, rounding } = prediction;
  const predicted = row.reduce((sum, value, j) => sum + value * fit.coefficients[j], 0);
  const deviation = Math.log(first.reading_mW) - predicted;
  const leverage = fit.weights[0].reduce((sum, _, i) => {
    const weight = row.reduce((total, value, j) => total + value * fit.weights[j][i], 0);
    return sum + weight * weight;
  }, 0);
  const own: Group = groupOf(first);
  let squares = 0;
  let freedom = 0;
  fit.residuals.forEach((residual, i) => {
    if (groups[i] !== own) return;
    squares += residual * residual;
    freedom += fit.residualFactors[i];
  });
  let variance = fit.residualSumOfSquares / (fit.n - fit.p);
  let dof = fit.n - fit.p;
  if (squares / freedom > variance) {
    variance = squares / freedom;
    dof = Math.max(1, freedom);
  }
  const scale = Math.sqrt(variance * (1 + leverage) + rounding * rounding + NEGLIGIBLE_VARIANCE);
  const p = twoSidedP(deviation / scale, dof);
  return { run: first, deviation: Math.expm1(deviation), p, degree };
}
