/** The contributions to a wavelength's factor that do not come from the scatter of its series. */

import { percent as percentOf, significant } from '../findings/formatNumber.js';
import { calibrationAt, statedRelative, yearsSince } from '../readings/certificate.js';
import type { SettingState } from '../readings/settings.js';
import type { SettlingState } from '../readings/settled.js';
import { mean } from '../statistics/summary.js';
import type { Meter, MeterRole, SettingResult, StudyRecord } from '../vocabulary.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import {
  type Collected,
  collect,
  lacking,
  limits,
  NOTHING,
  only,
  rectangular,
  scattered,
} from './collected.js';

/** Name of the contribution that all wavelengths share. */
export const REFERENCE_CALIBRATION = 'calibration of the reference';

/** Half-width of the range the wavelength of a source may lie in, nm (common practice, no source). */
export const SOURCE_WAVELENGTH_NM = 5;

/** U ÷ k of the reference's certificate, at the wavelength where it says so; missing where none is stated. */
export function calibration(reference: Meter, nm: number): Collected {
  const at = calibrationAt(reference, nm);
  const u = statedRelative(at);
  const silent = at.silent
    ? lacking(
        'calibration',
        `certificate of the reference: it says nothing of ${nm} nm; what is stated of the meter as a whole counts there`,
      )
    : NOTHING;
  if (u === null) {
    return collect([
      silent,
      lacking(
        'calibration',
        'calibration of the reference: no uncertainty is stated, so the factor is relative to this reference only',
      ),
    ]);
  }
  return collect([
    silent,
    only({
      name: REFERENCE_CALIBRATION,
      kind: 'calibration',
      relative_standard_uncertainty: u,
      dof: KNOWN_EXACTLY,
      type: 'B',
      shape: 'normal',
      note: `U = ${at.expanded_uncertainty_percent} % with k = ${at.coverage_factor}, as stated`,
    }),
    limits(
      'other',
      'certificate between its wavelengths',
      at.between,
      `its corrections on either side of ${nm} nm differ by ${percentOf(2 * at.between)}`,
    ),
  ]);
}

/** What the reference may have done since its calibration, and over its range: limits as stated. */
export function referenceLimits(
  { linearity_percent, drift_percent_per_year, certificate }: Meter,
  record: StudyRecord,
): Collected {
  const years = yearsSince(certificate, record);
  const linearity = 'linearity of the reference';
  const drift = 'drift of the reference since its calibration';
  return collect([
    linearity_percent === null
      ? lacking('other', `${linearity}: not stated`)
      : limits('other', linearity, linearity_percent / 100, `± ${linearity_percent} %, as stated`),
    drift_percent_per_year === null
      ? lacking('ageing', `${drift}: not stated`)
      : years === null
        ? lacking(
            'ageing',
            `${drift}: ± ${drift_percent_per_year} % a year, and how long ago that was is not stated (record.date and certificate.issued)`,
          )
        : limits(
            'ageing',
            drift,
            (drift_percent_per_year / 100) * years,
            `± ${drift_percent_per_year} % a year over ${significant(years, 2)} years`,
          ),
  ]);
}

/** What the step of a display leaves after averaging (root sum of squares over the series). */
export function resolution(meter: MeterRole, relative: number, step_mW: number | null): Collected {
  if (step_mW === null) {
    return lacking('resolution', `display step of the ${meter}: not stated`);
  }
  const note = `step ${step_mW} mW; the part of the rounding that does not average out over the runs`;
  return only(rectangular('resolution', `resolution of the ${meter}'s display`, relative, note));
}

/** What is known of a meter's zero in one series. */
export interface ZeroUse {
  /** Part of its runs whose zero was written down. */
  readonly recorded: number;
  /** How far an unrecorded zero may lie off, mW; `null` where no zero was ever recorded. */
  readonly open_mW: number | null;
  /** Lowest indication of the meter in the series, mW. */
  readonly level_mW: number;
}

/**
 * A zero that was subtracted is known to half a display step at best (rectangular), and one rounding
 * is common to all runs. Where rows lack it, it may lie as far off as the meter's other zeros show.
 */
export function zero(
  meter: MeterRole,
  step_mW: number | null,
  series: readonly ZeroUse[],
): Collected {
  const level = Math.min(...series.map((one) => one.level_mW));
  const never = series.some((one) => one.recorded < 1 && one.open_mW === null);
  const open = mean(series.map((one) => (one.open_mW ?? 0) / one.level_mW));
  return collect([
    limits(
      'zero',
      `zero of the ${meter}, where not recorded`,
      open,
      `not recorded for every run; the zeros that the meter showed leave ± ${percentOf(open)} open`,
    ),
    step_mW === null
      ? lacking('zero', `zero of the ${meter}: the display step is not known`)
      : never
        ? lacking(
            'zero',
            `zero of the ${meter}: never recorded; each display step of offset would be ${percentOf(step_mW / level)}`,
          )
        : limits(
            'zero',
            `zero of the ${meter}`,
            step_mW / 2 / level,
            `subtracted zero known to half a step of ${step_mW} mW`,
          ),
  ]);
}

/** The settings under which a meter stood during the runs of a wavelength. */
export interface SettingUse {
  readonly meter: Meter;
  readonly wavelength_nm: number;
  readonly series: readonly SettingState[];
}

/**
 * What the wavelength setting may be off: the measured change per nm times the distance between the
 * setting and where the source's wavelength may lie, as a rectangle; and the measured ratio, where
 * readings under another setting were brought to the right one by it.
 */
export function setting(use: SettingUse, measured: readonly SettingResult[]): Collected {
  const { meter, wavelength_nm } = use;
  const settings = use.series.flatMap((one) => one.effective_nm);
  if (meter.wavelength_setting === false) return NOTHING;
  if (meter.wavelength_setting === null && settings.every((nm) => nm === null)) return NOTHING;
  const name = `wavelength setting of the ${meter.role}`;
  const own = measured.filter((one) => one.meter === meter.role && one.ratio !== null);
  const isWrong = use.series.some(
    ({ status }) => status === 'wrong' || (status === 'near' && own.length === 0),
  );
  const wrong = isWrong
    ? lacking(
        'setting',
        `${name}: set to another wavelength than the source's in some runs, and what that is worth was not measured`,
      )
    : NOTHING;
  if (settings.some((nm) => nm === null)) {
    return collect([wrong, lacking('setting', `${name}: not recorded for every run`)]);
  }
  if (own.length === 0) {
    return isWrong
      ? wrong
      : lacking(
          'setting',
          `${name}: what a setting is worth was not measured (a series under two settings tells)`,
        );
  }
  return collect([
    changeOfSetting(name, wavelength_nm, settings as readonly number[], own),
    measuredRatio(name, use.series),
    wrong,
  ]);
}

/** The steepest change seen counts: between other wavelengths it may be different again. */
function changeOfSetting(
  name: string,
  wavelength_nm: number,
  settings: readonly number[],
  measured: readonly SettingResult[],
): Collected {
  const perNm = Math.max(
    ...measured.map((one) => {
      const [low, high] = [Math.log(one.low as number), Math.log(one.high as number)];
      return Math.max(Math.abs(low), Math.abs(high)) / Math.abs(one.to_nm - one.from_nm);
    }),
  );
  const distance =
    Math.max(...settings.map((nm) => Math.abs(nm - wavelength_nm))) + SOURCE_WAVELENGTH_NM;
  return only(
    rectangular(
      'setting',
      name,
      (perNm * distance) / Math.sqrt(3),
      `at most ${percentOf(perNm)} per nm as measured, over ${distance} nm (setting against ${wavelength_nm} ± ${SOURCE_WAVELENGTH_NM} nm)`,
    ),
  );
}

/** One ratio serves all series that it brought, so it does not average out among them. */
function measuredRatio(name: string, series: readonly SettingState[]): Collected {
  const ratios = series.flatMap((one) => one.ratio ?? []);
  if (ratios.length === 0) return NOTHING;
  const largest = Math.max(...ratios.map((ratio) => ratio.standardUncertainty));
  return only(
    scattered(
      'setting',
      `${name}, measured ratio`,
      {
        standardUncertainty: (largest * ratios.length) / series.length,
        dof: Math.min(...ratios.map((ratio) => ratio.dof)),
      },
      'readings under another setting were brought to the right one by the measured ratio',
    ),
  );
}

export function settling({ lag, unsettled, note, missing }: SettlingState): Collected {
  const part = (name: string, u: number | null, why: string): Collected =>
    u === null ? NOTHING : only(rectangular('settling', name, u, why));
  return collect([
    ...missing.map((text) => lacking('settling', text)),
    part('lag of the sensors on a drooping source', lag, note),
    part(
      'settling of the sensors',
      unsettled,
      'correction for what both readings still lack at the reading time (time constants, ± 1 s)',
    ),
  ]);
}
