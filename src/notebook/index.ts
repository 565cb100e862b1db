export type { Figure } from '../figures/index.js';
export {
  agreementFigure,
  beforeAfterFigure,
  budgetFigure,
  envelopeFigure,
  factorsFigure,
  hazardFigure,
  lapsFigure,
  leftOutFigure,
  type NamedPlan,
  opinionFigure,
  type PlannedWidth,
  planFigure,
  plannedWidths,
  powerFigure,
  reChecksFigure,
  runsFigure,
  type TraceFit,
  traceFigure,
  type UnitsShown,
  unitsFigure,
} from '../figures/index.js';
export { type LapPoint, lapPoints } from '../figures/laps.js';
export { appendixPage } from '../report/appendixPage.js';
export { type ReportPageInput, reportPage } from '../report/reportPage.js';
export { reCheckScenarios, unitScenarios } from '../simulate/comparisonScenarios.js';
export {
  show,
  showFinding,
  showHtml,
  showMarkdown,
  showRecord,
  showSentences,
  showTable,
} from './display.js';
export * as findings from './findings.js';
export { frameOf, frameRows, showFrame } from './frames.js';
export { runNotebook } from './headless.js';
export {
  hiddenFactor,
  type InventedComparison,
  inventedComparison,
  inventedDemo,
  onlyTruth,
  type TrueFactor,
} from './invented.js';
export * as lessons from './lessons/index.js';
export {
  asNewRows,
  type ChangeParts,
  changeParts,
  changePartsRows,
  chartLimitRows,
  checkByCheckRows,
  correctedRows,
  designRows,
  envelopeRows,
  factorEntryRows,
  orderRows,
  readingBudgetRows,
  scoreByUncertaintyRows,
  scoreRows,
  statedOpinionRows,
  supportRows,
  threeInstrumentRows,
  timeConstantRows,
  traceFitRows,
  twoInstrumentRows,
  unitByUnitRows,
  unitRows,
  waitingRows,
} from './rows/index.js';
export {
  type AnswerCheck,
  type AnswerValue,
  type ComparedPair,
  changeSentences,
  checkAnswer,
  correctionSentences,
  extrapolationSentences,
  furtherUnitSentences,
  labelSentences,
  lagOf,
  lagSentences,
  meansSentences,
  opinionSentences,
  pairFarthestApart,
  powerSentences,
  type ReadAnswer,
  readAnswer,
  readingsAt,
  reCheckSentences,
  recordSentences,
  type Slip,
  studySentences,
  type TypedAnswer,
  thenAndNowSentences,
  unitSentences,
  unstatedSentences,
} from './sentences/index.js';
export { type TableColumn, type TableRow, tableHtml } from './tableHtml.js';
export { versions } from './versions.js';
export { type WrittenRunSheet, writeRunSheet } from './writeRunSheet.js';
