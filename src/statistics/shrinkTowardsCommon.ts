import { type Estimate, requireEstimates } from './randomEffects.js';

/** Points at which the unknown spread is integrated; 64 leave less than a thousandth of an error. */
const POINTS = 64;

export interface DrawnEstimate extends Estimate {
  readonly covarianceWithNext: number;
}

/**
 * Posterior mean and standard deviation of each θⱼ where yⱼ ~ N(θⱼ, uⱼ²) and θⱼ ~ N(μ, τ²), with a
 * flat prior for μ and DuMouchel's for τ: density s/(s + τ)², s² the harmonic mean of the uⱼ². Its
 * median is s: before the data speak, a spread as large as the uncertainties is as likely as not.
 * τ is integrated and not estimated, because two to five values do not tell it: with an estimate put
 * in its place the answer would look surer than it is.
 *
 * @param estimates at least two, each with a standard uncertainty above 0
 * @returns one estimate for each, in order; the mean lies between the value and the common mean.
 *   `covarianceWithNext`: what joining them makes it share with the one after it (0 for the last)
 * @throws too-few-values, argument-wrong
 * @see DuMouchel 1994, Hierarchical Bayes linear models for meta-analysis, NISS technical report 27;
 *   Rubin 1981, J. Educ. Stat. 6, 377 (the model); Röver 2020, J. Stat. Softw. 93(6) (the formulas)
 */
export function shrinkTowardsCommon(estimates: readonly Estimate[]): readonly DrawnEstimate[] {
  requireEstimates(estimates, 'Shrinking towards a common value');
  const variances = estimates.map((estimate) => estimate.standardUncertainty ** 2);
  const s = Math.sqrt(estimates.length / variances.reduce((sum, v) => sum + 1 / v, 0));
  // Equal steps of the prior's distribution function τ/(s + τ), each taken at its middle.
  const conditional = Array.from({ length: POINTS }, (_, i) => {
    const p = (i + 0.5) / POINTS;
    return givenSpread(estimates, variances, ((s * p) / (1 - p)) ** 2);
  });
  const highest = Math.max(...conditional.map((one) => one.logLikelihood));
  const weights = conditional.map((one) => Math.exp(one.logLikelihood - highest));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const average = (of: (given: Given) => number) =>
    conditional.reduce((sum, given, i) => sum + (weights[i] / total) * of(given), 0);
  const values = estimates.map((_, j) => average(({ posterior }) => posterior[j].value));
  const off = ({ posterior }: Given, j: number) => posterior[j].value - values[j];
  return values.map((value, j) => ({
    value,
    standardUncertainty: Math.sqrt(
      average((given) => given.posterior[j].variance + off(given, j) ** 2),
    ),
    covarianceWithNext:
      j + 1 === values.length
        ? 0
        : average(
            (given) =>
              given.posterior[j].toMean * given.posterior[j + 1].toMean * given.meanVariance +
              off(given, j) * off(given, j + 1),
          ),
  }));
}

interface Given {
  readonly logLikelihood: number;
  /** Variance of the common mean, and how much of it each value takes over. */
  readonly meanVariance: number;
  readonly posterior: readonly {
    readonly value: number;
    readonly variance: number;
    readonly toMean: number;
  }[];
}

/** Everything for a known variance τ² between the true values; μ is integrated. */
function givenSpread(
  estimates: readonly Estimate[],
  variances: readonly number[],
  between: number,
): Given {
  const weights = variances.map((v) => 1 / (v + between));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = estimates.reduce((sum, { value }, j) => sum + (weights[j] / total) * value, 0);
  const q = estimates.reduce((sum, { value }, j) => sum + weights[j] * (value - mean) ** 2, 0);
  const logWeights = weights.reduce((sum, w) => sum + Math.log(w), 0);
  return {
    logLikelihood: (logWeights - Math.log(total) - q) / 2,
    meanVariance: 1 / total,
    posterior: estimates.map(({ value }, j) => {
      const own = between / (variances[j] + between);
      return {
        value: mean + own * (value - mean),
        variance: own * variances[j] + (1 - own) ** 2 / total,
        toMean: 1 - own,
      };
    }),
  };
}
