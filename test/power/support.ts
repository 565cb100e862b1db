import type {
  MeasuredLevel,
  PowerCurve,
  PowerLevel,
  SeriesAtPower,
} from '../../src/power/powerLevels.js';

/** A series whose indications lie 1 % about their mean. */
export const seriesAt = (
  id: string,
  mean_mW: number,
  logFactor: number,
  standardUncertainty = 0.002,
  dof = 14,
): SeriesAtPower => ({
  id,
  candidateMean_mW: mean_mW,
  candidateRange_mW: [0.99 * mean_mW, 1.01 * mean_mW],
  logFactor,
  standardUncertainty,
  dof,
});

export const levelAt = (
  centre_mW: number,
  logFactor: number,
  standardUncertainty = 0.01,
  dof = 8,
): PowerLevel => ({
  candidate_mW: [centre_mW, centre_mW],
  centre_mW,
  logFactor,
  standardUncertainty,
  dof,
});

export const DEFAULT = { sd: 0.01, dof: 8 };

/** The two curves that the hazard asks: levels drawn together, and by their own series alone. */
export function bothWays(curve: PowerCurve<MeasuredLevel>): readonly PowerCurve[] {
  const together = curve.levels.map((level) => ({ ...level, correlationWithNext: 1 }));
  return [together, together.map((level) => ({ ...level, ...level.own }))].map((levels) => ({
    levels,
    offset_mW: curve.offset_mW,
  }));
}
