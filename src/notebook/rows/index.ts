export { budgetRows } from './budgetRows.js';
export { type ChangeParts, changeParts, changePartsRows } from './changePartsRows.js';
export { changeRows } from './changeRows.js';
export {
  correctedRows,
  envelopeRows,
  factorEntryRows,
  readingBudgetRows,
} from './correctedRows.js';
export { agreementRows, differenceRows } from './differenceRows.js';
export { exclusionEffectRows, exclusionRows, flagRows } from './exclusionRows.js';
export { factorRows, seriesFactorRows } from './factorRows.js';
export { hazardRows } from './hazardRows.js';
export { levelRows } from './levelRows.js';
export { opinionRows } from './opinionRows.js';
export { designRows, orderRows } from './planRows.js';
export { powerRows } from './powerRows.js';
export { chartLimitRows, checkByCheckRows, reCheckRows } from './reCheckRows.js';
export { threeInstrumentRows, twoInstrumentRows } from './scatterRows.js';
export { scoreRows, statedOpinionRows, supportRows } from './secondOpinionRows.js';
export { seriesRows } from './seriesRows.js';
export { timeConstantRows, traceFitRows, waitingRows } from './settlingRows.js';
export { unitByUnitRows, unitRows } from './unitRows.js';
export { asNewRows, scoreByUncertaintyRows } from './whatIfRows.js';
