/** Wavelength settings: readings under a wrong one, and what a measured ratio makes of them. */

import { eachMeter, METERS, runsOn } from '../record/meters.js';
import type { Part } from '../statistics/combineIndependent.js';
import type { MeterRole, Run, Series, SettingResult, Study, Warning } from '../vocabulary.js';

/** A setting this near the wavelength of the source is the right one (half its nominal spread), nm. */
const RIGHT_NM = 5;
/** Beyond this distance nobody can say what a setting is worth unless it was measured, nm (common practice, no source). */
const WRONG_NM = 10;

/** What the settings of one meter in one series come to. */
export interface SettingState {
  /**
   * `right`: at the source's wavelength, or the meter has no setting; `near`: off by more than 5 nm;
   * `brought`: off, and brought to the right one by a measured ratio; `wrong`: off by more than 10 nm
   * and not measured: these readings are of no known kind.
   */
  readonly status: 'right' | 'near' | 'brought' | 'wrong' | 'not-recorded';
  /** Settings that the readings hold for, one entry a run; `null` where none was recorded. */
  readonly effective_nm: readonly (number | null)[];
  /** Of the measured ratio, where one was used. */
  readonly ratio: Part | null;
}

export type SettingStates = ReadonlyMap<string, Readonly<Record<MeterRole, SettingState>>>;

/** @param measured what settings are worth, from series of one meter under two of them */
export function atOwnSetting(
  study: Study,
  measured: readonly SettingResult[],
): {
  readonly study: Study;
  readonly states: SettingStates;
  readonly warnings: readonly Warning[];
} {
  const brought = study.series.map((series) => bring(study, series, measured));
  return {
    study: { ...study, series: brought.map(({ series }) => series) },
    states: new Map(brought.map(({ series, states }) => [series.id, states])),
    warnings: [
      ...METERS.flatMap((meter) => contradicted(study, meter)),
      ...brought.flatMap(({ series, states }) =>
        series.kind === 'setting'
          ? []
          : METERS.flatMap((meter) => warningOf(series, meter, states[meter])),
      ),
    ],
  };
}

/** Settings of a meter of which study.json says that it has none. */
function contradicted(study: Study, meter: MeterRole): readonly Warning[] {
  if (study[meter].wavelength_setting !== false) return [];
  const settings = study.series.flatMap(({ runs }) =>
    runsOn(runs, meter).flatMap((run) => run.setting_nm ?? []),
  );
  if (settings.length === 0) return [];
  return [
    {
      code: 'setting-contradicted',
      message: `study.json says that the ${meter} has no wavelength setting (wavelength_setting: false), and runs.csv says that it was set to ${[...new Set(settings)].join(', ')} nm: one of them is wrong. The settings were not looked at; where they are true and off, the factors are wrong.`,
    },
  ];
}

function bring(study: Study, series: Series, measured: readonly SettingResult[]) {
  const runs = series.runs.map((run) => ({ run, to: target(study, series, run, measured) }));
  const stateOf = (meter: MeterRole): SettingState => {
    const own = runs.filter(({ run }) => run.meter === meter);
    const has = study[meter].wavelength_setting !== false;
    const recorded = own.filter(({ run }) => run.setting_nm !== null);
    const status =
      !has || own.length === 0
        ? 'right'
        : recorded.length === 0
          ? 'not-recorded'
          : worst(own.map(({ to }) => to.status));
    const used = own.map(({ to }) => to.ratio).find((ratio) => ratio !== null) ?? null;
    return {
      status,
      effective_nm: own.map(({ to }) => to.effective_nm),
      ratio:
        used === null || used.relative_standard_uncertainty === null
          ? null
          : {
              standardUncertainty: used.relative_standard_uncertainty,
              dof: used.dof ?? 1,
            },
    };
  };
  return {
    series: { ...series, runs: runs.map(({ run, to }) => scaled(run, to.factor)) },
    states: eachMeter(stateOf),
  };
}

interface Target {
  readonly status: SettingState['status'];
  /** What the reading is multiplied by. */
  readonly factor: number;
  readonly effective_nm: number | null;
  readonly ratio: SettingResult | null;
}

function target(
  study: Study,
  series: Series,
  run: Run,
  measured: readonly SettingResult[],
): Target {
  const { setting_nm: nm } = run;
  const as = (status: SettingState['status']): Target => ({
    status,
    factor: 1,
    effective_nm: nm,
    ratio: null,
  });
  if (nm === null || study[run.meter].wavelength_setting === false) return as('right');
  const off = Math.abs(nm - series.wavelength_nm);
  if (off <= RIGHT_NM) return as('right');
  const ratio = measured.find(
    (one) =>
      one.meter === run.meter &&
      one.ratio !== null &&
      Math.abs(one.wavelength_nm - series.wavelength_nm) <= RIGHT_NM &&
      [one.from_nm, one.to_nm].includes(nm) &&
      Math.abs(other(one, nm) - series.wavelength_nm) <= RIGHT_NM,
  );
  if (ratio === undefined || ratio.ratio === null) return as(off > WRONG_NM ? 'wrong' : 'near');
  // `ratio` is the reading at `to_nm` over that at `from_nm`.
  return {
    status: 'brought',
    factor: ratio.to_nm === nm ? 1 / ratio.ratio : ratio.ratio,
    effective_nm: other(ratio, nm),
    ratio,
  };
}

const other = (one: SettingResult, nm: number) => (one.from_nm === nm ? one.to_nm : one.from_nm);

const ORDER = ['right', 'not-recorded', 'brought', 'near', 'wrong'] as const;
const worst = (all: readonly SettingState['status'][]) =>
  ORDER[Math.max(...all.map((one) => ORDER.indexOf(one)))];

/** A run with its reading and peak multiplied. */
export function scaled(run: Run, factor: number, peakFactor = factor): Run {
  if (factor === 1 && peakFactor === 1) return run;
  return {
    ...run,
    reading_mW: run.reading_mW * factor,
    peak_mW: run.peak_mW === null ? null : run.peak_mW * peakFactor,
    scale: run.scale * factor,
  };
}

function warningOf(series: Series, meter: MeterRole, { status }: SettingState): Warning[] {
  if (status === 'right' || status === 'not-recorded') return [];
  const settings = runsOn(series.runs, meter).flatMap((run) => run.setting_nm ?? []);
  const shown = [...new Set(settings)].filter(
    (nm) => Math.abs(nm - series.wavelength_nm) > RIGHT_NM,
  );
  const head = `In the series "${series.id}" the ${meter} was set to ${shown.join(' and ')} nm in front of a source of ${series.wavelength_nm} nm.`;
  if (status === 'brought') {
    return [
      {
        code: 'setting-brought',
        series: series.id,
        message: `${head} Its readings are brought to the right setting by the ratio that the series under two settings shows; the uncertainty holds that.`,
      },
    ];
  }
  const rest =
    status === 'wrong'
      ? 'What that does to its readings was not measured, so no factor of this wavelength can be relied on. Measure again at the right setting, or take a series of this meter under both settings on this source.'
      : 'What that does to its readings was not measured, and is in no uncertainty.';
  return [{ code: 'setting-wrong', series: series.id, message: `${head} ${rest}` }];
}
