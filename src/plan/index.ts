export type { ComparisonDesign, ComparisonDesignOptions } from './comparisonDesign.js';
export { comparisonDesign } from './comparisonDesign.js';
export type { DesignUncertainty, PlannedSeries } from './designUncertainty.js';
export { designUncertainty } from './designUncertainty.js';
export type {
  LapsNeeded,
  LapsNeededOptions,
  LapsToShowBias,
  LapsToShowBiasOptions,
} from './lapsNeeded.js';
export { biasPower, lapsNeeded, lapsToShowBias } from './lapsNeeded.js';
export type { ResolutionNote, ResolutionNoteOptions } from './resolutionNote.js';
export { resolutionNote } from './resolutionNote.js';
export type { Fraction, OrderRecommendation, ResidualBias } from './runOrder.js';
export {
  BLOCK_LAPS,
  contrastBias,
  RUN_ORDERS,
  recommendOrder,
  residualBias,
  residualBiasOf,
  runOrder,
  wholeBlocks,
} from './runOrder.js';
export type { PlannedRun, RunSheetOptions } from './runSheet.js';
export { plannedRuns, runSheet } from './runSheet.js';
export type { RunSheetTextOptions } from './runSheetText.js';
export { runSheetText } from './runSheetText.js';
