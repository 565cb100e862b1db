import { combineIndependent } from '../statistics/combineIndependent.js';
import { CONTRADICTION, randomEffectsMean } from '../statistics/randomEffects.js';
import type { LevelFactor, Placement, SeriesAtPower } from './powerLevels.js';

/** A series that repeats exactly still needs an uncertainty above zero for its weight. */
const LEAST = 1e-6;

/**
 * ln K of the series of one level: weighted mean with 1/(uᵢ² + s²), s the spread of the placement;
 * its uncertainty is √Σ(wᵢuᵢ)² and s·√Σwᵢ², each with its own degrees of freedom. Series that
 * contradict each other show their own spread instead (Hartung and Knapp, m − 1 degrees of freedom).
 *
 * u and s together judge whether they contradict each other, because s is pooled over all levels and two
 * series would leave one degree of freedom.
 */
export function meanAtOnePower(
  series: readonly SeriesAtPower[],
  placement: Placement,
): LevelFactor {
  const spread = Math.max(placement.sd, LEAST);
  if (series.length > 1) {
    const found = randomEffectsMean(
      series.map((one) => ({
        value: one.logFactor,
        standardUncertainty: Math.hypot(Math.max(one.standardUncertainty, LEAST), spread),
      })),
    );
    if (found.p < CONTRADICTION) {
      const { mean, hartungKnapp } = found;
      return { logFactor: mean, standardUncertainty: hartungKnapp, dof: series.length - 1 };
    }
  }
  const weights = series.map(
    (one) => 1 / (Math.max(one.standardUncertainty, LEAST) ** 2 + spread ** 2),
  );
  const total = weights.reduce((sum, w) => sum + w, 0);
  const shares = weights.map((w) => w / total);
  return {
    logFactor: series.reduce((sum, one, i) => sum + shares[i] * one.logFactor, 0),
    ...combineIndependent([
      { standardUncertainty: spread * Math.hypot(...shares), dof: placement.dof },
      ...series.map((one, i) => ({
        standardUncertainty: shares[i] * one.standardUncertainty,
        dof: one.dof,
      })),
    ]),
  };
}
