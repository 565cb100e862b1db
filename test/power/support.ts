import type { PowerLevel, SeriesAtPower } from '../../src/power/powerLevels.js';

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
