/** What every straight line of this folder returns, and the checks of its points. */

import { argumentWrong } from '../../error.js';
import { coverageFactorOf } from '../../statistics/distributions.js';
import {
  requireAsMany,
  requireNumbers,
  requireRecord,
  requireShape,
  type Shape,
} from '../../statistics/shapes.js';
import { requireValues } from '../../statistics/summary.js';
import type { Interval } from '../../vocabulary.js';

/** Readings taken together: `x` and `y` of the same length, any unit (mW here). */
export interface LinePoints {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

export type LineMethod =
  | 'ordinary'
  | 'weighted'
  | 'deming'
  | 'york'
  | 'theil-sen'
  | 'passing-bablok';

/** A number of a line with what is known about its uncertainty; `null` where `why` says so. */
export interface LineCoefficient {
  readonly value: number;
  readonly standard_uncertainty: number | null;
  /** Two-sided interval at the line's confidence. */
  readonly interval: Interval | null;
}

/** y = intercept + slope · x. */
export interface Line {
  readonly method: LineMethod;
  readonly intercept: LineCoefficient;
  readonly slope: LineCoefficient;
  /** Covariance of intercept and slope; `null` for methods that give none. */
  readonly covariance: number | null;
  /** Points minus two; `KNOWN_EXACTLY` where the uncertainties were given, not estimated. */
  readonly dof: number;
  readonly points: number;
  readonly confidence: number;
  /** k of the intervals of intercept and slope; `null` where they are not value ∓ k·u. */
  readonly coverage_factor: number | null;
  /** y − (intercept + slope · x), in the order of the points. */
  readonly residuals: readonly number[];
  /** √(Σ residual² / (points − 2)), weighted where the line is; `null` for two points. */
  readonly residual_sd: number | null;
  /** Why something above is `null`; empty when nothing is. */
  readonly why: string;
}

/** Refuses points that cannot carry a line. @throws argument-wrong, too-few-values. */
export function requirePoints(points: LinePoints, least: number): void {
  requireRecord(points, 'The points of a line', ['x', 'y']);
  requireNumbers(points.x, 'A line (x)');
  requireNumbers(points.y, 'A line (y)');
  requireAsMany(points.x, points.y, 'A line needs as many x as y values.');
  requireValues(points.x, least, 'A line (x)');
  requireValues(points.y, least, 'A line (y)');
  if (points.x.every((value) => value === points.x[0])) {
    throw argumentWrong('A line needs x values that differ.', points.x[0], 'two or more levels');
  }
}

const COEFFICIENT: Shape = {
  fields: { value: 'number', standard_uncertainty: { orNull: 'not-negative' } },
};
const LINE: Shape = {
  fields: {
    method: ['ordinary', 'weighted', 'deming', 'york', 'theil-sen', 'passing-bablok'],
    intercept: COEFFICIENT,
    slope: COEFFICIENT,
    covariance: { orNull: 'number' },
    dof: 'not-negative',
    confidence: 'fraction',
    residual_sd: { orNull: 'not-negative' },
  },
};

/** Refuses what no fit of this folder returned. @throws argument-wrong. */
export function requireLine(line: Line): void {
  requireShape(line, 'A line', LINE);
}

/** @throws argument-wrong unless there is one finite value above (or at, if allowed) 0 a point. */
export function requireUncertainties(
  values: readonly number[],
  { x }: LinePoints,
  what: string,
  least: 'above-zero' | 'not-negative',
): void {
  requireShape(values, what, { list: least });
  requireAsMany(values, x, `${what} must be given for every point.`);
}

/** Value with its symmetric interval; without one when the standard uncertainty is unknown. */
export function coefficient(
  value: number,
  standardUncertainty: number | null,
  coverage: number | null,
): LineCoefficient {
  return {
    value,
    standard_uncertainty: standardUncertainty,
    interval:
      standardUncertainty === null || coverage === null
        ? null
        : [value - coverage * standardUncertainty, value + coverage * standardUncertainty],
  };
}

/** Standard uncertainties of intercept and slope, and their covariance. */
export interface LineUncertainty {
  readonly intercept: number;
  readonly slope: number;
  readonly covariance: number;
}

/** The record of a line whose intervals are value ∓ k·u; `uncertainty` is `null` where there is none. */
export function lineRecord(
  found: Pick<Line, 'method' | 'dof' | 'confidence' | 'residuals' | 'residual_sd'> & {
    readonly intercept: number;
    readonly slope: number;
    readonly uncertainty: LineUncertainty | null;
    readonly why?: string;
  },
): Line {
  const { uncertainty, why, ...rest } = found;
  const points = rest.residuals.length;
  const coverage =
    uncertainty === null || rest.dof < 1 ? null : coverageFactorOf(rest.confidence, rest.dof);
  return {
    ...rest,
    intercept: coefficient(rest.intercept, uncertainty?.intercept ?? null, coverage),
    slope: coefficient(rest.slope, uncertainty?.slope ?? null, coverage),
    covariance: uncertainty?.covariance ?? null,
    points,
    coverage_factor: coverage,
    why: why ?? (points > 2 ? '' : TWO_POINTS),
  };
}

const TWO_POINTS =
  'Two points fix a line and leave nothing to judge its uncertainty by; three are the least.';
