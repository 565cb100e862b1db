import { type LinearFit, leastSquares } from '../../statistics/leastSquares.js';
import type { LinePoints, LineUncertainty } from './line.js';

export interface CentredFit extends LinearFit {
  readonly intercept: number;
  readonly slope: number;
  /** @param variance of an observation of weight 1 */
  readonly uncertainty: (variance: number) => LineUncertainty;
}

/**
 * Least squares about the weighted mean of x: level and slope are then uncorrelated and rounding stays
 * small.
 */
export function centredFit({ x, y }: LinePoints, weights?: readonly number[]): CentredFit {
  const total = weights?.reduce((sum, w) => sum + w, 0) ?? x.length;
  const centre = x.reduce((sum, value, i) => sum + (weights?.[i] ?? 1) * value, 0) / total;
  const rows = x.map((value) => [1, value - centre]);
  const fit = leastSquares(rows, y, weights);
  const [level, slope] = fit.coefficients;
  return {
    ...fit,
    intercept: level - slope * centre,
    slope,
    uncertainty: (variance) => {
      const [levelVariance, slopeVariance] = [0, 1].map(
        (i) => variance * fit.unscaledCovariance[i][i],
      );
      return {
        intercept: Math.sqrt(levelVariance + centre ** 2 * slopeVariance),
        slope: Math.sqrt(slopeVariance),
        covariance: -centre * slopeVariance,
      };
    },
  };
}
