export type {
  CombinedUncertainty,
  CombineOptions,
  ContributionCorrelation,
  ContributionInput,
} from './combine.js';
export { combineContributions } from './combine.js';
export type { ContributionKind } from './contributionKind.js';
export { contributionKind } from './contributionKind.js';
export type { BudgetCoverage, BudgetPart } from './coverageOfBudget.js';
export { coverageOfBudget } from './coverageOfBudget.js';
export type { InputDistribution } from './draws.js';
export type { UncertaintyPart } from './effectiveDof.js';
export { effectiveDof } from './effectiveDof.js';
export { exactDistribution } from './exactDistribution.js';
export type { ExactPart } from './exactPart.js';
export type { StandardUncertainty, UncertaintyStatement } from './inputs.js';
export { dofFromDoubt, standardUncertainty } from './inputs.js';
export type { LinearComparison, MonteCarloOptions, MonteCarloResult } from './monteCarlo.js';
export { compareWithLinear, monteCarlo } from './monteCarlo.js';
export type {
  ImprovementStep,
  NextImprovement,
  NextImprovementOptions,
} from './nextImprovement.js';
export { nextImprovement } from './nextImprovement.js';
export type { ModelInput, PropagatedInput, PropagateOptions, Propagation } from './propagate.js';
export { correlationOfResults, propagate } from './propagate.js';
export type { ExactDistribution } from './symmetricDistribution.js';
export {
  type Collected,
  calibration,
  collect,
  hull,
  REFERENCE_CALIBRATION,
  referenceLimits,
  resolution,
  type ShapedInput,
  setting,
  settling,
  zero,
} from './wavelengthContributions.js';
