/** What the lessons in notebooks/lessons need: repeated comparisons, counts, figures. */
export { pairRows, rangeRows } from './agreementLessonRows.js';
export { budgetEstimate } from './budgetEstimate.js';
export { type CorrectedPairs, correctedPairs } from './correctedPairs.js';
export { coverageAt, coverageByLaps, type NamedEstimate } from './coverageByLaps.js';
export { type CoverageLine, coverageFigure } from './coverageFigure.js';
export { type Coverage, coverageOf, holds } from './coverageOf.js';
export {
  coverageRows,
  namedCoverageRows,
  ofHundred,
  ruleRows,
  studentRows,
} from './coverageRows.js';
export { decidedLaps, type Knock } from './decidedLaps.js';
export { errorRows } from './errorRows.js';
export { type EstimateGroup, errorsFigure } from './errorsFigure.js';
export { type Errors, errorsOf } from './errorsOf.js';
export { displayReadings, type FrozenDisplay, frozenRows } from './frozenRows.js';
export { intervalsFigure } from './intervalsFigure.js';
export { type Estimate, lapEstimate, lapLogs, studentFactor } from './lapEstimate.js';
export {
  type DecidedLap,
  keepAll,
  type LeaveOutRule,
  withoutBeyond,
  withoutFirst,
  withoutFurthest,
  withoutNoted,
} from './leaveOut.js';
export { metersFigure, type NamedPairs } from './metersFigure.js';
export { modelEstimate } from './modelEstimate.js';
export { narrowest } from './narrowest.js';
export { type DriftingSource, ordersFigure, type PowerSeen, powerSeen } from './ordersFigure.js';
export { pairsOverRange, percentDifferences, type RangePlan } from './pairsOverRange.js';
export { type LapPart, partAfter, partsFigure, togetherAfter } from './partsFigure.js';
export { predictionSentence } from './predictionSentence.js';
export { rangeFigure } from './rangeFigure.js';
export { type RangeFigures, rangeStudy, type Spread } from './rangeStudy.js';
export { repeatSeries } from './repeatSeries.js';
export { type NamedRule, type RuleCoverage, ruleCoverage } from './ruleCoverage.js';
export { rulesFigure } from './rulesFigure.js';
export { runningErrors, runningMeansFigure } from './runningMeansFigure.js';
export { sequenceRows, stepsLeft } from './sequenceRows.js';
export { type StayingErrors, workshops } from './workshops.js';
