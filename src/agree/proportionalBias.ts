import { coverageFactor } from '../statistics/distributions.js';
import { leastSquares } from '../statistics/leastSquares.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import type { Shape } from '../statistics/shapes.js';
import { twoSidedP } from '../statistics/student.js';
import { extremes, mean } from '../statistics/summary.js';
import type { Interval } from '../vocabulary.js';
import type { PairedReadings } from './pairedLevels.js';
import { requirePairs } from './pairedLevels.js';
import { logarithmsOf } from './ratioLimits.js';

/** A straight line value = intercept + slope · level, with what its intervals need. */
export interface LevelLine {
  readonly intercept: number;
  readonly slope: number;
  readonly slope_interval: Interval;
  /** Two-sided p of slope 0; `null` when the points lie on a line exactly. */
  readonly slope_p: number | null;
  readonly residual_sd: number;
  readonly dof: number;
  readonly mean_level: number;
  readonly sum_of_squares: number;
}

export interface ProportionalBias {
  readonly scale: 'difference' | 'log';
  readonly n: number;
  readonly confidence: number;
  /** Lowest and highest level seen. */
  readonly range: Interval;
  /** Difference against level. */
  readonly bias: LevelLine;
  /** Size of the residuals against level: its slope says whether the spread grows. */
  readonly spread: LevelLine;
}

export const SCALES = ['difference', 'log'] as const;

const LEVEL_LINE: Shape = {
  fields: {
    intercept: 'number',
    slope: 'number',
    residual_sd: 'not-negative',
    dof: 'above-zero',
    mean_level: 'number',
    sum_of_squares: 'above-zero',
  },
};

/** What the limits at a level need of `proportionalBias`. */
export const LINES: Shape = {
  fields: {
    n: 'above-zero',
    confidence: 'fraction',
    range: { list: 'number' },
    bias: LEVEL_LINE,
    spread: LEVEL_LINE,
  },
};

/** @param weights 1/variance, with mean 1; equal when left out */
export function levelLine(
  levels: readonly number[],
  values: readonly number[],
  confidence: number,
  weights: readonly number[] = levels.map(() => 1),
): LevelLine {
  const centre = mean(levels.map((level, i) => weights[i] * level));
  // Levels about their mean, in units of their spread, keep the fit well conditioned.
  const squares = levels.reduce((sum, level, i) => sum + weights[i] * (level - centre) ** 2, 0);
  const unit = Math.sqrt(squares) || 1;
  const fit = leastSquares(
    levels.map((level) => [1, (level - centre) / unit]),
    values,
    weights,
  );
  const [atCentre, scaled] = fit.coefficients;
  const slope = scaled / unit;
  const residualSd = Math.sqrt(fit.residualSumOfSquares / fit.dof);
  const error = residualSd / unit;
  const half = coverageFactor(confidence, fit.dof) * error;
  return {
    intercept: atCentre - slope * centre,
    slope,
    slope_interval: [slope - half, slope + half],
    slope_p: error > 0 ? twoSidedP(slope / error, fit.dof) : null,
    residual_sd: residualSd,
    dof: fit.dof,
    mean_level: centre,
    sum_of_squares: squares,
  };
}

/**
 * Does the difference between the meters, or its spread, change with the level?
 *
 * @param pairs readings of both meters; `log` needs them above 0
 * @param options `scale`: `difference` regresses candidate − reference on the mean of both, `log`
 *   ln(candidate/reference) on the mean logarithm
 * @returns a line for the bias and one for the size of its residuals
 * @throws too-few-values below 4 pairs or without any spread of level, reading-not-positive,
 *   argument-wrong
 *
 * A slope is not yet a proportional bias: when one meter is noisier than the other, differences
 * and means are correlated with no bias at all, and the p of the slope is exactly that of the
 * Pitman–Morgan test for equal standard deviations (`pitmanMorgan`). A line with errors in both
 * meters can tell the two apart, given the noise of each.
 * Source: Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135, section 3.2; Lancet 346 (1995)
 * 1085 on why the mean, not the reference, is the level.
 */
export function proportionalBias(
  pairs: PairedReadings,
  options: { readonly scale?: 'difference' | 'log'; readonly confidence?: number } = {},
): ProportionalBias {
  const { scale = 'difference', confidence = 0.95 } = requireOptions(options, {
    scale: { maybe: SCALES },
    confidence: CONFIDENCE,
  });
  requirePairs(pairs, 4, 'A line of difference against level');
  const prepare = scale === 'log' ? logarithmsOf : (values: readonly number[]) => values;
  const reference = prepare(pairs.reference);
  const candidate = prepare(pairs.candidate);
  const differences = candidate.map((value, i) => value - reference[i]);
  const levels = candidate.map((value, i) => value / 2 + reference[i] / 2);
  const bias = levelLine(levels, differences, confidence);
  const sizes = differences.map((value, i) =>
    Math.abs(value - (bias.intercept + bias.slope * levels[i])),
  );
  return {
    scale,
    n: levels.length,
    confidence,
    range: [extremes(levels)[0], extremes(levels)[1]],
    bias,
    spread: levelLine(levels, sizes, confidence),
  };
}
