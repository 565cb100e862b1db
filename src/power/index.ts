/** K against the power: levels, the way between them, and the most that K may be. */
export { clusterByPower, ONE_LEVEL } from './clusterByPower.js';
export { curveOfLevels } from './curveOfLevels.js';
export { BEYOND, type FactorAtPower, factorAtPower } from './factorAtPower.js';
export { highestFactorAt } from './highestFactorAt.js';
export { type LevelsOfPower, levelsOf } from './levelsOf.js';
export type {
  ByPower,
  LevelFactor,
  MeasuredLevel,
  Placement,
  PowerCurve,
  PowerLevel,
  SeriesAtPower,
} from './powerLevels.js';
export { type WholeRange, wholeRange } from './wholeRange.js';
