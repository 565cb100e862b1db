/** The mean of series that share a spread: what they have of their own, and what stays between them. */
import { combineIndependent, type Part } from '../statistics/combineIndependent.js';
import {
  CONTRADICTION,
  type RandomEffectsMean,
  randomEffectsMean,
} from '../statistics/randomEffects.js';

/** ln K, its relative standard uncertainty and the degrees of freedom of that. */
export interface LogFactor extends Part {
  readonly logFactor: number;
}

/** A series that repeats exactly still needs an uncertainty above zero for its weight. */
export const LEAST = 1e-6;

const toEstimate = ({ logFactor: value, standardUncertainty }: LogFactor) => ({
  value,
  standardUncertainty: Math.max(standardUncertainty, LEAST),
});

/** Random-effects mean of what the series say by themselves. */
export function ownMean(series: readonly LogFactor[]): RandomEffectsMean {
  return randomEffectsMean(series.map(toEstimate));
}

/** Their mean where they differ by more than their scatter and a spread explain; `null` where not. */
export function contradiction(
  series: readonly LogFactor[],
  spread: number,
): RandomEffectsMean | null {
  const widened = series.map(toEstimate).map(({ value, standardUncertainty }) => ({
    value,
    standardUncertainty: Math.hypot(standardUncertainty, spread),
  }));
  const found = randomEffectsMean(widened);
  return found.p < CONTRADICTION ? found : null;
}

export interface SeriesMean {
  readonly logFactor: number;
  /** What each series brings to its uncertainty. */
  readonly parts: readonly Part[];
  /** All of them together. */
  readonly within: Part;
  /** What the spread brings, a standard uncertainty. */
  readonly between: number;
}

/**
 * Weighted mean with 1/(uᵢ² + s²), s the spread: √Σ(wᵢuᵢ)² with Welch and Satterthwaite's degrees of
 * freedom is what the series leave in it, s·√Σwᵢ² what the spread does.
 */
export function weightedMean(series: readonly LogFactor[], spread: number): SeriesMean {
  const weights = series.map((one) => 1 / (toEstimate(one).standardUncertainty ** 2 + spread ** 2));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const shares = weights.map((w) => w / total);
  const parts = series.map(({ standardUncertainty, dof }, i) => ({
    standardUncertainty: shares[i] * standardUncertainty,
    dof,
  }));
  return {
    logFactor: series.reduce((sum, one, i) => sum + shares[i] * one.logFactor, 0),
    parts,
    within: combineIndependent(parts),
    between: spread * Math.hypot(...shares),
  };
}
