export { type ChangeParts, changeParts, changePartsRows } from './changePartsRows.js';
export {
  envelopeRows,
  factorEntryRows,
  readingBetween,
  readingBudgetRows,
} from './correctedRows.js';
export { designRows, orderRows } from './planRows.js';
export { chartLimitRows, checkByCheckRows } from './reCheckRows.js';
export { threeInstrumentRows, twoInstrumentRows } from './scatterRows.js';
export { scoreRows, statedOpinionRows, supportRows } from './secondOpinionRows.js';
export { traceFitRows } from './settlingRows.js';
export { unitByUnitRows, unitRows } from './unitRows.js';
export { asNewRows, scoreByUncertaintyRows } from './whatIfRows.js';
