export {
  type BetweenSeries,
  CONTRADICTION,
  type CombinedSeries,
  combineSeries,
  DEFAULT_BETWEEN_DOF,
  DEFAULT_BETWEEN_SERIES,
  pooledBetweenSeries,
  type SeriesEstimate,
} from './combineSeries.js';
export { commonFactor, type WavelengthEstimate } from './commonFactor.js';
export { correct, type NewReading, SAME_WAVELENGTH_NM } from './correct.js';
export { type DisplayStep, displayStep } from './displayStep.js';
export { contradictsReference, FACTOR_CAUTIONS, factorsOf } from './factorsOf.js';
export * from './infraredLeak.js';
export * from './lines/index.js';
export { type ReadingPart, readingParts } from './readingParts.js';
export { saidBy } from './saidBy.js';
export {
  bracketedFactor,
  type FactorParts,
  type Resolutions,
  seriesFactor,
  WIDEST_FACTOR,
} from './seriesFactor.js';
export { settingRatios } from './settingRatio.js';
