export { type BenchTruth, type SimulatedSeries, simulateSeries } from './bench.js';
export type { BenchOptions, PerMeter, SourceBehaviour } from './benchOptions.js';
export {
  type ReCheckPlan,
  reCheckScenarios,
  type UnitPlan,
  unitScenarios,
} from './comparisonScenarios.js';
export { demoScenarios } from './demo/index.js';

export type { LaterReading, PlannedStudy } from './plannedStudy.js';
export { plannedStudy } from './plannedStudy.js';
export type {
  BeamPart,
  Incident,
  Scenario,
  ScenarioMeter,
  ScenarioOpinion,
  ScenarioSeries,
  ScenarioStudy,
} from './scenario.js';
export type { SeriesTruth } from './scenarioSeries.js';
export type { StudyTruth } from './studyTruth.js';
export { type VirtualStudy, virtualStudy } from './virtualStudy.js';
