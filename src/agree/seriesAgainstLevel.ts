/** Difference against level when each series has several laps. */

import { argumentWrong } from '../error.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { requireList, requireNumbers } from '../statistics/shapes.js';
import { mean } from '../statistics/summary.js';
import type { PairedReadings } from './pairedLevels.js';
import { requirePairs } from './pairedLevels.js';
import {
  type LevelLine,
  levelLine,
  type ProportionalBias,
  proportionalBias,
  SCALES,
} from './proportionalBias.js';
import { logarithmsOf } from './ratioLimits.js';

/** A series that a line follows wholly has no freedom left; its residual is not blown up without bound. */
const LEAST_FREEDOM = 0.05;
/** Smallest size a weight is made from, in typical sizes: a line of sizes may reach 0. */
const LEAST_SIZE = 0.2;

/** The lines of `proportionalBias` for series, and what limits for one more lap need besides. */
export interface SeriesAgainstLevel {
  /** Bias: through the series, each counting once. Spread: mean size of the residuals of their laps. */
  readonly lines: ProportionalBias;
  /** The same with each series weighted for its spread; `null` when there is none. */
  readonly weighted: Pick<ProportionalBias, 'bias' | 'spread'> | null;
  /** Mean level and mean difference of each series, on the scale of the lines. */
  readonly levels: readonly number[];
  readonly differences: readonly number[];
  /** Variance of laps within their series; `null` when every series has one lap. */
  readonly within_variance: number | null;
  readonly within_dof: number;
  /** Harmonic mean of the numbers of laps. */
  readonly harmonic_size: number;
  /** Steepest slope, either way, that unequally noisy meters make without any bias. */
  readonly slope_of_noise: number;
}

/**
 * Does the difference between the meters, or its spread, change from series to series with the level?
 *
 * The series is the unit: within one, differences go with levels through noise alone, so no slope is
 * taken from there.
 *
 * @param series readings of both meters, lap by lap; `log` needs them above 0
 * @param options `scale` as in `proportionalBias`
 * @returns with one lap a series the lines of `proportionalBias`, the size of each residual over
 *   √(1 − leverage); `weighted` for a spread that changes
 * @throws too-few-values below 4 series or without any spread of level, reading-not-positive,
 *   argument-wrong
 *
 * Source: Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135, sections 3.2 and 5.3;
 * departures for few series: leverage, and weights 1/size² for one step. Slope of
 * noise: all of the variance σ² of a difference in one meter makes the covariance σ²/2 with the mean
 * of both and so the slope b = σ²/(2s²), s² the variance of the levels; what remains about the line is
 * σ² − b²s² = s²(2b − b²), hence b = 1 − √(1 − residual variance/s²).
 */
export function seriesAgainstLevel(
  series: readonly PairedReadings[],
  options: { readonly scale?: 'difference' | 'log'; readonly confidence?: number } = {},
): SeriesAgainstLevel {
  const { scale = 'difference', confidence = 0.95 } = requireOptions(options, {
    scale: { maybe: SCALES },
    confidence: CONFIDENCE,
  });
  requireList(series, 'The series');
  for (const one of series) requirePairs(one, 1, 'A series');
  const onScale = (values: readonly number[]) => (scale === 'log' ? logarithmsOf(values) : values);
  const laps = series.map(({ reference, candidate }) => ({
    reference: onScale(reference),
    candidate: onScale(candidate),
  }));
  const back = scale === 'log' ? Math.exp : (value: number) => value;
  const lines = proportionalBias(
    {
      reference: laps.map((one) => back(mean(one.reference))),
      candidate: laps.map((one) => back(mean(one.candidate))),
    },
    { scale, confidence },
  );
  const differences = laps.map((one) => one.candidate.map((value, i) => value - one.reference[i]));
  const levels = laps.map((one) => mean(one.candidate) / 2 + mean(one.reference) / 2);
  const means = differences.map((group) => mean(group));
  const { bias } = lines;
  const spread = levelLine(levels, sizesAbout(bias, levels, differences), confidence);
  const counts = differences.map((group) => group.length);
  const dof = counts.reduce((sum, count) => sum + count - 1, 0);
  const within = differences.reduce((sum, group) => {
    const centre = mean(group);
    return sum + group.reduce((part, value) => part + (value - centre) ** 2, 0);
  }, 0);
  if (!Number.isFinite(within)) throw argumentWrong('Differences are out of range.', within);
  return {
    lines: { ...lines, spread },
    weighted: weightedLines(spread, levels, differences, confidence),
    levels,
    differences: means,
    within_variance: dof > 0 ? within / dof : null,
    within_dof: dof,
    harmonic_size: counts.length / counts.reduce((sum, count) => sum + 1 / count, 0),
    slope_of_noise: slopeOfNoise(bias.residual_sd ** 2, bias.sum_of_squares / (lines.n - 1)),
  };
}

/**
 * Mean size of what remains of each series' laps about a line. A line lies closer to its own points
 * than to the next one, above all at the ends: the residual of a mean is divided by √(1 − leverage).
 */
function sizesAbout(
  line: LevelLine,
  levels: readonly number[],
  differences: readonly (readonly number[])[],
  weights: readonly number[] = levels.map(() => 1),
): readonly number[] {
  return differences.map((group, i) => {
    const centre = mean(group);
    const leverage =
      weights[i] * (1 / levels.length + (levels[i] - line.mean_level) ** 2 / line.sum_of_squares);
    const off = centre - (line.intercept + line.slope * levels[i]);
    const free = off / Math.sqrt(Math.max(LEAST_FREEDOM, 1 - leverage));
    return mean(group.map((value) => Math.abs(free + value - centre)));
  });
}

/** Both lines again, each series weighted by 1/size² of the spread that the first fit found. */
function weightedLines(
  spread: LevelLine,
  levels: readonly number[],
  differences: readonly (readonly number[])[],
  confidence: number,
): SeriesAgainstLevel['weighted'] {
  const sizes = levels.map((level) => spread.intercept + spread.slope * level);
  const typical = mean(sizes);
  if (!(typical > 0)) return null;
  const plain = sizes.map((size) => Math.max(size / typical, LEAST_SIZE) ** -2);
  const weights = plain.map((weight) => weight / mean(plain));
  const means = differences.map((group) => mean(group));
  const bias = levelLine(levels, means, confidence, weights);
  return {
    bias,
    spread: levelLine(levels, sizesAbout(bias, levels, differences, weights), confidence, weights),
  };
}

/** @param residual variance about the line @param ofLevels variance of the levels */
export function slopeOfNoise(residual: number, ofLevels: number): number {
  requireNumbers([residual, ofLevels], 'Variances');
  return residual < ofLevels ? 1 - Math.sqrt(1 - residual / ofLevels) : 1;
}
