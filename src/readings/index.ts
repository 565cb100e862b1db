export { type FilterState, filterState, transmissionAt } from './behindFilter.js';
export { type CalibrationAt, calibrationAt, meterAt, yearsSince } from './certificate.js';
export { type Gain, gainAt } from './lacking.js';
export { type OneKind, oneKindOfReading } from './oneKind.js';
export type { SettingState, SettingStates } from './settings.js';
export type { SettlingState } from './settled.js';
export type { ZeroState, ZeroStates } from './zeros.js';
