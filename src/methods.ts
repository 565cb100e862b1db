/**
 * The documented statistics one by one, each with its page in docs/methods. Options are camelCase;
 * results have the snake_case fields of result.json. Wrong shapes, unknown options, values that are
 * no numbers and negative uncertainties give the one error.
 */

// docs/methods/agreement.md
export { type Concordance, concordance } from './agree/concordance.js';
export { correlation } from './agree/correlation.js';
export {
  type Equivalence,
  type EquivalenceOptions,
  equivalenceOfDifference,
  equivalenceOfRatio,
} from './agree/equivalence.js';
export { type LapLimitsAtLevel, lapLimitsAtLevel } from './agree/lapLimitsAtLevel.js';
export { type LevelLimits, limitsAtLevel } from './agree/limitsAtLevel.js';
export {
  type DifferenceFigures,
  exactLimitFactors,
  type LimitsOptions,
  type LimitsWithFigures,
  limitsFromFigures,
  limitsOfAgreement,
} from './agree/limitsOfAgreement.js';
export type { PairedReadings } from './agree/pairedLevels.js';
export { type PitmanMorgan, pitmanMorgan } from './agree/pitmanMorgan.js';
export {
  type LevelLine,
  type ProportionalBias,
  proportionalBias,
} from './agree/proportionalBias.js';
export { type RatioLimits, ratioLimits } from './agree/ratioLimits.js';
export {
  type ReplicatedMethodsLimits,
  replicatedMethodsLimits,
} from './agree/replicatedMethodsLimits.js';
export { type ReplicateLimits, replicateLimits } from './agree/replicateLimits.js';
export { type SeriesAgainstLevel, seriesAgainstLevel } from './agree/seriesAgainstLevel.js';
export {
  type DifferenceStatistics,
  type SummariseOptions,
  summariseDifferences,
} from './agree/summarise.js';
// docs/methods/uncertainty.md
export type { AdaptiveOptions, AdaptiveResult } from './budget/adaptiveTrials.js';
export {
  type CombinedUncertainty,
  type CombineOptions,
  type ContributionCorrelation,
  type ContributionInput,
  combineContributions,
} from './budget/combine.js';
export {
  type BudgetCoverage,
  type BudgetPart,
  coverageOfBudget,
} from './budget/coverageOfBudget.js';
export { type Derivative, type Model, partialDerivative } from './budget/derivatives.js';
export type { InputDistribution } from './budget/draws.js';
export { exactDistribution } from './budget/exactDistribution.js';
export type { ExactPart } from './budget/exactPart.js';
export {
  dofFromRelativeUncertainty,
  type HowWellKnown,
  type StandardUncertainty,
  standardUncertainty,
  type UncertaintyStatement,
} from './budget/inputs.js';
export {
  type LinearComparison,
  type MonteCarloOptions,
  type MonteCarloResult,
  monteCarlo,
  validateFormula,
} from './budget/monteCarlo.js';
export {
  correlationOfResults,
  type ModelInput,
  type PropagatedInput,
  type PropagateOptions,
  type Propagation,
  propagateUncertainty,
} from './budget/propagate.js';
export type { ExactDistribution } from './budget/symmetricDistribution.js';
// docs/methods/decisions.md
export {
  type ChartPoint,
  type ControlChartInput,
  type ControlChartResult,
  controlChart,
} from './factors/controlChart.js';
export { predictionInterval } from './factors/severalUnits.js';
export { type ThenAndNowInput, type ThenAndNowResult, thenAndNow } from './factors/thenAndNow.js';
// docs/methods/second-opinion.md, hazard.md
export {
  accessibleEmissionLimits,
  type EmissionLimit,
  type EmissionLimitOptions,
  type EmissionLimits,
} from './hazard/accessibleEmissionLimits.js';
export { type EyewearInput, type EyewearResult, opticalDensityNeeded } from './hazard/eyewear.js';
export { type LabelClass, parseLabelClass } from './hazard/labelClass.js';
export {
  type AsNewInput,
  type AsNewResult,
  asNewBound,
  compatibilityScore,
  type ScoreInput,
  type ScoreResult,
  type StatedPower,
  type WhichMeterInput,
  type WhichMeterResult,
  whichMeterIsRight,
} from './opinions/secondOpinion.js';
export {
  type InstrumentPrecision,
  type PrecisionInput,
  type PrecisionResult,
  precisionOfThree,
} from './opinions/threeInstruments.js';
export type { DatedFactor } from './opinions/withoutCommon.js';
// docs/methods/planning.md
export {
  type DesignUncertainty,
  designUncertainty,
  type PlannedSeries,
} from './plan/designUncertainty.js';
export { biasPower } from './plan/lapsToShowBias.js';
export {
  contrastBias,
  type Fraction,
  type ResidualBias,
  residualBias,
  residualBiasOf,
} from './plan/residualBias.js';
// docs/methods/lines.md
export { type CommonBend, commonBend } from './power/lines/commonBend.js';
export { type Curvature, curvature } from './power/lines/curvature.js';
export { type DemingLine, type DemingUncertainty, demingLine } from './power/lines/demingLine.js';
export {
  type GainOrOffset,
  gainOrGainAndOffset,
  type MeterReadings,
} from './power/lines/gainOrGainAndOffset.js';
export { inverseOnLine, type LineInverse } from './power/lines/inverseOnLine.js';
export {
  type LeaveOneSeriesOut,
  type LeftOutSeries,
  leaveOneSeriesOut,
  type SeriesMeans,
  type SeriesPrediction,
} from './power/lines/leaveOneSeriesOut.js';
export type { Line, LineCoefficient, LineMethod, LinePoints } from './power/lines/line.js';
export { ordinaryLine } from './power/lines/ordinaryLine.js';
export {
  type CusumLinearity,
  type PassingBablokLine,
  passingBablokLine,
} from './power/lines/passingBablokLine.js';
export { type LinePrediction, predictOnLine } from './power/lines/predictOnLine.js';
export { type TheilSenLine, theilSenLine } from './power/lines/theilSenLine.js';
export {
  type GoodnessOfFit,
  type UncertaintyScale,
  weightedLine,
} from './power/lines/weightedLine.js';
export { type YorkLine, type YorkPoints, yorkLine } from './power/lines/yorkLine.js';
// docs/methods/settling.md
export { type CombinedTimeConstant, combineTimeConstants } from './settle/combineTimeConstants.js';
export {
  correctEarlyReading,
  type EarlyReading,
  type EarlyReadingOptions,
} from './settle/correctEarlyReading.js';
export { detectOvershoot, type Overshoot } from './settle/detectOvershoot.js';
export { fitStepResponse } from './settle/fitStepResponse.js';
export { type LagDroop, type LagDroopOptions, lagDroop } from './settle/lagDroop.js';
export { missingFraction, timeToSettle } from './settle/missingFraction.js';
export { nonlinearLeastSquares } from './settle/nonlinearLeastSquares.js';
// Types of what these take and give.
export type { Curve, NonlinearFit, NonlinearProblem } from './settle/nonlinearProblem.js';
export type { TraceReadings } from './settle/readTrace.js';
export type {
  StepResponse,
  StepResponseRefusal,
  TraceEstimate,
} from './settle/stepResponse.js';
export type { StepResponseOptions } from './settle/stepResponseTask.js';
export {
  type ThreePointExtrapolation,
  type ThreePointOptions,
  threePointExtrapolation,
} from './settle/threePointExtrapolation.js';
export { autocorrelation } from './statistics/autocorrelation.js';
export { type Bootstrap, type BootstrapOptions, bootstrap } from './statistics/bootstrap.js';
export { coverageFactor } from './statistics/distributions.js';
export { effectiveDof, type UncertaintyPart } from './statistics/effectiveDof.js';
// docs/methods/wavelengths.md, screening.md
export { type EsdResult, type EsdStep, generalisedEsd } from './statistics/generalisedEsd.js';
export { type GrubbsResult, grubbs } from './statistics/grubbs.js';
export { type Jackknife, jackknife } from './statistics/jackknife.js';
export { noncentralStudentCdf, noncentralStudentQuantile } from './statistics/noncentralStudent.js';
export {
  type Estimate,
  type RandomEffects,
  type RandomEffectsMean,
  type RandomEffectsOptions,
  randomEffects,
} from './statistics/randomEffects.js';
export { standardDeviationInterval } from './statistics/standardDeviationInterval.js';
export { type StudentResult, twoSampleStudent } from './statistics/student.js';
export { type WilcoxonResult, wilcoxonSignedRank } from './statistics/wilcoxonSignedRank.js';
export type {
  ChartSignal,
  Contribution,
  ContributionKind,
  DifferenceSummary,
  Interval,
  LaserClass,
  LimitsOfAgreement,
  MeterRole,
  RunOrder,
  Trace,
  Warning,
} from './vocabulary.js';
export {
  type InfraredLeakInput,
  type InfraredLeakResult,
  infraredLeak,
} from './wavelengths/infraredLeak.js';
