export type {
  EmissionLimit,
  EmissionLimitOptions,
  EmissionLimits,
} from './accessibleEmissionLimits.js';
export { accessibleEmissionLimits, CLASS_3B_MAX_MW } from './accessibleEmissionLimits.js';
export { atWavelength } from './atWavelength.js';
export type {
  ChartPoint,
  ControlChartInput,
  ControlChartResult,
} from './controlChart.js';
export { controlChart, FEWEST_FOR_SCATTER } from './controlChart.js';
export type { EyewearInput, EyewearResult } from './eyewear.js';
export { opticalDensityNeeded, VISIBLE_MPE_W_M2 } from './eyewear.js';
export type { HazardJudgement } from './hazard.js';
export { HAZARD_CAUTION, judgeHazard } from './hazard.js';
export type { HazardInput, HazardReading, MeasuredElsewhere } from './hazardInput.js';
export {
  LEAST_HAZARD_CONFIDENCE,
  leastCoverage,
  UNSTATED_EXPANDED_UNCERTAINTY,
  WAVELENGTH_TOLERANCE_NM,
} from './hazardInput.js';
export type { LabelClass } from './labelClass.js';
export { CLASS_ORDER, classRank, parseLabelClass } from './labelClass.js';
export type {
  AsNewInput,
  AsNewResult,
  ScoreInput,
  ScoreResult,
  StatedPower,
  WhichMeterInput,
  WhichMeterResult,
} from './secondOpinion.js';
export {
  agreementScore,
  asNewBound,
  TAKEN_AS_INDEPENDENT,
  whichMeterIsRight,
} from './secondOpinion.js';
export type { SeveralUnitsInput, SeveralUnitsResult, UnitFactor } from './severalUnits.js';
export { predictionInterval, severalUnits } from './severalUnits.js';
export {
  commonToAll,
  type SharedReference,
  type StatedReference,
  sameName,
  sharedReference,
  statedReference,
} from './sharedReference.js';
export type { ThenAndNowInput, ThenAndNowResult } from './thenAndNow.js';
export { thenAndNow } from './thenAndNow.js';
export type { InstrumentPrecision, PrecisionInput, PrecisionResult } from './threeInstruments.js';
export { separatePrecision } from './threeInstruments.js';
export type {
  SeriesJudgement,
  SeriesVerdictInput,
  WavelengthJudgement,
  WavelengthVerdictInput,
} from './tolerance.js';
export { MOST_LAPS, seriesVerdict, wavelengthVerdict } from './tolerance.js';
export { unitFactors } from './unitFactors.js';
export { type DatedFactor, withoutCommon } from './withoutCommon.js';
