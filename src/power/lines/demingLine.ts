import { argumentWrong, MeterpairError } from '../../error.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { mean } from '../../statistics/summary.js';
import {
  type Line,
  type LinePoints,
  type LineUncertainty,
  lineRecord,
  requirePoints,
} from './line.js';

/** How a Deming line's uncertainty is found: large-sample formula, or leaving out each point. */
export type DemingUncertainty = 'analytic' | 'jackknife';

export interface DemingLine extends Line {
  /** Which uncertainty stands in `intercept` and `slope`; jackknife when asked for. */
  readonly uncertainty: DemingUncertainty;
  /** Both standard uncertainties side by side; `null` where one cannot be computed. */
  readonly analytic: { readonly intercept: number; readonly slope: number } | null;
  readonly jackknife: { readonly intercept: number; readonly slope: number } | null;
  /** Estimated standard deviation of the errors in x and in y; `null` for two points. */
  readonly error_sd: { readonly x: number; readonly y: number } | null;
}

/**
 * Deming's line: both x and y carry errors of constant size, and the ratio of their variances is
 * known. A ratio of 1 is orthogonal regression.
 *
 * @param points x and y, at least two points
 * @param options `varianceRatio`: error variance of y ÷ error variance of x, above 0 (default 1);
 *   `uncertainty`: `analytic` (normal errors, default) or `jackknife` (needs no normality; four
 *   points or more); `confidence` as a fraction (default 0.95). Intervals use t with points − 2.
 * @throws argument-wrong (also for points on a vertical line), too-few-values
 * Source: W. E. Deming (1943), Statistical Adjustment of Data; analytic uncertainty: W. A. Fuller
 * (1987), Measurement Error Models, section 1.3; jackknife: K. Linnet (1993), Clin. Chem. 39,
 * 424–432.
 */
export function demingLine(
  points: LinePoints,
  options: {
    readonly varianceRatio?: number;
    readonly uncertainty?: DemingUncertainty;
    readonly confidence?: number;
  } = {},
): DemingLine {
  const {
    varianceRatio: ratio = 1,
    uncertainty: kind = 'analytic',
    confidence = 0.95,
  } = requireOptions(options, {
    varianceRatio: { maybe: 'above-zero' },
    uncertainty: { maybe: ['analytic', 'jackknife'] },
    confidence: CONFIDENCE,
  });
  requirePoints(points, 2);
  const fit = solve(points, ratio);
  const residuals = points.y.map((y, i) => y - fit.intercept - fit.slope * points.x[i]);
  const dof = residuals.length - 2;
  const variance = dof > 0 ? residuals.reduce((sum, e) => sum + e ** 2, 0) / dof : null;
  const analytic = variance === null ? null : largeSample(fit, variance, residuals.length);
  const jackknife = dof >= 2 ? leaveOneOut(points, ratio) : null;
  const uncertainty = kind === 'analytic' ? analytic : jackknife;
  return {
    ...lineRecord({
      method: 'deming',
      intercept: fit.intercept,
      slope: fit.slope,
      uncertainty,
      dof,
      confidence,
      residuals,
      residual_sd: variance === null ? null : Math.sqrt(variance),
      ...(dof >= 1 && uncertainty === null ? { why: NO_JACKKNIFE } : {}),
    }),
    uncertainty: kind,
    analytic: withoutCovariance(analytic),
    jackknife: withoutCovariance(jackknife),
    error_sd: variance === null ? null : errorSd(variance, ratio, fit.slope),
  };
}

const NO_JACKKNIFE =
  'The jackknife needs four points or more that leave a line without any one of them.';

const withoutCovariance = (one: LineUncertainty | null) =>
  one === null ? null : { intercept: one.intercept, slope: one.slope };

/** Uncertainty for normal errors (Fuller 1987, section 1.3). */
function largeSample(
  { slope, xMean, sxx, sxy, syy }: ReturnType<typeof solve>,
  variance: number,
  n: number,
): LineUncertainty {
  // (sxx·syy − sxy²)·β²/(sxy²·(n − 2)), written so that a slope of 0 is no special case.
  const signal = sxy === 0 ? sxx : sxy / slope;
  const slopeVariance = Math.max(0, sxx * syy - sxy ** 2) / (signal ** 2 * (n - 2));
  return {
    intercept: Math.sqrt(variance / n + xMean ** 2 * slopeVariance),
    slope: Math.sqrt(slopeVariance),
    covariance: -xMean * slopeVariance,
  };
}

/** What of the scatter about the line is the errors of x, and what those of y. */
function errorSd(variance: number, ratio: number, slope: number) {
  const x = variance / (ratio + slope ** 2);
  return { x: Math.sqrt(x), y: Math.sqrt(ratio * x) };
}

function solve(points: LinePoints, ratio: number) {
  const n = points.x.length;
  const xMean = mean(points.x);
  const yMean = mean(points.y);
  let sxx = 0;
  let syy = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    const dx = points.x[i] - xMean;
    const dy = points.y[i] - yMean;
    sxx += dx * dx;
    syy += dy * dy;
    sxy += dx * dy;
  }
  const excess = syy - ratio * sxx;
  const root = Math.hypot(excess, 2 * Math.sqrt(ratio) * sxy);
  if (sxy === 0 && !(excess < 0)) {
    throw argumentWrong('x does not change with y, so no line of finite slope fits best.');
  }
  // Of the two equal forms the one that subtracts nothing is used.
  const slope = excess > 0 ? (excess + root) / (2 * sxy) : (2 * ratio * sxy) / (root - excess);
  return { slope, intercept: yMean - slope * xMean, xMean, sxx, sxy, syy };
}

function leaveOneOut(points: LinePoints, ratio: number) {
  const n = points.x.length;
  const slopes: number[] = [];
  const intercepts: number[] = [];
  for (let left = 0; left < n; left++) {
    const x = points.x.filter((_, i) => i !== left);
    const y = points.y.filter((_, i) => i !== left);
    try {
      requirePoints({ x, y }, 2);
      const fit = solve({ x, y }, ratio);
      slopes.push(fit.slope);
      intercepts.push(fit.intercept);
    } catch (error) {
      if (error instanceof MeterpairError) return null;
      throw error;
    }
  }
  const slopeMean = mean(slopes);
  const interceptMean = mean(intercepts);
  const scaled = (a: readonly number[], am: number, b: readonly number[], bm: number) =>
    ((n - 1) / n) * a.reduce((sum, value, i) => sum + (value - am) * (b[i] - bm), 0);
  return {
    slope: Math.sqrt(scaled(slopes, slopeMean, slopes, slopeMean)),
    intercept: Math.sqrt(scaled(intercepts, interceptMean, intercepts, interceptMean)),
    covariance: scaled(slopes, slopeMean, intercepts, interceptMean),
  };
}
