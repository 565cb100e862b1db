export { type CombinedTimeConstant, combineTimeConstants } from './combineTimeConstants.js';
export { correctEarlyReading, type EarlyReading } from './correctEarlyReading.js';
export { detectOvershoot, type Overshoot } from './detectOvershoot.js';
export {
  fitStepResponse,
  type StepResponse,
  type StepResponseOptions,
  type StepResponseRefusal,
  type TraceEstimate,
} from './fitStepResponse.js';
export { type LagDroop, lagDroop } from './lagDroop.js';
export { laggedResponse } from './laggedResponse.js';
export { meanDrift } from './meanDrift.js';
export { missingFraction, timeToSettle } from './missingFraction.js';
export { nonlinearLeastSquares } from './nonlinearLeastSquares.js';
export type { Curve, NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';
export {
  type ThreePointExtrapolation,
  threePointExtrapolation,
} from './threePointExtrapolation.js';
