/**
 * A made-up study and result for the tests of the report and the figures: five wavelengths, an
 * unsteady source that decides nothing, exclusions, a wavelength-setting series, nulls. The numbers
 * are plausible and consistent enough to look at; no test takes them for right.
 */

import { seededRandom } from '../../src/statistics/random.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import type {
  AgreementResult,
  Contribution,
  Exclusion,
  Factors,
  HazardResult,
  LimitsOfAgreement,
  OpinionResult,
  PowerBend,
  PowerDependence,
  PowerResult,
  ReChecks,
  Result,
  Run,
  Series,
  SeriesResult,
  Source,
  Study,
  ThenAndNow,
  WavelengthResult,
} from '../../src/vocabulary.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';
import { atOneLevel, levelOf, NO_RECORD, NOTHING_FURTHER } from '../fullRecords.js';

interface Plan {
  readonly id: string;
  readonly source: string;
  readonly wavelength_nm: number;
  readonly power_mW: number;
  readonly factor: number;
  readonly noise: number;
  readonly droop: number;
  readonly laps: number;
  readonly timed: boolean;
}

const SHA = '3f2a9c0d5e7b81f64a2d9e0c7b35a8f1d6e4c2b09a7f58e3d1c6b4a290f7e8d5';

const PLANS: readonly Plan[] = [
  {
    id: 'violet',
    source: 'violet marker',
    wavelength_nm: 405,
    power_mW: 83,
    factor: 1.142,
    noise: 0.006,
    droop: -0.001,
    laps: 8,
    timed: true,
  },
  {
    id: 'blue-low',
    source: 'blue module',
    wavelength_nm: 445,
    power_mW: 240,
    factor: 1.071,
    noise: 0.004,
    droop: -0.0015,
    laps: 8,
    timed: true,
  },
  {
    id: 'blue-high',
    source: 'blue module',
    wavelength_nm: 445,
    power_mW: 1480,
    factor: 1.079,
    noise: 0.005,
    droop: -0.003,
    laps: 8,
    timed: true,
  },
  {
    id: 'green',
    source: 'green diode',
    wavelength_nm: 520,
    power_mW: 46,
    factor: 1.022,
    noise: 0.008,
    droop: 0.0005,
    laps: 10,
    timed: true,
  },
  {
    id: 'green-old',
    source: 'old doubled head',
    wavelength_nm: 532,
    power_mW: 31,
    factor: 1.03,
    noise: 0.11,
    droop: -0.004,
    laps: 5,
    timed: false,
  },
  {
    id: 'red',
    source: 'red diode',
    wavelength_nm: 638,
    power_mW: 112,
    factor: 0.981,
    noise: 0.005,
    droop: -0.0008,
    laps: 10,
    timed: true,
  },
];

/** The runs of a plan: reference and candidate in turn, a cold first run, display steps. */
function seriesOf(plan: Plan, seed: number): Series {
  const random = seededRandom(seed);
  const runs: Run[] = [];
  for (let i = 0; i < plan.laps * 2; i++) {
    const meter = i % 2 === 0 ? 'reference' : 'candidate';
    const cold = i === 0 && plan.timed ? 1.06 : 1;
    const level = plan.power_mW * Math.exp(plan.droop * i + plan.noise * random.normal()) * cold;
    const step = meter === 'reference' ? 0.1 : 1;
    const shown = meter === 'reference' ? level : level / plan.factor;
    runs.push({
      run: i + 1,
      lap: Math.floor(i / 2) + 1,
      row: i + 2,
      meter,
      reading_mW: Math.round(shown / step) * step,
      peak_mW: Math.round((shown * 1.05) / step) * step,
      zero_mW: null,
      scale: 1,
      time_s: plan.timed ? 45 * i : i,
      setting_nm: null,
      exclude: plan.id === 'red' && (i === 6 || i === 7) ? 'the head was knocked' : null,
      checked: false,
      note: null,
    });
  }
  return {
    id: plan.id,
    source: plan.source,
    wavelength_nm: plan.wavelength_nm,
    runs,
    timed: plan.timed,
    kind: 'comparison',
    filter: null,
  };
}

function settingSeries(): Series {
  const random = seededRandom(99);
  return {
    id: 'red-setting',
    source: 'red diode',
    wavelength_nm: 638,
    timed: true,
    kind: 'setting',
    filter: null,
    runs: Array.from({ length: 8 }, (_, i) => ({
      run: i + 1,
      lap: null,
      row: i + 2,
      meter: 'reference' as const,
      reading_mW: 112 * (i % 2 === 0 ? 1 : 1.013) * Math.exp(0.003 * random.normal()),
      peak_mW: null,
      zero_mW: null,
      scale: 1,
      time_s: 40 * i,
      setting_nm: i % 2 === 0 ? 638 : 532,
      exclude: null,
      checked: false,
      note: null,
    })),
  };
}

const sources: readonly Source[] = [
  {
    name: 'violet marker',
    wavelength_nm: 405,
    label_class: '3R',
    label_max_mW: 5,
    emission: null,
    beam_diameter_mm: null,
  },
  {
    name: 'blue module',
    wavelength_nm: 445,
    label_class: '4',
    label_max_mW: 1600,
    emission: null,
    beam_diameter_mm: null,
  },
  {
    name: 'green diode',
    wavelength_nm: 520,
    label_class: '3R',
    label_max_mW: 5,
    emission: null,
    beam_diameter_mm: null,
  },
  {
    name: 'old doubled head',
    wavelength_nm: 532,
    label_class: null,
    label_max_mW: null,
    emission: null,
    beam_diameter_mm: null,
  },
  {
    name: 'red diode',
    wavelength_nm: 638,
    label_class: '3B',
    label_max_mW: 120,
    emission: null,
    beam_diameter_mm: null,
  },
];

/** The made-up study. */
export function exampleStudy(): Study {
  const series = [...PLANS.map((plan, i) => seriesOf(plan, i + 1)), settingSeries()];
  return {
    record: NO_RECORD,
    title: 'An invented comparison at six powers',
    reference: {
      ...NOTHING_FURTHER,
      role: 'reference',
      name: 'bench meter R',
      resolution_mW: 0.1,
      rated_max_mW: 5000,
      expanded_uncertainty_percent: 3,
      wavelength_setting: true,
    },
    candidate: {
      ...NOTHING_FURTHER,
      role: 'candidate',
      name: 'handheld meter C',
      resolution_mW: 1,
      rated_max_mW: 3000,
      wavelength_setting: false,
    },
    sources,
    filters: [],
    protocol: {
      order: 'reference-first',
      discard_first_laps: 0,
      read_at_s: 20,
      exclude_cold_starts: true,
      exclude_outliers: false,
      placement: null,
    },
    tolerance: 0.05,
    tolerance_stated: true,
    confidence: 0.95,
    limits_multiplier: 1.96,
    between_series: null,
    layout: 'tidy',
    series,
    traces: [],
    opinions: [
      {
        source: 'red diode',
        kind: 'maker',
        value_mW: 120,
        expanded_uncertainty_mW: null,
        coverage_factor: null,
        date: '2021-03',
        note: 'as new',
      },
    ],
    data_sha256: SHA,
    readings_sha256: SHA,
    warnings: [],
  };
}

function exclusionsOf(series: Series): readonly Exclusion[] {
  return [
    ...series.runs
      .filter((run) => run.exclude !== null)
      .map(
        (run): Exclusion => ({
          run: run.run,
          meter: run.meter,
          kind: 'declared',
          reason: run.exclude ?? '',
        }),
      ),
    ...series.runs
      .filter((run) => series.timed && run.lap === 1)
      .map(
        (run): Exclusion => ({
          run: run.run,
          meter: run.meter,
          kind: 'cold-start',
          reason: 'the first lap lies outside the prediction of the rest (p = 0.002)',
        }),
      ),
  ];
}

function seriesResult(series: Series, plan: Plan): SeriesResult {
  const excluded = exclusionsOf(series);
  const out = new Set(excluded.map((one) => one.run));
  const laps = Array.from({ length: plan.laps }, (_, i) => ({
    reference: series.runs[2 * i],
    candidate: series.runs[2 * i + 1],
  })).filter((lap) => !out.has(lap.reference.run) && !out.has(lap.candidate.run));
  const mW = laps.map((lap) => lap.candidate.reading_mW - lap.reference.reading_mW);
  const percent = mW.map((d, i) => (100 * d) / laps[i].reference.reading_mW);
  const logs = laps.map((lap) => Math.log(lap.reference.reading_mW / lap.candidate.reading_mW));
  const u = standardDeviation(logs) / Math.sqrt(logs.length);
  const value = Math.exp(mean(logs));
  const unsteady = plan.noise > 0.05;
  const candidates = laps.map((lap) => lap.candidate.reading_mW);
  const references = laps.map((lap) => lap.reference.reading_mW);
  const kinds = [...new Set(excluded.map((one) => one.kind))];
  return {
    id: series.id,
    source: series.source,
    wavelength_nm: series.wavelength_nm,
    laps: plan.laps,
    used: { reference: laps.length, candidate: laps.length },
    excluded,
    exclusion_effects: kinds.map((kind) => ({
      kind,
      runs: excluded.filter((one) => one.kind === kind).map((one) => one.run),
      factor_with: value * 1.003,
      factor_without: value,
    })),
    flagged:
      series.id === 'green'
        ? [
            {
              run: 9,
              meter: 'reference',
              test: 'generalised-esd',
              message: 'lies 3.1 standard deviations off the drift; kept, no reason is known',
            },
          ]
        : [],
    difference_mW: summary(mW),
    difference_percent: summary(percent),
    limits_mW: limits(mW),
    limits_percent: limits(percent),
    drift: {
      degree: 2,
      evident_degree: unsteady ? 0 : 1,
      percent_per_run: 100 * plan.droop,
      percent_per_run_interval: [100 * plan.droop - 0.05, 100 * plan.droop + 0.05],
      wander_percent_per_run: unsteady ? 2.3 : 0,
      order_bias_percent: unsteady ? null : 100 * plan.droop,
    },
    factor: {
      value,
      relative_standard_uncertainty: u,
      dof: logs.length - 1.4,
      low: value * Math.exp(-2.4 * u),
      high: value * Math.exp(2.4 * u),
    },
    factor_bracketed: unsteady
      ? { value: null, relative_standard_uncertainty: null, dof: null, low: null, high: null }
      : {
          value: value * 1.0006,
          relative_standard_uncertainty: u * 1.1,
          dof: logs.length - 2,
          low: value * Math.exp(-2.6 * u),
          high: value * Math.exp(2.6 * u),
        },
    repeatability: { reference: plan.noise, candidate: plan.noise * 1.1 },
    candidate_range_mW: [Math.min(...candidates), Math.max(...candidates)],
    reference_range_mW: [Math.min(...references), Math.max(...references)],
    verdict: unsteady ? 'inconclusive' : 'usable',
    further_laps: unsteady ? 21 : null,
    why: unsteady
      ? 'The interval of the factor is wider than the tolerance of ± 5 % allows; about 21 further laps, or a source four times as steady, would settle it.'
      : 'The interval of the factor is well inside the tolerance.',
  };
}

function summary(values: readonly number[]) {
  const centre = mean(values);
  const sd = standardDeviation(values);
  const half = (2.3 * sd) / Math.sqrt(values.length);
  return { mean: centre, sd, low: centre - half, high: centre + half };
}

function limits(values: readonly number[]): LimitsOfAgreement {
  const centre = mean(values);
  const sd = standardDeviation(values);
  const [low, high] = [centre - 1.96 * sd, centre + 1.96 * sd];
  const half = 1.3 * sd;
  return {
    low,
    high,
    low_interval: [low - half, low + half / 2],
    high_interval: [high - half / 2, high + half],
  };
}

function budgetOf(repeatability: number): readonly Contribution[] {
  const parts = [
    [
      'repeatability',
      'repeatability of the laps',
      repeatability,
      6.4,
      'A',
      'from the model of the series',
    ],
    [
      'calibration',
      'calibration of the reference',
      0.015,
      KNOWN_EXACTLY,
      'B',
      'stated: U = 3 %, k = 2',
    ],
    [
      'setting',
      'wavelength setting of the reference',
      0.004,
      KNOWN_EXACTLY,
      'B',
      'from series red-setting',
    ],
    [
      'resolution',
      'resolution of the reference',
      0.0003,
      KNOWN_EXACTLY,
      'B',
      '0.1 mW, rectangular',
    ],
    ['resolution', 'resolution of the candidate', 0.0029, KNOWN_EXACTLY, 'B', '1 mW, rectangular'],
    ['between-series', 'between series', 0.008, 4, 'A', 'pooled from the other wavelengths'],
  ] as const;
  const total = parts.reduce((sum, [, , u]) => sum + u * u, 0);
  return parts.map(([kind, name, u, dof, type, note]) => ({
    name,
    kind,
    relative_standard_uncertainty: u,
    dof,
    type,
    share: (u * u) / total,
    note,
  }));
}

function wavelengthResult(wavelength_nm: number, of: readonly SeriesResult[]): WavelengthResult {
  const inconclusive = of.every((one) => one.verdict === 'inconclusive');
  const budget = budgetOf(of[0].factor.relative_standard_uncertainty ?? 0.01);
  const u = Math.sqrt(budget.reduce((sum, c) => sum + c.relative_standard_uncertainty ** 2, 0));
  const factor = Math.exp(mean(of.map((one) => Math.log(one.factor.value ?? 1))));
  const ranges = of.flatMap((one) =>
    one.candidate_range_mW === null ? [] : [...one.candidate_range_mW],
  );
  const off = Math.abs(1 / factor - 1);
  return {
    wavelength_nm,
    series: of.map((one) => one.id),
    factor,
    low: factor * (1 - 2.1 * u),
    high: factor * (1 + 2.1 * u),
    dof: 38.7,
    relative_standard_uncertainty: u,
    relative_expanded_uncertainty: 2.1 * u,
    coverage_factor: 2.1,
    between_series_relative_sd: of.length > 1 ? 0.004 : null,
    next_series_relative_sd: 0.01,
    next_series_dof: 8,
    corrected_reading_relative_U: 0.04,
    budget,
    not_in_budget: ['zero of the candidate: not recorded', 'settling: no traces recorded'],
    levels: [
      levelOf({
        wavelength_nm,
        factor,
        low: factor * (1 - 2.1 * u),
        high: factor * (1 + 2.1 * u),
        relative_standard_uncertainty: u,
        dof: 38.7,
        relative_expanded_uncertainty: 2.1 * u,
        coverage_factor: 2.1,
        candidate_range_mW: [Math.min(...ranges), Math.max(...ranges)],
        reading_relative_sd: 0.006,
        reading_dof: 7,
        verdict: 'correct-it',
      }),
    ],
    by_power: {
      verdict: 'one-level',
      p: null,
      offset_mW: null,
      why: 'K was measured at one level of power.',
    },
    candidate_range_mW: [Math.min(...ranges), Math.max(...ranges)],
    verdict: inconclusive
      ? 'inconclusive'
      : off - 2.1 * u > 0.05
        ? 'correct-it'
        : off + 2.1 * u < 0.05
          ? 'within-tolerance'
          : 'not-shown',
    next_step: inconclusive
      ? 'Repeat with a steadier source: its scatter is most of the variance.'
      : 'The calibration of the reference is most of the variance: further laps would not help, a better certificate would.',
    improvement: inconclusive
      ? 'Repeat with a steadier source: its scatter is most of the variance.'
      : 'The calibration of the reference is most of the variance.',
    why: inconclusive
      ? 'The source scatters by 11 % from run to run, so the interval of the factor is wider than the tolerance of ± 5 % allows. About 21 further laps, or a source four times as steady, would settle it.'
      : 'The interval of the factor decides this against the tolerance of ± 5 %.',
  };
}

function hazards(): readonly HazardResult[] {
  const base = {
    label_max_mW: 5,
    seen_in: 'reference, peak, series "made-up", run 1',
    why: 'Whole-beam power against the limits of the class.',
  };
  return [
    {
      ...base,
      source: 'violet marker',
      wavelength_nm: 405,
      highest_mW: 92.3,
      upper_mW: 96.1,
      class: '3B',
      reading_class: '3B',
      decided: true,
      label_class: '3R',
      label_understates: true,
    },
    {
      ...base,
      source: 'blue module',
      wavelength_nm: 445,
      highest_mW: 1542,
      upper_mW: 1588,
      class: '4',
      reading_class: '4',
      decided: true,
      label_class: '4',
      label_max_mW: 1600,
      label_understates: false,
    },
    {
      ...base,
      source: 'green diode',
      wavelength_nm: 520,
      highest_mW: 4.91,
      upper_mW: 5.22,
      class: '3B',
      reading_class: '3R',
      decided: false,
      label_class: '3R',
      label_max_mW: 5,
      label_understates: true,
      why: 'The highest reading lies below 5 mW, the limit of class 3R, but its uncertainty reaches beyond.',
    },
    {
      ...base,
      source: 'old doubled head',
      wavelength_nm: 532,
      highest_mW: null,
      upper_mW: null,
      class: null,
      reading_class: null,
      decided: false,
      label_class: null,
      label_max_mW: null,
      label_understates: null,
      why: 'No factor could be given at 532 nm, and infrared was not separated, so the power is not known well enough to judge.',
    },
    {
      ...base,
      source: 'red diode',
      wavelength_nm: 638,
      highest_mW: 119,
      upper_mW: 124,
      class: '3B',
      reading_class: '3B',
      decided: true,
      label_class: '3B',
      label_max_mW: 120,
      label_understates: false,
    },
  ];
}

function agreement(series: readonly SeriesResult[]): AgreementResult {
  const percent = series.map((one) => one.difference_percent.mean ?? 0);
  const mW = series.map((one) => one.difference_mW.mean ?? 0);
  const corrected = percent.map((d) => d * 0.12);
  return {
    series: series.length,
    laps: series.reduce((sum, one) => sum + one.used.reference, 0),
    difference_mW: summary(mW),
    difference_percent: summary(percent),
    limits_mW: limits(mW),
    limits_percent: limits(percent),
    corrected_difference_percent: summary(corrected),
    corrected_limits_percent: limits(corrected),
    ratio_limits: {
      ratio: 0.948,
      low: 0.91,
      high: 0.988,
      limits: { low: 0.86, high: 1.05, low_interval: [0.79, 0.9], high_interval: [1.01, 1.14] },
      why: '',
    },
    wilcoxon: {
      series: series.length,
      p: 0.0625,
      estimate_percent: -5.2,
      low_percent: -9.9,
      high_percent: 0.4,
      achieved_confidence: 0.96875,
      why: '',
    },
    equivalence: {
      before: {
        decision: 'not-shown',
        confidence: 0.9,
        ratio: 0.948,
        low: 0.92,
        high: 0.98,
        p: 0.5,
        margins: [0.95, 1.05],
        why: 'The 90 % interval of the mean is not inside the margins.',
      },
      after: {
        decision: 'not-shown',
        confidence: 0.9,
        ratio: null,
        low: null,
        high: null,
        p: null,
        margins: [0.95, 1.05],
        why: 'Fewer than 2 differences show no scatter, so nothing can be tested.',
      },
    },
    proportional_bias: {
      slope: -0.011,
      low: -0.04,
      high: 0.018,
      p: 0.35,
      range_mW: [30, 1430],
      why: 'The series differ in wavelength as well as in power.',
    },
    against_level: {
      description: 'constant-percent',
      scale: 'percent',
      bias_change: 'not-shown',
      spread_change: 'not-computable',
      bias_slope: { value: -0.011, low: -0.04, high: 0.018, p: 0.35 },
      spread_slope: { value: -0.004, low: -0.02, high: 0.012, p: 0.5 },
      slope_of_noise: 0.0004,
      levels: (['lowest', 'middle', 'highest'] as const).map((place, i) => ({
        place,
        level_mW: [30, 98, 1430][i],
        bias: -5.2 - i,
        bias_interval: [-8.1 - i, -2.3 - i],
        low: -12 - i,
        high: 1.6 - i,
        low_interval: [-19 - i, -9 - i],
        high_interval: [-1.4 - i, 8.6 - i],
      })),
      why: 'Judged by 6 series. Whether the spread changes would need 8 series.',
    },
    concordance: {
      value: 0.991,
      low: 0.98,
      high: 0.996,
      precision: 0.999,
      accuracy: 0.992,
      why: 'A side note.',
    },
    why: 'One point per series; six series make crude limits.',
  };
}

const NO_BEND: PowerBend = {
  verdict: 'not-computable',
  at_top_percent: null,
  low_percent: null,
  high_percent: null,
  p: null,
  dof: null,
  top_mW: null,
  why: 'This needs 3 series at different powers; there are 2.',
};

/** One wavelength at two powers, the rest at one. */
function power(series: readonly SeriesResult[]): PowerResult {
  const entry = (nm: number | null, ids: readonly string[]): PowerDependence => ({
    wavelength_nm: nm,
    series: ids,
    range_mW: [83, 1480],
    bend: NO_BEND,
    bend_by_pooled_scatter: NO_BEND,
    offset: {
      verdict: 'not-computable',
      offset_mW: null,
      low_mW: null,
      high_mW: null,
      factor: null,
      p: null,
      why: 'This needs 4 series at different powers.',
    },
    prediction: {
      predicted: 0,
      rms_error_percent: null,
      uncorrected_rms_error_percent: null,
      series: ids.map((id) => ({ id, error_percent: null, why: 'No other series.' })),
      why: 'No series can be predicted from the others.',
    },
  });
  const blue = entry(445, ['blue-low', 'blue-high']);
  return {
    by_wavelength: [
      entry(405, ['violet']),
      {
        ...blue,
        bend_by_pooled_scatter: {
          verdict: 'reads-low-at-the-top',
          at_top_percent: -3.1,
          low_percent: -5.6,
          high_percent: -0.5,
          p: 0.021,
          dof: 9,
          top_mW: 1480,
          why: 'Judged by the scatter of the study.',
        },
        prediction: {
          ...blue.prediction,
          predicted: 2,
          rms_error_percent: 0.75,
          uncorrected_rms_error_percent: 7.1,
          series: blue.series.map((id) => ({ id, error_percent: 0.75, why: '' })),
          why: '',
        },
      },
    ],
    overall: entry(
      null,
      series.map((one) => one.id),
    ),
  };
}

function opinions(): OpinionResult[] {
  const compared = {
    value_mW: 112.4,
    standard_uncertainty_mW: 1.9,
    calibration_stated: true,
    difference_mW: 2.4,
    difference_percent: 2.18,
    zeta: 1.05,
    en: 0.53,
    verdict: 'agrees',
    too_high_at_least_percent: null,
    why: 'They agree within their uncertainties.',
  } as const;
  const base = {
    source: 'red diode',
    wavelength_nm: 638,
    date: '2024-03',
    value_mW: 110,
    standard_uncertainty_mW: 1.5,
    series: ['red'],
    why: 'The outside value does not decide between the meters.',
  } as const;
  return [
    {
      ...base,
      kind: 'certificate',
      comparisons: [
        { ...compared, meter: 'reference' },
        {
          ...compared,
          meter: 'candidate',
          calibration_stated: false,
          en: null,
          zeta: 2.6,
          verdict: 'questionable',
        },
      ],
      supports: 'undecided',
    },
    {
      ...base,
      kind: 'maker',
      date: null,
      standard_uncertainty_mW: null,
      comparisons: [
        { ...compared, meter: 'corrected-candidate', zeta: null, en: null, verdict: null },
      ],
      supports: 'undecided',
    },
  ];
}

function thenAndNow(): ThenAndNow {
  const moved = {
    wavelength_nm: 638,
    earlier_factor: 1.02,
    factor: 0.981,
    change_percent: -3.8,
    low_percent: -6,
    high_percent: -1.6,
    relative_standard_uncertainty: 0.011,
    dof: 19,
    verdict: 'moved',
    why: 'That is beyond both uncertainties.',
  } as const;
  const none = {
    change_percent: null,
    low_percent: null,
    high_percent: null,
    relative_standard_uncertainty: null,
    dof: null,
  };
  return {
    earlier_date: '2025-11-08',
    months_between: 12,
    earlier_title: 'Made-up readings of the year before',
    earlier_data_sha256: SHA.replaceAll('3', '4'),
    same_reference: true,
    common_relative_standard_uncertainty: 0.015,
    wavelengths: [
      moved,
      {
        ...moved,
        ...none,
        wavelength_nm: 808,
        factor: null,
        verdict: 'not-comparable',
        why: 'This study has no series at this wavelength.',
      },
    ],
    why: 'The same reference under the same stated uncertainty.',
  };
}

function reChecks(): ReChecks[] {
  const value = {
    title: 'Made-up readings of the first year',
    date: '2024-11-08',
    data_sha256: SHA.replaceAll('3', '5'),
    factor: 1.02,
    low: 1.002,
    high: 1.038,
    relative_standard_uncertainty: 0.008,
    signals: [],
    why: 'on the chart',
  };
  const { signals, factor: _, ...head } = value;
  const none = { factor: null, low: null, high: null, relative_standard_uncertainty: null };
  return [
    {
      wavelength_nm: 638,
      values: [
        value,
        { ...head, ...none, signals, why: 'The factor is that of another candidate ("Meter D").' },
        {
          ...value,
          title: 'Made-up readings of the year before',
          date: '2025-11-08',
          factor: 1.011,
        },
        {
          ...value,
          title: 'Made-up readings',
          date: '2026-11-08',
          factor: 0.981,
          low: 0.96,
          high: 1,
          signals: ['beyond the limits from the uncertainty'],
          why: 'beyond the limits from the uncertainty',
        },
      ],
      same_reference: true,
      common_relative_standard_uncertainty: 0.015,
      centre: 1.004,
      limits: [0.951, 1.06],
      limits_from_uncertainty: [0.98, 1.028],
      scatter_ratio: 2.2,
      since_first: thenAndNow().wavelengths[0],
      in_control: false,
      why: 'Of 3 re-checks these stand out: 3 (beyond the limits from the uncertainty).',
    },
    {
      wavelength_nm: 808,
      values: [
        { ...head, ...none, signals, why: 'This study gives no factor at this wavelength.' },
      ],
      same_reference: false,
      common_relative_standard_uncertainty: null,
      centre: null,
      limits: null,
      limits_from_uncertainty: null,
      scatter_ratio: null,
      since_first: null,
      in_control: null,
      why: 'A chart needs 3 values at a wavelength; here are 0.',
    },
  ];
}

/** The made-up result that goes with `exampleStudy`. */
export function exampleResult(): Result {
  const study = exampleStudy();
  const series = study.series
    .filter((one) => one.kind === 'comparison')
    .map((one, i) => seriesResult(one, PLANS[i]));
  const colours = [...new Set(series.map((one) => one.wavelength_nm))];
  return {
    schema: 'meterpair.result/2',
    data_sha256: SHA,
    readings_sha256: SHA,
    title: study.title,
    date: study.record.date,
    reference: study.reference.name,
    candidate: study.candidate.name,
    confidence: 0.95,
    tolerance_percent: 5,
    series,
    settings: [
      {
        series: 'red-setting',
        source: 'red diode',
        wavelength_nm: 638,
        meter: 'reference',
        from_nm: 638,
        to_nm: 532,
        ratio: 1.0128,
        low: 1.0087,
        high: 1.0169,
        relative_standard_uncertainty: 0.0017,
        dof: 5,
        why: 'Both settings on the same source, drift taken out.',
      },
    ],
    reading: {
      kind: 'as-read',
      read_at_s: 25,
      candidate_time_constant_s: null,
      candidate_time_constant_standard_uncertainty_s: null,
      why: 'For readings taken 25 s after switch-on.',
    },
    infrared: [
      {
        source: 'old doubled head',
        filter: 'infrared block',
        wavelength_nm: 532,
        wanted_mW: 21.4,
        infrared_mW: 9.7,
        infrared_fraction: 0.312,
        infrared_fraction_standard_uncertainty: 0.041,
        why: 'The readings behind the filter leave this much over.',
      },
    ],
    agreement: agreement(series),
    wavelengths: colours.map((nm) =>
      wavelengthResult(
        nm,
        series.filter((one) => one.wavelength_nm === nm),
      ),
    ),
    common_factor: {
      supported: false,
      p: 0.00004,
      factor: null,
      low: null,
      high: null,
      why: 'The factors differ between wavelengths by more than their uncertainties and by more than the tolerance.',
    },
    power: power(series),
    opinions: opinions(),
    three_instruments: {
      sources: ['red diode'],
      instruments: [],
      why: 'All three meters have to measure three sources; there is 1.',
    },
    then_and_now: thenAndNow(),
    re_checks: reChecks(),
    hazard: hazards(),
    suspects: [],
    warnings: [
      {
        code: 'between-series-unknown',
        message:
          'One series at 405 nm: what another source of that colour would give is not known.',
        series: 'violet',
      },
      {
        code: 'infrared-not-separated',
        message: 'A green source at 532 nm may emit infrared that both meters count as green.',
        series: 'green-old',
      },
      { code: 'one-day', message: 'All runs were taken on one occasion.' },
    ],
  };
}

/** The made-up factors that go with `exampleResult`. */
export function exampleFactors(): Factors {
  const result = exampleResult();
  return {
    schema: 'meterpair.factors/2',
    date: null,
    data_sha256: SHA,
    readings_sha256: SHA,
    title: result.title,
    direction: 'corrected = factor × candidate reading',
    reference: { name: result.reference, uncertainty_stated: true },
    candidate: { name: result.candidate, resolution_mW: 1, rated_max_mW: 3000 },
    confidence: 0.95,
    tolerance_percent: 5,
    wavelength_range_nm: [405, 638],
    factors: result.wavelengths
      .filter((one) => one.verdict !== 'inconclusive')
      .map((one) =>
        atOneLevel({
          wavelength_nm: one.wavelength_nm,
          factor: one.factor ?? 1,
          low: one.low ?? 1,
          high: one.high ?? 1,
          relative_standard_uncertainty: one.relative_standard_uncertainty ?? 0,
          dof: one.dof ?? KNOWN_EXACTLY,
          relative_expanded_uncertainty: one.relative_expanded_uncertainty ?? 0,
          coverage_factor: one.coverage_factor ?? 2,
          candidate_range_mW: one.candidate_range_mW ?? [0, 0],
          reading_relative_sd: 0.006,
          reading_dof: 7,
          verdict: one.verdict,
        }),
      ),
    cautions: ['A green source at 532 nm may emit infrared.'],
  };
}
