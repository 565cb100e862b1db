export { type ApproximateLimits, approximateLimits } from './agree/approximateLimits.js';
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
  type LimitsOptions,
  limitFactors,
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
export { logRatios, type RatioLimits, ratioLimits } from './agree/ratioLimits.js';
export {
  type ReplicatedMethodsFigures,
  type ReplicatedMethodsLimits,
  replicatedMethodsLimits,
  replicatedMethodsLimitsFromFigures,
} from './agree/replicatedMethodsLimits.js';
export { type ReplicateLimits, replicateLimits } from './agree/replicateLimits.js';
export {
  type SeriesAgainstLevel,
  seriesAgainstLevel,
  slopeOfNoise,
} from './agree/seriesAgainstLevel.js';
export { type SummariseOptions, summariseDifferences } from './agree/summarise.js';
export { analyse } from './analyse.js';
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
export type { InputDistribution } from './budget/draws.js';
export { exactDistribution } from './budget/exactDistribution.js';
export type { ExactPart } from './budget/exactPart.js';
export {
  dofFromDoubt,
  type StandardUncertainty,
  standardUncertainty,
  type UncertaintyStatement,
} from './budget/inputs.js';
export {
  compareWithLinear,
  type LinearComparison,
  type MonteCarloOptions,
  type MonteCarloResult,
  monteCarlo,
} from './budget/monteCarlo.js';
export {
  type ImprovementStep,
  type NextImprovement,
  type NextImprovementOptions,
  nextImprovement,
} from './budget/nextImprovement.js';
export {
  correlationOfResults,
  type ModelInput,
  type PropagatedInput,
  type PropagateOptions,
  type Propagation,
  propagate,
} from './budget/propagate.js';
export type { ExactDistribution } from './budget/symmetricDistribution.js';
export * from './error.js';
export { chartFactors, type ResultToChart } from './factors/analyseReChecks.js';
export { compareFactors } from './factors/analyseThenAndNow.js';
export {
  type ChartPoint,
  type ControlChartInput,
  type ControlChartResult,
  controlChart,
  FEWEST_FOR_SCATTER,
} from './factors/controlChart.js';
export { correct } from './factors/correct.js';
export { type FactorFor, factorFor } from './factors/factorFor.js';
export { factorsFile } from './factors/factorsFile.js';
export { FACTOR_CAUTIONS, factorsOf } from './factors/factorsOf.js';
export type { ResultToCompare } from './factors/factorsToCompare.js';
export { type NewReading, readingOf, type TakenReading } from './factors/newReading.js';
export { parseFactors } from './factors/parseFactors.js';
export { readFactors } from './factors/readFactors.js';
export { type ReadingPart, readingParts } from './factors/readingParts.js';
export {
  predictionInterval,
  type SeveralUnitsInput,
  type SeveralUnitsResult,
  severalUnits,
  type UnitFactor,
} from './factors/severalUnits.js';
export { type ThenAndNowInput, type ThenAndNowResult, thenAndNow } from './factors/thenAndNow.js';
export { unitFactors } from './factors/unitFactors.js';
export { escapeHtml, withoutControls } from './findings/escape.js';
export {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPower,
  formatProbability,
  formatRelative,
  NO_NUMBER,
} from './findings/formatNumber.js';
export {
  formatUncertain,
  formatUncertainty,
  roundUncertain,
  type UncertainOptions,
} from './findings/formatUncertain.js';
export { resultFile } from './findings/resultFile.js';
export {
  accessibleEmissionLimits,
  CLASS_3B_MAX_MW,
  type EmissionLimit,
  type EmissionLimitOptions,
  type EmissionLimits,
} from './hazard/accessibleEmissionLimits.js';
export {
  type EyewearInput,
  type EyewearResult,
  opticalDensityNeeded,
  VISIBLE_MPE_W_M2,
} from './hazard/eyewear.js';
export { HAZARD_CAUTION, type HazardJudgement, judgeHazard } from './hazard/hazard.js';
export {
  type HazardInput,
  type HazardReading,
  LEAST_HAZARD_CONFIDENCE,
  leastCoverage,
  type MeasuredElsewhere,
  UNSTATED_EXPANDED_UNCERTAINTY,
  WAVELENGTH_TOLERANCE_NM,
} from './hazard/hazardInput.js';
export { CLASS_ORDER, classRank, type LabelClass, parseLabelClass } from './hazard/labelClass.js';
export { contradictsReference } from './opinions/contradictsReference.js';
export { saidBy } from './opinions/saidBy.js';
export {
  type AsNewInput,
  type AsNewResult,
  agreementScore,
  asNewBound,
  type ScoreInput,
  type ScoreResult,
  type StatedPower,
  TAKEN_AS_INDEPENDENT,
  type WhichMeterInput,
  type WhichMeterResult,
  whichMeterIsRight,
} from './opinions/secondOpinion.js';
export {
  commonToAll,
  type SharedReference,
  type StatedReference,
  sameName,
  sharedReference,
  statedReference,
} from './opinions/sharedReference.js';
export {
  type InstrumentPrecision,
  type PrecisionInput,
  type PrecisionResult,
  separatePrecision,
} from './opinions/threeInstruments.js';
export { type DatedFactor, withoutCommon } from './opinions/withoutCommon.js';
export {
  type ComparisonDesign,
  type ComparisonDesignOptions,
  comparisonDesign,
} from './plan/comparisonDesign.js';
export {
  type ComparisonWishes,
  type CompleteWishes,
  completeWishes,
} from './plan/comparisonWishes.js';
export {
  type DesignUncertainty,
  designUncertainty,
  type PlannedSeries,
} from './plan/designUncertainty.js';
export {
  biasPower,
  type LapsToShowBias,
  type LapsToShowBiasOptions,
  lapsToShowBias,
} from './plan/lapsToShowBias.js';
export { type PlacementWord, plannedPlacement } from './plan/placement.js';
export { type ComparisonPlan, planComparison } from './plan/planComparison.js';
export { type PlannedOutlook, plannedOutlook } from './plan/plannedOutlook.js';
export { type OrderRecommendation, recommendOrder } from './plan/recommendOrder.js';
export type { Remedy } from './plan/remedies.js';
export {
  contrastBias,
  type Fraction,
  type ResidualBias,
  residualBias,
  residualBiasOf,
} from './plan/residualBias.js';
export {
  type ResolutionNote,
  type ResolutionNoteOptions,
  resolutionNote,
} from './plan/resolutionNote.js';
export { BLOCK_LAPS, RUN_ORDERS, runOrder, wholeBlocks } from './plan/runOrder.js';
export { type PlannedRun, plannedRuns, type RunSheetOptions, runSheet } from './plan/runSheet.js';
export { type RunSheetTextOptions, runSheetText } from './plan/runSheetText.js';
export type { PlanOptions } from './plan/searchLaps.js';
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
export { type DisplayStep, displayStep } from './readings/displayStep.js';
export { settingRatios } from './readings/settingRatio.js';
export { firstMeter } from './record/laps.js';
export { parseStudy, type StudyFiles } from './record/parseStudy.js';
export { readStudy } from './record/readStudy.js';
export { findSlips } from './record/slips/findSlips.js';
export { withLikely } from './record/slips/withLikely.js';
export { withoutSuspects } from './record/slips/withoutSuspects.js';
export { studyJsonSchema } from './record/studySchema.js';
export { appendixPage } from './report/appendixPage.js';
export { cardPage } from './report/cardPage.js';
export { type ReportPageInput, reportPage } from './report/reportPage.js';
export { balancedExclusions, runsWithout } from './series/balanced.js';
export { type BracketedEffect, bracketedEffect } from './series/bracketed.js';
export {
  COLD_START_CERTAIN,
  COLD_START_SUSPECTED,
  type ColdStarts,
  coldStarts,
} from './series/coldStarts.js';
export { type ColdStartTest, coldStartTest } from './series/coldStartTest.js';
export {
  type BetweenSeries,
  type CombinedSeries,
  combineSeries,
  DEFAULT_BETWEEN_DOF,
  DEFAULT_BETWEEN_SERIES,
  PLACEMENT_SD,
  pooledBetweenSeries,
  type SeriesEstimate,
} from './series/combineSeries.js';
export { declaredExclusions } from './series/declared.js';
export {
  type DriftModel,
  designOf,
  driftModel,
  effectUncertainty,
  effectWeights,
} from './series/driftModel.js';
export { groupOf } from './series/groupOf.js';
export { keptLaps, lapPairs } from './series/lapPairs.js';
export { driftPerRun, orderBias } from './series/orderBias.js';
export { outlierFlags } from './series/outliers.js';
export { readingScatter } from './series/readingScatter.js';
export {
  bracketedFactor,
  type FactorParts,
  type Resolutions,
  seriesFactor,
  WIDEST_FACTOR,
} from './series/seriesFactor.js';
export { type CombinedTimeConstant, combineTimeConstants } from './settle/combineTimeConstants.js';
export { correctEarlyReading, type EarlyReading } from './settle/correctEarlyReading.js';
export { detectOvershoot, type Overshoot } from './settle/detectOvershoot.js';
export {
  fitStepResponse,
  type StepResponse,
  type StepResponseOptions,
  type StepResponseRefusal,
  type TraceEstimate,
} from './settle/fitStepResponse.js';
export { type LagDroop, lagDroop } from './settle/lagDroop.js';
export { laggedResponse } from './settle/laggedResponse.js';
export { meanDrift } from './settle/meanDrift.js';
export { missingFraction, timeToSettle } from './settle/missingFraction.js';
export { nonlinearLeastSquares } from './settle/nonlinearLeastSquares.js';
export type { Curve, NonlinearFit, NonlinearProblem } from './settle/nonlinearProblem.js';
export {
  type ThreePointExtrapolation,
  threePointExtrapolation,
} from './settle/threePointExtrapolation.js';
export { type BenchTruth, type SimulatedSeries, simulateSeries } from './simulate/bench.js';
export type { BenchOptions, PerMeter, SourceBehaviour } from './simulate/benchOptions.js';
export {
  type ReCheckPlan,
  reCheckScenarios,
  type UnitPlan,
  unitScenarios,
} from './simulate/comparisonScenarios.js';
export { demoScenarios } from './simulate/demo/demoScenarios.js';
export { type LaterReading, type PlannedStudy, plannedStudy } from './simulate/plannedStudy.js';
export type {
  BeamPart,
  Incident,
  Scenario,
  ScenarioMeter,
  ScenarioOpinion,
  ScenarioSeries,
  ScenarioStudy,
} from './simulate/scenario.js';
export type { SeriesTruth } from './simulate/scenarioSeries.js';
export type { StudyTruth } from './simulate/studyTruth.js';
export { type VirtualStudy, virtualStudy } from './simulate/virtualStudy.js';
export { effectiveDof, type UncertaintyPart } from './statistics/effectiveDof.js';
export { type WilcoxonResult, wilcoxonSignedRank } from './statistics/wilcoxonSignedRank.js';
export { terminalTable } from './terminal/terminalTable.js';
export {
  MOST_LAPS,
  type SeriesJudgement,
  type SeriesVerdictInput,
  seriesVerdict,
  type WavelengthJudgement,
  type WavelengthVerdictInput,
  wavelengthVerdict,
} from './verdict/tolerance.js';
export * from './vocabulary.js';
export { atWavelength, SAME_WAVELENGTH_NM } from './wavelengths/atWavelength.js';
export { commonFactor, type WavelengthEstimate } from './wavelengths/commonFactor.js';
export {
  DOUBLED_LINES_NM,
  type Estimate,
  type InfraredLeakInput,
  type InfraredLeakResult,
  infraredCaution,
  infraredLeak,
  isDoubledLine,
  LEAKED_INFRARED_NM,
} from './wavelengths/infraredLeak.js';
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
} from './wavelengths/wavelengthContributions.js';
