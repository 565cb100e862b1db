/**
 * The model of one series: ln(reading) = level + smooth drift in time + meter effect + noise, with a
 * noise of its own for each meter. K is exp(−effect).
 */

import { correctedAkaike } from '../statistics/akaike.js';
import type { Part } from '../statistics/combineIndependent.js';
import { baseDegree, RUNS_FOR_PARABOLA } from '../statistics/driftDegree.js';
import { columnsOf, isDependent, orthonormal, takeOut } from '../statistics/orthonormal.js';
import { polynomialColumns, polynomialRow } from '../statistics/polynomial.js';
import { extremes } from '../statistics/summary.js';
import { DEPENDENT, type TwoGroupFit, twoGroupFit } from '../statistics/twoGroupFit.js';
import { wanderFit, wanderRatio } from '../statistics/wanderFit.js';
import type { Run } from '../vocabulary.js';
import { groupOf } from './groupOf.js';

/** Degrees of freedom that a higher degree has to leave over. */
const LEAST_DOF = 4;
const HIGHEST_DEGREE = 5;
/** How much better the criterion must get before a degree beyond the base is taken. */
const REQUIRED_GAIN = 4;
/** A meter's variance counts as no smaller than this share of the common one when degrees are compared. */
const LEAST_SHARE = 0.02;
/** Keeps the criterion finite where readings repeat exactly: (1e-7)² of the reading. */
const NEGLIGIBLE_VARIANCE = 1e-14;

export interface DriftModel {
  readonly runs: readonly Run[];
  readonly fit: TwoGroupFit;
  readonly degree: number;
  /** Degree that the criterion alone would choose, from 0 upwards. */
  readonly evidentDegree: number;
  /** Standard deviation of ln(power) from run to run of a source that wanders; 0 where not evident. */
  readonly wanderPerRun: number;
  /** Meter effect ln(candidate ÷ reference) at equal power. */
  readonly effect: number;
  /** Drift of ln(power) against its mean level at a time, from the fitted polynomial. */
  readonly driftAt: (time_s: number) => number;
  /** Standard uncertainty and dof of a difference of drift between two times. */
  readonly driftBetween: (from_s: number, to_s: number) => Part & { readonly value: number };
}

/** Column of the meter effect in the design: −½ for the reference, +½ for the candidate. */
const EFFECT = 1;

/** Design matrix: constant, meter effect, then the drift polynomial. */
export function designOf(runs: readonly Run[], degree: number): number[][] {
  const drift = polynomialColumns(
    runs.map((run) => run.time_s),
    degree,
  );
  return runs.map((run, i) => [1, groupOf(run) - 0.5, ...drift[i]]);
}

/**
 * Fits the drift model to the runs of one series.
 *
 * The degree is the base degree (straight line from two laps, parabola from five laps on), or the
 * higher one that the corrected Akaike criterion prefers by more than 4. Choosing from zero upwards
 * would be narrower where there is no drift, and too narrow where there is a little; carrying the
 * base degree always costs next to nothing, because alternated runs are nearly orthogonal to it.
 * Degrees are compared with every meter's squares in units of its own variance, so that the noise of
 * the worse meter is not taken for drift. From five laps on, a random walk of the source joins where
 * it is evident (`wanderRatio`).
 *
 * @param options.leastDegree a degree that is known to be needed
 * @throws too-few-values when the runs cannot tell meter and drift apart with a degree of freedom
 *   left
 */
export function driftModel(
  runs: readonly Run[],
  options: { readonly leastDegree?: number } = {},
): DriftModel {
  const y = runs.map((run) => Math.log(run.reading_mW));
  const groups = runs.map(groupOf);
  const most = Math.max(0, runs.length - 2 - LEAST_DOF);
  const base = Math.max(baseDegree(runs.length), Math.min(options.leastDegree ?? 0, most));
  const highest = Math.max(base, Math.min(HIGHEST_DEGREE, most));
  const whole = designOf(runs, highest);
  const upTo = (degree: number) =>
    degree === highest ? whole : whole.map((row) => row.slice(0, EFFECT + 1 + degree));
  const carried = twoGroupFit(upTo(base), y, groups);
  const scale = unitScale(carried);
  const criteria = criteriaOf(whole, y, (i) => scale[groups[i]]);
  let degree = base;
  let evidentDegree = base;
  let best = Number.POSITIVE_INFINITY;
  let evident = Number.POSITIVE_INFINITY;
  criteria.forEach((criterion, candidate) => {
    if (criterion < evident) {
      evident = criterion;
      evidentDegree = candidate;
    }
    const score = criterion + (candidate > base ? REQUIRED_GAIN : 0);
    if (candidate >= base && score < best) {
      best = score;
      degree = candidate;
    }
  });
  const design = upTo(degree);
  const fit = degree === base ? carried : twoGroupFit(design, y, groups);
  if (runs.length < RUNS_FOR_PARABOLA) return describe({ runs, fit, degree, evidentDegree });
  const times = runs.map((run) => run.time_s);
  const ratio = wanderRatio(design, y, times);
  if (ratio === 0) return describe({ runs, fit, degree, evidentDegree });
  const wandering = wanderFit(design, y, groups, times, ratio);
  return describe({ runs, fit: wandering, degree, evidentDegree, ratio });
}

/**
 * The corrected Akaike criterion of each degree from 0 upwards, from one basis: with each column of
 * the drift only what it explains leaves the residuals. Ends before a degree that the runs cannot tell.
 *
 * @param design of the highest degree
 * @param scale of the squares of a run
 */
function criteriaOf(
  design: readonly (readonly number[])[],
  y: readonly number[],
  scale: (run: number) => number,
): number[] {
  const n = y.length;
  const basis = orthonormal(columnsOf(design));
  const rest = [...y];
  const criteria: number[] = [];
  for (const [column, unit] of basis.q.entries()) {
    if (isDependent(basis, DEPENDENT, column + 1)) break;
    takeOut(rest, unit);
    if (column < EFFECT) continue;
    const squares = rest.reduce((sum, e, i) => sum + scale(i) * e * e, 0);
    criteria.push(
      correctedAkaike({
        residualSumOfSquares: squares + n * NEGLIGIBLE_VARIANCE,
        n,
        p: column + 1,
      }),
    );
  }
  return criteria;
}

/** What brings the squares of both meters to the common variance. */
function unitScale(fit: TwoGroupFit): readonly [number, number] {
  const common = fit.residualSumOfSquares / (fit.n - fit.p);
  const of = (variance: number) =>
    common > 0 ? common / Math.max(variance, LEAST_SHARE * common) : 1;
  return [of(fit.variances[0]), of(fit.variances[1])];
}

function describe({
  runs,
  fit,
  degree,
  evidentDegree,
  ratio = 0,
}: Pick<DriftModel, 'runs' | 'fit' | 'degree' | 'evidentDegree'> & {
  readonly ratio?: number;
}): DriftModel {
  const times = runs.map((run) => run.time_s);
  const [first, last] = extremes(times);
  const row = (time: number) => polynomialRow(time, first, last, degree);
  const driftAt = (time: number) =>
    row(time).reduce((sum, value, j) => sum + value * fit.coefficients[j + 2], 0);
  return {
    runs,
    fit,
    degree,
    evidentDegree,
    wanderPerRun: Math.sqrt((ratio * fit.residualSumOfSquares) / (fit.n - fit.p)),
    effect: fit.coefficients[EFFECT],
    driftAt,
    driftBetween: (from, to) => {
      const a = row(from);
      const b = row(to);
      const contrast = runs.map((_, i) =>
        a.reduce((sum, value, j) => sum + (b[j] - value) * fit.weights[j + 2][i], 0),
      );
      return { value: driftAt(to) - driftAt(from), ...fit.uncertaintyOf(contrast) };
    },
  };
}

/** Standard uncertainty and degrees of freedom of the meter effect. */
export function effectUncertainty(model: DriftModel) {
  return model.fit.uncertaintyOf(model.fit.weights[EFFECT]);
}

/** Weights of the runs in the meter effect. */
export function effectWeights(model: DriftModel): readonly number[] {
  return model.fit.weights[EFFECT];
}
