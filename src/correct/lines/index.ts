export { type CommonBend, commonBend } from './commonBend.js';
export { type Curvature, curvature } from './curvature.js';
export { type DemingLine, type DemingUncertainty, demingLine } from './demingLine.js';
export {
  type GainOrOffset,
  gainOrGainAndOffset,
  type MeterReadings,
} from './gainOrGainAndOffset.js';
export { inverseOnLine, type LineInverse } from './inverseOnLine.js';
export {
  type LeaveOneSeriesOut,
  type LeftOutSeries,
  leaveOneSeriesOut,
  type SeriesMeans,
  type SeriesPrediction,
} from './leaveOneSeriesOut.js';
export type { Line, LineCoefficient, LineMethod, LinePoints } from './line.js';
export { ordinaryLine } from './ordinaryLine.js';
export {
  type CusumLinearity,
  type PassingBablokLine,
  passingBablokLine,
} from './passingBablokLine.js';
export { type LinePrediction, predictOnLine } from './predictOnLine.js';
export { type TheilSenLine, theilSenLine } from './theilSenLine.js';
export { type GoodnessOfFit, type UncertaintyScale, weightedLine } from './weightedLine.js';
export { type YorkLine, type YorkPoints, yorkLine } from './yorkLine.js';
