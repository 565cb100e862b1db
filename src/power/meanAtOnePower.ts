import { contradiction, LEAST, type LogFactor, weightedMean } from '../series/seriesMean.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import type { Placement, SeriesAtPower } from './powerLevels.js';

/**
 * ln K of the series of one level: their weighted mean with the spread of the placement. Series that
 * contradict each other show their own spread instead (Hartung and Knapp, m − 1 degrees of freedom).
 *
 * u and s together judge whether they contradict each other, because s is pooled over all levels and two
 * series would leave one degree of freedom.
 */
export function meanAtOnePower(series: readonly SeriesAtPower[], placement: Placement): LogFactor {
  const spread = Math.max(placement.sd, LEAST);
  const apart = series.length > 1 ? contradiction(series, spread) : null;
  if (apart !== null) {
    const { mean, hartungKnapp } = apart;
    return { logFactor: mean, standardUncertainty: hartungKnapp, dof: series.length - 1 };
  }
  const { logFactor, parts, between } = weightedMean(series, spread);
  const placing = { standardUncertainty: between, dof: placement.dof };
  return { logFactor, ...combineIndependent([placing, ...parts]) };
}
