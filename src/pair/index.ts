export { type BracketedEffect, bracketedEffect } from './bracketed.js';
export {
  type DriftModel,
  designOf,
  driftModel,
  effectUncertainty,
  effectWeights,
} from './driftModel.js';
export { keptLaps, lapPairs } from './lapPairs.js';
export { driftPerRun, orderBias } from './orderBias.js';
