/** Invented studies of known truth for the places where two parts of the method meet. */
import { analyse } from '../../src/analyse.js';
import { runOrder } from '../../src/plan/runOrder.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { laggedResponse } from '../../src/settle/laggedResponse.js';
import { seededRandom } from '../../src/statistics/random.js';
import type { MeterRole, Result, RunOrder, Study } from '../../src/vocabulary.js';

/** What one run of a series adds to what its meter shows of the power. */
export interface JointSeries {
  readonly id?: string;
  readonly source?: string;
  readonly laps?: number;
  readonly order?: RunOrder;
  /** True power at the moment of reading, mW. */
  readonly power_mW?: number;
  readonly factor?: number;
  /** Relative standard deviation of single readings; default 0.3 %. */
  readonly noise?: number;
  readonly seed?: number;
  /** Shown over power beside 1/K: lag, setting, a filter, a knock. */
  readonly gain?: (meter: MeterRole, run: number) => number;
  /** Offset of each display, mW, and the runs in which it was written down. */
  readonly zero_mW?: Readonly<Partial<Record<MeterRole, number>>>;
  readonly zeroWritten?: (meter: MeterRole, run: number) => boolean;
  /** Further cells of a run. */
  readonly cells?: (meter: MeterRole, run: number) => Readonly<Record<string, string | number>>;
  /** Peak over reading. */
  readonly peak?: (meter: MeterRole, run: number) => number | null;
  /** Only one meter, run after run. */
  readonly only?: MeterRole;
}

export interface JointStudy {
  readonly series: readonly JointSeries[];
  readonly study?: object;
  readonly reference?: object;
  readonly candidate?: object;
  readonly source?: object;
  readonly sources?: readonly object[];
  readonly traces?: string;
  readonly opinions?: readonly object[];
  /** Display step that the readings are rounded to, mW; default 0.01. */
  readonly step_mW?: number;
  /** Heading of the readings and what a mW is in it. */
  readonly unit?: readonly [heading: string, perMilliwatt: number];
}

export const TRUE_FACTOR = 1.1;
export const TRUE_POWER = 40;

/** The rows of runs.csv. */
function rows({ series, step_mW: step = 0.01, unit = ['mW', 1] }: JointStudy): string {
  const written = series.flatMap((one, place) => {
    const { laps = 8, factor = TRUE_FACTOR, power_mW = TRUE_POWER, noise = 0.003 } = one;
    const random = seededRandom(one.seed ?? 100 + place);
    const meters = runOrder(one.order ?? 'ABBA-BAAB', laps);
    return meters.map((second, i) => {
      const meter = one.only ?? second;
      const run = i + 1;
      const round = (value: number) => Math.round(value / step) * step;
      const light =
        power_mW *
        (one.gain?.(meter, run) ?? 1) *
        (meter === 'candidate' ? 1 / factor : 1) *
        (1 + noise * random.normal());
      const zero = one.zero_mW?.[meter] ?? 0;
      const peak = one.peak?.(meter, run) ?? null;
      const cell = (mW: number) => String(Number((round(mW) * unit[1]).toPrecision(12)));
      return {
        series: one.id ?? `s${place + 1}`,
        source: one.source ?? 'laser',
        meter,
        [`reading_${unit[0]}`]: cell(light + zero),
        [`peak_${unit[0]}`]: peak === null ? '' : cell(light * peak + zero),
        [`zero_${unit[0]}`]:
          one.zero_mW !== undefined && (one.zeroWritten?.(meter, run) ?? true) ? cell(zero) : '',
        started_at: 3600 * place + 60 * i,
        ...one.cells?.(meter, run),
      } as Record<string, string | number>;
    });
  });
  const columns = [...new Set(written.flatMap((row) => Object.keys(row)))];
  return [
    columns.join(','),
    ...written.map((row) => columns.map((c) => row[c] ?? '').join(',')),
  ].join('\n');
}

export function jointStudy(joint: JointStudy): Study {
  const names = [...new Set(joint.series.map((one) => one.source ?? 'laser'))];
  return parseStudy(
    {
      title: 'Joint (invented)',
      reference: {
        name: 'Meter R',
        resolution_mW: 0.01,
        expanded_uncertainty_percent: 3,
        coverage_factor: 2,
        wavelength_setting: false,
        ...joint.reference,
      },
      candidate: {
        name: 'Meter C',
        resolution_mW: 0.01,
        wavelength_setting: false,
        ...joint.candidate,
      },
      sources:
        joint.sources ??
        names.map((name) => ({
          name,
          wavelength_nm: 520,
          emission: 'continuous',
          ...joint.source,
        })),
      tolerance_percent: 5,
      ...joint.study,
    },
    {
      runs: rows(joint),
      ...(joint.traces === undefined ? {} : { traces: joint.traces }),
      ...(joint.opinions === undefined ? {} : { opinions: [...joint.opinions] }),
    },
  );
}

export const jointResult = (joint: JointStudy): Result => analyse(jointStudy(joint));

export const codes = (result: Result) => result.warnings.map((one) => one.code);

/** Time constants of the two sensors of the joints, s. */
export const TAU: Readonly<Record<MeterRole, number>> = { reference: 1.8, candidate: 6.5 };

/** Reading over power at a time after switch-on, for the two sensors. */
export const shownAt =
  (read_at_s: number, fall_per_s = 0) =>
  (meter: MeterRole): number =>
    laggedResponse({ time_s: read_at_s, time_constant_s: TAU[meter], fall_per_s }) /
    (1 - fall_per_s * read_at_s);

/** traces.csv of the first runs of a series: every second for a minute. */
export function tracesOf(options: {
  readonly series?: string;
  readonly runs: readonly (readonly [run: number, meter: MeterRole])[];
  readonly power_mW?: number;
  readonly fall_per_s?: number;
  readonly read_at_s: number;
  readonly zero_mW?: number;
  readonly spoil?: (run: number, elapsed_s: number) => number;
}): string {
  const { power_mW = TRUE_POWER, fall_per_s = 0, read_at_s, zero_mW = 0 } = options;
  const random = seededRandom(77);
  const first = power_mW / (1 - fall_per_s * read_at_s);
  const lines = options.runs.flatMap(([run, meter]) =>
    Array.from({ length: 61 }, (_, elapsed_s) => {
      const shown =
        first *
        laggedResponse({ time_s: elapsed_s, time_constant_s: TAU[meter], fall_per_s }) *
        (meter === 'candidate' ? 1 / TRUE_FACTOR : 1) *
        (1 + 0.002 * random.normal()) *
        (options.spoil?.(run, elapsed_s) ?? 1);
      return [options.series ?? 's1', run, meter, elapsed_s, (shown + zero_mW).toFixed(2)].join(
        ',',
      );
    }),
  );
  return ['series,run,meter,elapsed_s,reading_mW', ...lines].join('\n');
}
