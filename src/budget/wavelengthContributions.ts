/** The contributions to a wavelength's factor that do not come from the scatter of its series. */
import { percent as percentOf } from '../statistics/digits.js';
import type { Interval, Meter, MeterRole, SettingResult } from '../vocabulary.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import type { ContributionInput } from './combine.js';

export interface ShapedInput extends ContributionInput {
  readonly shape: 'normal' | 'student' | 'rectangular';
}

/** Contributions, and what could not become one because nobody recorded it. */
export interface Collected {
  readonly inputs: readonly ShapedInput[];
  readonly missing: readonly string[];
}

/** Name of the contribution that all wavelengths share. */
export const REFERENCE_CALIBRATION = 'calibration of the reference';

/** Half-width of the range the wavelength of a source may lie in, nm (common practice, no source). */
export const SOURCE_WAVELENGTH_NM = 5;

/** U ÷ k of the reference's certificate; missing where none is stated. */
export function calibration(reference: Meter): Collected {
  const percent = reference.expanded_uncertainty_percent;
  if (percent === null) {
    return {
      inputs: [],
      missing: [
        'calibration of the reference: no uncertainty is stated, so the factor is relative to this reference only',
      ],
    };
  }
  return one({
    name: REFERENCE_CALIBRATION,
    relative_standard_uncertainty: percent / 100 / reference.coverage_factor,
    dof: KNOWN_EXACTLY,
    type: 'B',
    shape: 'normal',
    note: `U = ${percent} % with k = ${reference.coverage_factor}, as stated`,
  });
}

/** What the step of a display leaves after averaging (root sum of squares over the series). */
export function resolution(meter: MeterRole, relative: number, step_mW: number | null): Collected {
  if (step_mW === null) {
    return { inputs: [], missing: [`display step of the ${meter}: not stated`] };
  }
  return one({
    name: `resolution of the ${meter}'s display`,
    relative_standard_uncertainty: relative,
    dof: KNOWN_EXACTLY,
    type: 'B',
    shape: 'rectangular',
    note: `step ${step_mW} mW; the part of the rounding that does not average out over the runs`,
  });
}

/**
 * The zero that was subtracted is known to half a display step at best (rectangular), and one
 * rounding is common to all runs.
 */
export function zero(
  meter: MeterRole,
  recorded: boolean,
  step_mW: number | null,
  level_mW: number,
): Collected {
  if (step_mW === null) {
    return { inputs: [], missing: [`zero of the ${meter}: the display step is not known`] };
  }
  const half = step_mW / 2 / level_mW;
  if (!recorded) {
    return {
      inputs: [],
      missing: [
        `zero of the ${meter}: not recorded for every run; each display step of offset would be ${percentOf(2 * half)}`,
      ],
    };
  }
  return one({
    name: `zero of the ${meter}`,
    relative_standard_uncertainty: half / Math.sqrt(3),
    dof: KNOWN_EXACTLY,
    type: 'B',
    shape: 'rectangular',
    note: `subtracted zero known to half a step of ${step_mW} mW`,
  });
}

/** The settings under which a meter stood during the runs of a wavelength. */
export interface SettingUse {
  readonly meter: Meter;
  readonly wavelength_nm: number;
  /** One entry per run, `null` where it was not recorded. */
  readonly settings_nm: readonly (number | null)[];
}

/**
 * What the wavelength setting may be off: the measured change per nm times the distance between the
 * setting and where the source's wavelength may lie, as a rectangle.
 */
export function setting(use: SettingUse, measured: readonly SettingResult[]): Collected {
  const { meter, wavelength_nm } = use;
  if (meter.wavelength_setting === false) return { inputs: [], missing: [] };
  if (meter.wavelength_setting === null && use.settings_nm.every((nm) => nm === null)) {
    return { inputs: [], missing: [] };
  }
  const name = `wavelength setting of the ${meter.role}`;
  if (use.settings_nm.some((nm) => nm === null)) {
    return { inputs: [], missing: [`${name}: not recorded for every run`] };
  }
  const own = measured.filter((one) => one.meter === meter.role && one.ratio !== null);
  if (own.length === 0) {
    return {
      inputs: [],
      missing: [
        `${name}: what a setting is worth was not measured (a series under two settings tells)`,
      ],
    };
  }
  // The steepest change seen counts: between other wavelengths it may be different again.
  const perNm = Math.max(
    ...own.map((one) => {
      const [low, high] = [Math.log(one.low as number), Math.log(one.high as number)];
      return Math.max(Math.abs(low), Math.abs(high)) / Math.abs(one.to_nm - one.from_nm);
    }),
  );
  const distance =
    Math.max(...use.settings_nm.map((nm) => Math.abs((nm as number) - wavelength_nm))) +
    SOURCE_WAVELENGTH_NM;
  return one({
    name,
    relative_standard_uncertainty: (perNm * distance) / Math.sqrt(3),
    dof: KNOWN_EXACTLY,
    type: 'B',
    shape: 'rectangular',
    note: `at most ${percentOf(perNm)} per nm as measured, over ${distance} nm (setting against ${wavelength_nm} ± ${SOURCE_WAVELENGTH_NM} nm)`,
  });
}

/** Lag of sensors on a source that droops while it is on, and unsettled readings. */
export interface SettlingState {
  /** Relative standard uncertainty of the lag correction; `null` where it is not known. */
  readonly lag: number | null;
  /** Relative standard uncertainty of the correction to settled readings; `null` where not known. */
  readonly unsettled: number | null;
  readonly note: string;
}

export function settling(state: SettlingState): Collected {
  const inputs: ShapedInput[] = [];
  const missing: string[] = [];
  if (state.lag === null && state.unsettled === null) missing.push(state.note);
  if (state.lag !== null) {
    inputs.push({
      name: 'lag of the sensors on a drooping source',
      relative_standard_uncertainty: state.lag,
      dof: KNOWN_EXACTLY,
      type: 'B',
      shape: 'rectangular',
      note: state.note,
    });
  }
  if (state.unsettled !== null) {
    inputs.push({
      name: 'settling of the sensors',
      relative_standard_uncertainty: state.unsettled,
      dof: KNOWN_EXACTLY,
      type: 'B',
      shape: 'rectangular',
      note: 'correction for what both readings still lack at the reading time (time constants, ± 1 s)',
    });
  }
  return { inputs, missing };
}

/** Puts collections together. */
export function collect(parts: readonly Collected[]): Collected {
  return {
    inputs: parts.flatMap((part) => part.inputs),
    missing: parts.flatMap((part) => part.missing),
  };
}

function one(input: ShapedInput): Collected {
  return { inputs: [input], missing: [] };
}

/** Smallest interval that holds all the given ones; `null` for none. */
export function hull(ranges: readonly (Interval | null)[]): Interval | null {
  const all = ranges.filter((range) => range !== null);
  if (all.length === 0) return null;
  return [Math.min(...all.map(([low]) => low)), Math.max(...all.map(([, high]) => high))];
}
