export { wilcoxonSignedRank } from '../statistics/wilcoxonSignedRank.js';
export { approximateLimits } from './approximateLimits.js';
export { concordance } from './concordance.js';
export { correlation } from './correlation.js';
export { equivalenceOfDifference, equivalenceOfRatio } from './equivalence.js';
export { limitsAtLevel } from './limitsAtLevel.js';
export { limitFactors, limitsFromFigures, limitsOfAgreement } from './limitsOfAgreement.js';
export { pitmanMorgan } from './pitmanMorgan.js';
export { proportionalBias } from './proportionalBias.js';
export { ratioLimits } from './ratioLimits.js';
export {
  replicatedMethodsLimits,
  replicatedMethodsLimitsFromFigures,
} from './replicatedMethodsLimits.js';
export { replicateLimits } from './replicateLimits.js';
export { summariseDifferences } from './summarise.js';
