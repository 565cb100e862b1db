import './plainErrors.js';

export { agreementFigure } from '../figures/agreementFigure.js';
export { beforeAfterFigure } from '../figures/beforeAfterFigure.js';
export { budgetFigure } from '../figures/budgetFigure.js';
export { envelopeFigure } from '../figures/envelopeFigure.js';
export { factorsFigure } from '../figures/factorsFigure.js';
export type { Figure } from '../figures/figure.js';
export { hazardFigure } from '../figures/hazardFigure.js';
export { type LapPoint, lapPoints } from '../figures/laps.js';
export { lapsFigure } from '../figures/lapsFigure.js';
export { leftOutFigure } from '../figures/leftOutFigure.js';
export { opinionFigure } from '../figures/opinionFigure.js';
export {
  type NamedPlan,
  type PlannedWidth,
  planFigure,
  plannedWidths,
} from '../figures/planFigure.js';
export { powerFigure } from '../figures/powerFigure.js';
export { reChecksFigure } from '../figures/reChecksFigure.js';
export { runsFigure } from '../figures/runsFigure.js';
export { traceFigure } from '../figures/traceFigure.js';
export { type UnitsShown, unitsFigure } from '../figures/unitsFigure.js';
export { thenAndNowSentences } from '../findings/changeSentences.js';
export { opinionSentences } from '../findings/opinionSentences.js';
export { reCheckSentences } from '../findings/reCheckSentences.js';
export { appendixPage } from '../report/appendixPage.js';
export { type ReportPageInput, reportPage } from '../report/reportPage.js';
export { reCheckScenarios, unitScenarios } from '../simulate/comparisonScenarios.js';
export { type CorrectedReadings, correctReadings } from './correctReadings.js';
export {
  show,
  showFinding,
  showHtml,
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
export { type ChangeParts, changeParts, changePartsRows } from './rows/changePartsRows.js';
export {
  envelopeRows,
  factorEntryRows,
  readingBetween,
  readingBudgetRows,
} from './rows/correctedRows.js';
export { designRows, orderRows } from './rows/planRows.js';
export { chartLimitRows, checkByCheckRows } from './rows/reCheckRows.js';
export { threeInstrumentRows, twoInstrumentRows } from './rows/scatterRows.js';
export { scoreRows, statedOpinionRows, supportRows } from './rows/secondOpinionRows.js';
export { traceFitRows } from './rows/settlingRows.js';
export { unitByUnitRows, unitRows } from './rows/unitRows.js';
export { asNewRows, scoreByUncertaintyRows } from './rows/whatIfRows.js';
export { recordSentences } from './sentences/recordSentences.js';
export {
  type ComparedPair,
  labelSentences,
  pairFarthestApart,
  standInSentences,
  unstatedSentences,
} from './sentences/secondOpinionSentences.js';
export { extrapolationSentences, lagOf, lagSentences } from './sentences/settlingSentences.js';
export { studySentences } from './sentences/studySentences.js';
export { furtherUnitSentences, unitSentences } from './sentences/unitSentences.js';
export { type TableRow, tableHtml } from './tableHtml.js';
export { versions } from './versions.js';
export { type WrittenPlan, writePlan } from './writePlan.js';
