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
  factorsFigure,
  runsFigure,
} from './figures/index.js';
export { type LapPoint, lapPoints } from './figures/laps.js';
export { frameOf, frameRows, showFrame } from './frames.js';
export { runNotebook } from './headless.js';
export {
  agreementRows,
  budgetRows,
  differenceRows,
  exclusionEffectRows,
  exclusionRows,
  factorRows,
  flagRows,
  hazardRows,
  seriesFactorRows,
  seriesRows,
} from './rows/index.js';
export {
  driftSentences,
  hazardSentences,
  nextSentences,
  recordSentences,
  studySentences,
  verdictSentences,
  warningSentences,
} from './sentences/index.js';
export { type TableColumn, type TableRow, tableHtml } from './tableHtml.js';
export { versions } from './versions.js';
