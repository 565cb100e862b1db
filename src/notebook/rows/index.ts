export { budgetRows } from './budgetRows.js';
export { agreementRows, differenceRows } from './differenceRows.js';
export { exclusionEffectRows, exclusionRows, flagRows } from './exclusionRows.js';
export { factorRows, seriesFactorRows } from './factorRows.js';
export { hazardRows } from './hazardRows.js';
export { seriesRows } from './seriesRows.js';
