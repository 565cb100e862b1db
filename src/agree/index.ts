export { type WilcoxonResult, wilcoxonSignedRank } from '../statistics/wilcoxonSignedRank.js';
export { type ApproximateLimits, approximateLimits } from './approximateLimits.js';
export { type Concordance, concordance } from './concordance.js';
export { correlation } from './correlation.js';
export {
  type Equivalence,
  type EquivalenceOptions,
  equivalenceOfDifference,
  equivalenceOfRatio,
} from './equivalence.js';
export { type LapLimitsAtLevel, lapLimitsAtLevel } from './lapLimitsAtLevel.js';
export { type LevelLimits, limitsAtLevel } from './limitsAtLevel.js';
export {
  type DifferenceFigures,
  type LimitsOptions,
  limitFactors,
  limitsFromFigures,
  limitsOfAgreement,
} from './limitsOfAgreement.js';
export type { PairedReadings } from './pairedLevels.js';
export { type PitmanMorgan, pitmanMorgan } from './pitmanMorgan.js';
export { type LevelLine, type ProportionalBias, proportionalBias } from './proportionalBias.js';
export { logRatios, type RatioLimits, ratioLimits } from './ratioLimits.js';
export {
  type ReplicatedMethodsFigures,
  type ReplicatedMethodsLimits,
  replicatedMethodsLimits,
  replicatedMethodsLimitsFromFigures,
} from './replicatedMethodsLimits.js';
export { type ReplicateLimits, replicateLimits } from './replicateLimits.js';
export { type SeriesAgainstLevel, seriesAgainstLevel, slopeOfNoise } from './seriesAgainstLevel.js';
export { type SummariseOptions, summariseDifferences } from './summarise.js';
