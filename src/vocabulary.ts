/**
 * The words of the trade as types. One word, one meaning, everywhere.
 *
 * Power is in mW, wavelength in nm, time in s. Relative quantities are fractions, except in fields
 * whose name ends in `percent`. Terms follow the VIM (JCGM 200) and the GUM (JCGM 100).
 */
export * from './vocabulary/agreement.js';
export * from './vocabulary/changes.js';
export * from './vocabulary/factors.js';
export * from './vocabulary/hazard.js';
export * from './vocabulary/opinions.js';
export * from './vocabulary/power.js';
export * from './vocabulary/result.js';
export * from './vocabulary/series.js';
export * from './vocabulary/study.js';
export * from './vocabulary/suspects.js';
export * from './vocabulary/wavelengths.js';
