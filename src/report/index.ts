export { escapeHtml, withoutControls } from './escape.js';
export type { ReportFigures } from './evidence.js';
export { factorsFile } from './factorsFile.js';
export type { ReportFigure } from './figureBlock.js';
export {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPower,
  formatProbability,
  formatRelative,
  NO_NUMBER,
} from './formatNumber.js';
export {
  formatUncertain,
  formatUncertainty,
  roundUncertain,
  type UncertainOptions,
} from './formatUncertain.js';
export { parseFactors } from './parseFactors.js';
export { readFactors } from './readFactors.js';
export { type ReportPageInput, reportPage } from './reportPage.js';
export { resultFile } from './resultFile.js';
export { terminalTable } from './terminalTable.js';
