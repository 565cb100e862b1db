export { balancedExclusions, runsWithout } from './balanced.js';
export {
  COLD_START_CERTAIN,
  COLD_START_SUSPECTED,
  type ColdStarts,
  coldStarts,
} from './coldStarts.js';
export { type ColdStartTest, coldStartTest } from './coldStartTest.js';
export { declaredExclusions } from './declared.js';
export { groupOf } from './groupOf.js';
export { outlierFlags } from './outliers.js';
