import './plainErrors.js';

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
  traceFigure,
  type UnitsShown,
  unitsFigure,
} from '../figures/index.js';
export { type LapPoint, lapPoints } from '../figures/laps.js';
export { appendixPage } from '../report/appendixPage.js';
export { type ReportPageInput, reportPage } from '../report/reportPage.js';
export { reCheckScenarios, unitScenarios } from '../simulate/comparisonScenarios.js';
export { type CorrectedReadings, correctReadings } from './correctReadings.js';
export {
  show,
  showFinding,
  showHtml,
  showMarkdown,
  showRecord,
  showSentences,
  showTable,
} from './display.js';
export * as exercises from './exercises/index.js';
export { factorsFrom, type OwnFactors, ownFactors } from './factorsFrom.js';
export * as findings from './findings.js';
export { type Framed, frameOf, frameRows, showFrame, toFrame } from './frames.js';
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
  designRows,
  envelopeRows,
  factorEntryRows,
  orderRows,
  readingBetween,
  readingBudgetRows,
  scoreByUncertaintyRows,
  scoreRows,
  statedOpinionRows,
  supportRows,
  threeInstrumentRows,
  traceFitRows,
  twoInstrumentRows,
  unitByUnitRows,
  unitRows,
} from './rows/index.js';
export {
  type ComparedPair,
  extrapolationSentences,
  furtherUnitSentences,
  labelSentences,
  lagOf,
  lagSentences,
  opinionSentences,
  pairFarthestApart,
  reCheckSentences,
  recordSentences,
  standInSentences,
  studySentences,
  thenAndNowSentences,
  unitSentences,
  unstatedSentences,
} from './sentences/index.js';
export { type TableColumn, type TableRow, tableHtml } from './tableHtml.js';
export { versions } from './versions.js';
export { type WrittenPlan, writePlan } from './writePlan.js';
