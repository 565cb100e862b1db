export {
  show,
  showHtml,
  showMarkdown,
  showRecord,
  showSentences,
  showTable,
} from './display.js';
export type { Figure } from './figures/index.js';
export {
  agreementFigure,
  beforeAfterFigure,
  budgetFigure,
  envelopeFigure,
  factorsFigure,
  type NamedPlan,
  type PlannedWidth,
  planFigure,
  plannedWidths,
  runsFigure,
  type TraceFit,
  traceFigure,
} from './figures/index.js';
export { type LapPoint, lapPoints } from './figures/laps.js';
export { frameOf, frameRows, showFrame } from './frames.js';
export { runNotebook } from './headless.js';
export {
  agreementRows,
  budgetRows,
  changeRows,
  correctedRows,
  differenceRows,
  envelopeRows,
  exclusionEffectRows,
  exclusionRows,
  factorEntryRows,
  factorRows,
  flagRows,
  hazardRows,
  lapsRows,
  opinionRows,
  orderRows,
  powerRows,
  readingBudgetRows,
  seriesFactorRows,
  seriesRows,
  timeConstantRows,
  traceFitRows,
  waitingRows,
} from './rows/index.js';
export {
  type AnswerCheck,
  changeSentences,
  checkAnswer,
  correctionSentences,
  driftSentences,
  extrapolationSentences,
  hazardSentences,
  lagOf,
  lagSentences,
  meansSentences,
  nextSentences,
  opinionSentences,
  powerSentences,
  readingsAt,
  recordSentences,
  studySentences,
  verdictSentences,
  warningSentences,
} from './sentences/index.js';
export { type TableColumn, type TableRow, tableHtml } from './tableHtml.js';
export { versions } from './versions.js';
export { type WrittenRunSheet, writeRunSheet } from './writeRunSheet.js';
