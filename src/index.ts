/**
 * What users of meterpair call: a study in, factors and a report out, new readings corrected. The
 * single statistics stand behind `meterpair/methods`, figures and tables behind `meterpair/notebook`.
 */

// From files to a result.
export { analyse } from './analyse.js';
export type { BudgetPart } from './budget/coverageOfBudget.js';
export type { ExactPart } from './budget/exactPart.js';
export {
  type ImprovementStep,
  type Lacking,
  type NextImprovement,
  type NextImprovementOptions,
  nextImprovement,
} from './budget/nextImprovement.js';
export { type ErrorCode, type ErrorParts, MeterpairError } from './error.js';
// Factors: written, read, used, compared.
export { chartFactors, type ResultToChart } from './factors/analyseReChecks.js';
export { compareFactors } from './factors/analyseThenAndNow.js';
export { correct } from './factors/correct.js';
export { factorsFile } from './factors/factorsFile.js';
export { factorsOf } from './factors/factorsOf.js';
export type { ResultToCompare } from './factors/factorsToCompare.js';
export type { NewReading } from './factors/newReading.js';
export { parseFactors } from './factors/parseFactors.js';
export { readFactors } from './factors/readFactors.js';
export {
  type SeveralUnitsInput,
  type SeveralUnitsResult,
  severalUnits,
  type UnitFactor,
} from './factors/severalUnits.js';
export { unitFactors } from './factors/unitFactors.js';
export type { RoundingRule } from './findings/decimal.js';
// What is printed.
export { formatNumber, type NumberOptions, type UnitOptions } from './findings/formatNumber.js';
export { formatUncertain, type UncertainOptions } from './findings/formatUncertain.js';
export { resultFile } from './findings/resultFile.js';
export { HAZARD_CAUTION } from './hazard/hazard.js';
export type { ComparisonWishes } from './plan/comparisonWishes.js';
export type { PlannedSeries } from './plan/designUncertainty.js';
// Before the evening at the bench.
export {
  type LapsToShowBias,
  type LapsToShowBiasOptions,
  lapsToShowBias,
} from './plan/lapsToShowBias.js';
export { type PlacementWord, type PlannedPlacement, plannedPlacement } from './plan/placement.js';
export { type ComparisonPlan, planComparison } from './plan/planComparison.js';
export type { PlannedOutlook } from './plan/plannedOutlook.js';
export type { SizeOfDesign } from './plan/plannedSpread.js';
export {
  type PlannedMeter,
  type PlannedSource,
  planStudy,
  type StudyPlan,
  type StudyWishes,
} from './plan/planStudy.js';
export { type OrderRecommendation, recommendOrder } from './plan/recommendOrder.js';
export type { Remedy } from './plan/remedies.js';
export {
  type ResolutionNote,
  type ResolutionNoteOptions,
  resolutionNote,
} from './plan/resolutionNote.js';
export { runOrder } from './plan/runOrder.js';
export { type RunSheetOptions, runSheet } from './plan/runSheet.js';
export { type RunSheetTextOptions, runSheetText } from './plan/runSheetText.js';
export type { PlanOptions } from './plan/searchLaps.js';
export { parseStudy, type StudyFiles } from './record/parseStudy.js';
export { readStudy } from './record/readStudy.js';
export { studyJsonSchema } from './record/studyJsonSchema.js';
export { cardPage } from './report/cardPage.js';
export type { BenchOptions, PerMeter, SourceBehaviour } from './simulate/benchOptions.js';
// Invented studies with a known truth.
export { demoScenarios } from './simulate/demo/demoScenarios.js';
// Types of what these take and give.
export type {
  BeamPart,
  Incident,
  Scenario,
  ScenarioMeter,
  ScenarioOpinion,
  ScenarioSeries,
  ScenarioStudy,
  Slip,
} from './simulate/scenario.js';
export type { SeriesTruth } from './simulate/scenarioSeries.js';
export type { StudyTruth } from './simulate/studyTruth.js';
export { type VirtualStudy, virtualStudy } from './simulate/virtualStudy.js';
export type { UncertaintyPart } from './statistics/effectiveDof.js';
export { terminalTable } from './terminal/terminalTable.js';
export type * from './vocabulary.js';
export { KNOWN_EXACTLY, LEAST_LAPS } from './vocabulary.js';
