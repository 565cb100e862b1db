export { SAME_WAVELENGTH_NM } from '../decide/atWavelength.js';
export {
  type BetweenSeries,
  type CombinedSeries,
  combineSeries,
  DEFAULT_BETWEEN_DOF,
  DEFAULT_BETWEEN_SERIES,
  PLACEMENT_SD,
  pooledBetweenSeries,
  type SeriesEstimate,
} from './combineSeries.js';
export { commonFactor, type WavelengthEstimate } from './commonFactor.js';
export { contradictsReference } from './contradictsReference.js';
export { correct } from './correct.js';
export { type DisplayStep, displayStep } from './displayStep.js';
export { type FactorFor, factorFor } from './factorFor.js';
export { FACTOR_CAUTIONS, factorsOf } from './factorsOf.js';
export * from './infraredLeak.js';
export * from './lines/index.js';
export { type NewReading, readingOf, type TakenReading } from './newReading.js';
export { type ReadingPart, readingParts } from './readingParts.js';
export { readingScatter } from './readingScatter.js';
export { saidBy } from './saidBy.js';
export {
  bracketedFactor,
  type FactorParts,
  type Resolutions,
  seriesFactor,
  WIDEST_FACTOR,
} from './seriesFactor.js';
export { settingRatios } from './settingRatio.js';
