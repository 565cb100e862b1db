/** Wrong answers that were found where two parts of the method met; each with its known truth. */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { compareFactors } from '../../src/factors/analyseThenAndNow.js';
import { correct } from '../../src/factors/correct.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import type { MeterRole } from '../../src/vocabulary.js';
import { notFinite } from '../seriesStudy.js';
import {
  codes,
  jointResult,
  jointStudy,
  shownAt,
  TAU,
  TRUE_FACTOR,
  TRUE_POWER,
  tracesOf,
} from './bench.js';

const holds = (
  one: { readonly low: number | null; readonly high: number | null },
  truth: number,
) => {
  expect(one.low).not.toBeNull();
  expect(one.low as number).toBeLessThan(truth);
  expect(one.high as number).toBeGreaterThan(truth);
};

const EARLY = {
  study: { protocol: { read_at_s: 10 } },
  reference: { time_constant_s: TAU.reference },
  candidate: { time_constant_s: TAU.candidate },
};

describe('hazard', () => {
  test('a source run at several wavelengths is judged at each, in either order of the series', () => {
    // 4.0 mW at 520 nm with K = 1; at 450 nm K = 1.6 and a candidate's peak of 3.6 mW is 5.8 mW.
    const green = { id: 'green', power_mW: 4, factor: 1, cells: () => ({ wavelength_nm: 520 }) };
    const blue = {
      id: 'blue',
      power_mW: 4,
      factor: 1.6,
      cells: () => ({ wavelength_nm: 450 }),
      peak: (meter: MeterRole) => (meter === 'candidate' ? 1.44 : null),
    };
    const judged = [
      [green, blue],
      [blue, green],
    ].map((series) => jointResult({ series, source: { label_class: '3R' } }).hazard);
    for (const [one, ...more] of judged) {
      expect(more).toEqual([]);
      expect(one).toMatchObject({ class: '3B', wavelength_nm: 450, label_understates: true });
      expect(one.highest_mW as number).toBeGreaterThan(5.5);
    }
  });

  describe('a laser of 11.6 mW, labelled 5 mW, read after 30 s with a sensor of 100 s', () => {
    const gain = () => 1 - Math.exp(-0.3);
    const pen = { power_mW: 11.6, factor: 1, gain };
    const source = { label_class: 'IIIa', label_max_mW: 5 };
    const rising = (seconds: number) =>
      [
        'series,run,meter,elapsed_s,reading_mW',
        ...Array.from(
          { length: seconds + 1 },
          (_, s) => `s1,1,reference,${s},${(11.6 * (1 - Math.exp(-s / 100))).toFixed(2)}`,
        ),
      ].join('\n');
    const at30 = { protocol: { read_at_s: 30 } };

    test('has no bound where its trace ends while it rises, and its label is not upheld', () => {
      for (const study of [at30, {}]) {
        const result = jointResult({ series: [pen], source, traces: rising(40), study });
        const [one] = result.hazard;
        expect(one).toMatchObject({ class: '4', upper_mW: null, decided: false });
        expect(one.label_understates).not.toBe(false);
        expect(one.why).toContain('still rose at its end, 40 s');
        expect(codes(result)).toContain('hazard-unbounded');
      }
    });

    test('has one above its power where the trace tells, with or without the reading time', () => {
      for (const study of [at30, {}]) {
        const [one] = jointResult({ series: [pen], source, traces: rising(300), study }).hazard;
        expect(one.upper_mW as number).toBeGreaterThan(11.6);
        expect(one.label_understates).toBe(true);
      }
    });

    test('is taken as settled where only the time constant is stated, and that is said', () => {
      const slow = { time_constant_s: 100 };
      const result = jointResult({ series: [pen], source, reference: slow, candidate: slow });
      const said = result.warnings.find(({ code }) => code === 'hazard-taken-as-settled');
      expect(said?.message).toMatch(/^laser: when after switch-on the reference and the candidate/);
      expect(result.hazard[0].why).toContain('read earlier, they show less than the source emits');
      expect(result.reading.why).not.toContain('how fast the sensors settle');
      const neither = jointResult({ series: [pen], source });
      expect(codes(neither)).not.toContain('hazard-taken-as-settled');
      // Stating it is no disadvantage.
      expect(result.hazard[0].upper_mW).toBe(neither.hazard[0].upper_mW);
    });

    test('at the upper end of a time constant that two traces leave open', () => {
      // Traces of 2 and 9 s: 5.5 s with u = 3.5 s at one degree of freedom reaches 50 s.
      const traces = [2, 9].flatMap((tau, i) =>
        Array.from(
          { length: 61 },
          (_, s) => `s1,${[1, 4][i]},reference,${s},${(4 * (1 - Math.exp(-s / tau))).toFixed(4)}`,
        ),
      );
      const [one] = jointResult({
        series: [{ power_mW: 4, factor: 1 }],
        source,
        study: at30,
        traces: ['series,run,meter,elapsed_s,reading_mW', ...traces].join('\n'),
      }).hazard;
      const least = 1 - Math.exp(-30 / (5.5 + 12.7 * 3.5));
      expect(one.upper_mW as number).toBeGreaterThan(4 / least);
      expect(one.highest_mW as number).toBeLessThan(4.2);
      expect(one).toMatchObject({ class: '3B', reading_class: '3R', decided: false });
    });
  });

  test('the highest reading of a trace counts as a peak of its run', () => {
    const traces = tracesOf({
      runs: [[1, 'reference']],
      power_mW: 4.47,
      read_at_s: 30,
      spoil: (_, s) => (s > 12 && s < 16 ? 1.18 : 1),
    });
    const result = jointResult({ series: [{ power_mW: 4.47 }], traces });
    const [one] = result.hazard;
    expect(one.highest_mW as number).toBeGreaterThan(5.1);
    expect(one).toMatchObject({ class: '3B', reading_class: '3B' });
    expect(codes(result)).not.toContain('hazard-no-peak');
  });

  test('a display step that nobody stated is the same with and without settling', () => {
    const at = (more: object) =>
      jointResult({
        series: [{ power_mW: 0.9, factor: 1, noise: 0 }],
        step_mW: 0.1,
        reference: { resolution_mW: null, time_constant_s: 1.8 },
        candidate: { resolution_mW: null, time_constant_s: 1.8 },
        ...more,
      }).hazard[0];
    const plain = at({});
    const settled = at({ study: { protocol: { read_at_s: 30 } } });
    // (0.9 + 0.1) mW × 1.03 at the least
    expect(plain.upper_mW as number).toBeGreaterThan(1.0299);
    expect(settled.upper_mW as number).toBeGreaterThan(1.0299);
    expect([plain.class, settled.class]).toEqual(['3R', '3R']);
  });

  test('500 mW behind a filter that passes half are not 250', () => {
    const filters = [
      {
        name: 'grey',
        transmissions: [{ wavelength_nm: 520, transmission: 0.5, standard_uncertainty: 0.005 }],
      },
    ];
    const series = [{ power_mW: 260, cells: () => ({ filter: 'grey' }) }];
    const [one] = jointResult({
      series,
      study: { filters },
      source: { label_class: '3B' },
    }).hazard;
    expect(one.highest_mW as number).toBeGreaterThan(515);
    expect(one).toMatchObject({ class: '4', label_understates: true });
    // The same filter with nothing stated at this wavelength bounds nothing.
    for (const open of [
      [{ name: 'grey', transmissions: [{ ...filters[0].transmissions[0], wavelength_nm: 1064 }] }],
      [{ name: 'grey', transmissions: [] }],
      undefined,
    ]) {
      const study = open === undefined ? {} : { filters: open };
      const [dark] = jointResult({ series, study, source: { label_class: '3B' } }).hazard;
      expect(dark).toMatchObject({ class: '4', upper_mW: null, decided: false });
    }
  });

  test('a confidence below 0.95 does not narrow a bound', () => {
    const at = (confidence: number) =>
      jointResult({ series: [{}], study: { confidence } }).hazard[0].upper_mW as number;
    expect(at(0.6)).toBeGreaterThanOrEqual(at(0.95) * (1 - 1e-9));
  });

  test('a candidate that was never compared at this wavelength bounds nothing', () => {
    const setting = {
      id: 'alone',
      source: 'violet',
      only: 'candidate' as const,
      power_mW: 4,
      cells: (_: MeterRole, run: number) => ({ setting_nm: run % 2 === 0 ? 405 : 520 }),
    };
    const [one] = jointResult({
      series: [setting],
      candidate: { wavelength_setting: true },
      sources: [{ name: 'violet', wavelength_nm: 405, label_class: '3R', emission: 'continuous' }],
    }).hazard;
    expect(one).toMatchObject({
      class: '4',
      upper_mW: null,
      decided: false,
      reading_class: '3R',
      label_understates: null,
    });
    expect(one.why).toMatch(/Compare it with the reference/);
  });

  test('watts typed as milliwatts on the reference hide no watt', () => {
    const [one] = jointResult({
      series: [{ power_mW: 1100, gain: (m) => (m === 'reference' ? 0.001 : 1), factor: 1.1 }],
      step_mW: 0.001,
      source: { label_class: '1' },
    }).hazard;
    expect(one).toMatchObject({ class: '4', label_understates: true });
    expect(one.upper_mW as number).toBeGreaterThan(1000);
  });
});

describe('early readings', () => {
  const gain = shownAt(10);

  test('series of one lap give the settled factor', () => {
    const series = Array.from({ length: 5 }, () => ({ laps: 1, order: 'ABBA' as const, gain }));
    const [one] = jointResult({ series, ...EARLY }).wavelengths;
    holds(one, TRUE_FACTOR);
    expect(one.factor as number).toBeCloseTo(TRUE_FACTOR, 1);
  });

  test('correct() knows the reading time, and warns where it is not said', () => {
    const study = jointStudy({ series: [{ gain }], ...EARLY });
    const factors = factorsOf(study, analyse(study));
    expect(factors.reading).toMatchObject({ kind: 'settled', read_at_s: 10 });
    const settled = 50 / TRUE_FACTOR;
    const late = correct(factors, { reading_mW: settled, wavelength_nm: 520 });
    holds(late, 50);
    expect(late.cautions.map((one) => one.code)).toContain('settled-readings-only');
    const early = correct(factors, {
      reading_mW: settled * gain('candidate'),
      wavelength_nm: 520,
      read_at_s: 10,
    });
    holds(early, 50);
    expect(early.value).toBeCloseTo(late.value, 6);
    expect(early.U).toBeGreaterThan(late.U);
    // The range holds settled readings.
    const inRange = correct(factors, { reading_mW: TRUE_POWER / TRUE_FACTOR, wavelength_nm: 520 });
    expect(inRange.cautions.map((one) => one.code)).not.toContain('power-outside-range');
  });

  test('after the correction nothing is left of it in the agreement', () => {
    const { agreement } = jointResult({
      series: [{ gain }, { gain }, { gain }],
      ...EARLY,
    });
    expect(Math.abs(agreement.corrected_difference_percent.mean as number)).toBeLessThan(0.5);
    expect(agreement.equivalence.after.decision).toBe('equivalent');
  });

  test('a factor for settled readings is not compared with one for readings as they were taken', () => {
    const known = jointStudy({ series: [{ gain, seed: 5 }], ...EARLY });
    const unknown = jointStudy({
      series: [{ gain, seed: 6 }],
      study: { protocol: { read_at_s: 10 } },
    });
    const then = factorsOf(unknown, analyse(unknown));
    const [one] = compareFactors(then, analyse(known)).wavelengths;
    expect(one.verdict).toBe('not-comparable');
    expect(one.why).toMatch(/settled readings/);
    const [same] = compareFactors(
      then,
      analyse(
        jointStudy({
          series: [{ gain, seed: 7 }],
          study: { protocol: { read_at_s: 10 } },
        }),
      ),
    ).wavelengths;
    expect(same.verdict).toBe('within');
  });

  test('droop without a trace: the lag is named, not passed over', () => {
    const fall = 0.005;
    const [one] = jointResult({
      series: [{ gain: shownAt(25, fall) }],
      ...EARLY,
      study: { protocol: { read_at_s: 25 } },
    }).wavelengths;
    expect(one.not_in_budget.join(' ')).toMatch(/lag of the sensors on a falling source/);
  });
});

describe('traces', () => {
  const fall_per_s = 0.0008;
  const gain = shownAt(20, fall_per_s);
  const RUNS = [
    [1, 'reference'],
    [2, 'candidate'],
    [3, 'candidate'],
    [4, 'reference'],
  ] as const;
  const traces = tracesOf({ runs: RUNS, read_at_s: 20, fall_per_s });

  test('with a reading time: settling and lag are taken out', () => {
    const [one] = jointResult({
      series: [{ gain }],
      traces,
      study: { protocol: { read_at_s: 20 } },
    }).wavelengths;
    holds(one, TRUE_FACTOR);
    expect(Math.abs((one.factor as number) / TRUE_FACTOR - 1)).toBeLessThan(0.005);
  });

  test('without one: what readings lack is taken from the runs that have a trace, and it is said', () => {
    const result = jointResult({ series: [{ gain }], traces });
    const [one] = result.wavelengths;
    expect(Math.abs((one.factor as number) / TRUE_FACTOR - 1)).toBeLessThan(0.005);
    expect(codes(result)).toContain('reading-time-not-stated');
    expect(one.budget.map((part) => part.name)).toContain('settling of the sensors');
  });

  test('without one, and traces of one meter only: named, and nothing is half corrected', () => {
    const result = jointResult({
      series: [{ gain }],
      traces: tracesOf({ runs: [[1, 'reference']], read_at_s: 20, fall_per_s }),
    });
    expect(result.reading.kind).toBe('as-read');
    expect(result.wavelengths[0].not_in_budget.join(' ')).toMatch(/reading time is not stated/);
  });

  test('the trace of an excluded run says nothing of a sensor', () => {
    const spoiled = tracesOf({
      runs: [...RUNS, [5, 'candidate']],
      read_at_s: 20,
      fall_per_s,
      spoil: (run, s) => (run === 5 ? Math.max(0.1, 1 - 0.012 * s) : 1),
    });
    const at = (text: string) =>
      jointResult({
        series: [
          {
            gain,
            cells: (_, run): Readonly<Record<string, string>> =>
              run === 5 ? { exclude: 'beam wandered off the sensor' } : {},
          },
        ],
        traces: text,
        study: { protocol: { read_at_s: 20 } },
      }).wavelengths[0];
    expect(at(spoiled).factor).toBe(at(traces).factor);
    expect(at(spoiled).high).toBe(at(traces).high);
  });

  test('a zero of runs.csv is taken from the traces', () => {
    const at = (zero_mW: number) =>
      jointResult({
        series: [{ gain, zero_mW: { reference: zero_mW, candidate: zero_mW } }],
        traces: tracesOf({ runs: RUNS, read_at_s: 20, fall_per_s, zero_mW }),
        study: { protocol: { read_at_s: 20 } },
      }).wavelengths[0].factor as number;
    expect(Math.abs(at(4) / at(0) - 1)).toBeLessThan(0.001);
  });

  test('a stated time constant that the traces contradict is named', () => {
    const result = jointResult({
      series: [{ gain }],
      traces,
      candidate: { time_constant_s: 2 },
      study: { protocol: { read_at_s: 20 } },
    });
    expect(codes(result)).toContain('time-constant-contradicted');
  });
});

describe('zeros', () => {
  test('in some rows only: the others get their mean, and what that leaves open widens K', () => {
    const zero_mW = { reference: 0, candidate: 0.5 };
    const at = (zeroWritten: (meter: MeterRole, run: number) => boolean) =>
      jointResult({ series: [{ power_mW: 5, factor: 1, zero_mW, zeroWritten }] });
    const half = at((_, run) => run % 4 < 2);
    const [one] = half.wavelengths;
    holds(one, 1);
    expect(one.verdict).not.toBe('correct-it');
    expect(codes(half)).toContain('zero-in-some-rows');
    expect(one.budget.map((part) => part.name)).toContain(
      'zero of the candidate, where not recorded',
    );
    expect(one.relative_expanded_uncertainty as number).toBeGreaterThan(
      at(() => true).wavelengths[0].relative_expanded_uncertainty as number,
    );
  });

  test('in other series only: their size is in the budget of the series without', () => {
    const [one] = jointResult({
      series: [
        { id: 'a', power_mW: 5, zero_mW: { reference: 0, candidate: 0.5 }, source: 'red' },
        { id: 'b', power_mW: 5, source: 'green' },
      ],
      sources: [
        { name: 'red', wavelength_nm: 650 },
        { name: 'green', wavelength_nm: 520 },
      ],
    }).wavelengths;
    const part = one.budget.find((line) => line.name.startsWith('zero of the candidate'));
    // 0.5 mW of 4.55 mW as a rectangle
    expect(part?.relative_standard_uncertainty as number).toBeCloseTo(
      0.5 / (5 / 1.1) / Math.sqrt(3),
      2,
    );
  });
});

describe('wavelength setting', () => {
  // Set to 1064 nm in front of 520 nm the reference shows 1.43 times too much.
  const wrong = (meter: MeterRole) => (meter === 'reference' ? 1.43 : 1);
  const set = (nm: number) => (meter: MeterRole) => ({
    setting_nm: meter === 'reference' ? nm : '',
  });
  const reference = { wavelength_setting: true };

  test('wrong and not measured: no verdict, no class', () => {
    const result = jointResult({
      series: [{ gain: wrong, cells: set(1064) }],
      reference,
      source: { label_class: '3B' },
    });
    expect(codes(result)).toContain('setting-wrong');
    expect(result.wavelengths[0].verdict).toBe('inconclusive');
    expect(result.wavelengths[0].not_in_budget.join(' ')).toMatch(/set to another wavelength/);
    expect(result.hazard[0]).toMatchObject({ class: '4', decided: false });
  });

  test('wrong and measured: the ratio brings the readings there', () => {
    const series = [
      { gain: wrong, cells: set(1064) },
      {
        id: 'setting',
        only: 'reference' as const,
        gain: (_: MeterRole, run: number) => (run % 2 === 0 ? 1.43 : 1),
        cells: (_: MeterRole, run: number) => ({ setting_nm: run % 2 === 0 ? 1064 : 520 }),
      },
    ];
    const result = jointResult({ series, reference });
    const [one] = result.wavelengths;
    holds(one, TRUE_FACTOR);
    expect(Math.abs((one.factor as number) / TRUE_FACTOR - 1)).toBeLessThan(0.01);
    expect(one.verdict).toBe('correct-it');
    expect(codes(result)).toContain('setting-brought');
    expect(result.hazard[0].class).toBe('3B');
    expect(result.hazard[0].highest_mW as number).toBeLessThan(1.05 * TRUE_POWER);
  });
});

test('infrared: a certificate is compared with the wanted line that a filter told apart', () => {
  const filters = [
    {
      name: 'block',
      transmissions: [
        { wavelength_nm: 532, transmission: 0.86, standard_uncertainty: 0.004 },
        { wavelength_nm: 1064, transmission: 0.003, standard_uncertainty: 0.001 },
      ],
    },
  ];
  const result = jointResult({
    series: [
      { id: 'bare', power_mW: 18 },
      { id: 'blocked', power_mW: 0.86 * 10, cells: () => ({ filter: 'block' }) },
    ],
    source: { wavelength_nm: 532 },
    study: { filters },
    opinions: [
      {
        source: 'laser',
        kind: 'certificate',
        value_mW: 10,
        expanded_uncertainty_mW: 0.2,
        coverage_factor: 2,
      },
    ],
  });
  const [reference] = result.opinions[0].comparisons;
  expect(reference.value_mW as number).toBeCloseTo(10, 0);
  expect(reference.verdict).toBe('agrees');
  expect(codes(result)).not.toContain('reference-contradicted');
});

describe('series and wavelengths', () => {
  test('U does not fall when two series disagree more', () => {
    const u = (gap: number) => {
      const shift = (g: number) => (meter: MeterRole) => (meter === 'candidate' ? 1 + g : 1);
      return jointResult({
        series: [
          { gain: shift(-gap / 2), seed: 3 },
          { gain: shift(gap / 2), seed: 3 },
        ],
      }).wavelengths[0].relative_expanded_uncertainty as number;
    };
    const all = [0, 0.001, 0.002, 0.003, 0.005, 0.008, 0.012, 0.02, 0.04].map(u);
    all.slice(1).forEach((one, i) => {
      expect(one).toBeGreaterThanOrEqual(all[i] * 0.98);
    });
    expect(all[all.length - 1]).toBeGreaterThan(1.3 * all[0]);
  });

  test('series of one lap beside a long one are named, and contradict it', () => {
    const result = jointResult({
      series: [
        { laps: 10 },
        ...[1, 2, 3].map(() => ({ laps: 1, factor: 1.3, order: 'ABBA' as const })),
      ],
    });
    expect(codes(result)).toContain('short-series-contradict');
    expect(result.wavelengths[0].verdict).toBe('inconclusive');
    const agreeing = jointResult({
      series: [{ laps: 10 }, { laps: 1, order: 'ABBA' }],
    });
    expect(codes(agreeing)).toContain('short-series-left-out');
    expect(agreeing.wavelengths[0].verdict).toBe('correct-it');
  });

  test('520 and 520.5 nm with other factors: no verdict, and no jump in between', () => {
    const study = jointStudy({
      series: [
        { source: 'a', factor: 1.1 },
        { source: 'b', factor: 1.0 },
      ],
      sources: [
        { name: 'a', wavelength_nm: 520 },
        { name: 'b', wavelength_nm: 520.5 },
      ],
    });
    const result = analyse(study);
    expect(result.wavelengths.map((one) => one.verdict)).toEqual(['inconclusive', 'inconclusive']);
    expect(codes(result).filter((code) => code === 'neighbours-contradict')).toHaveLength(1);
    const factors = factorsOf(study, result);
    const at = (wavelength_nm: number) => correct(factors, { reading_mW: 36, wavelength_nm });
    expect(at(520.26).value / at(520.25).value).toBeCloseTo(1, 6);
    for (const nm of [519, 520, 520.25, 520.5, 521.9]) {
      expect(at(nm).low).toBeLessThan(36.0 * 1.0);
      expect(at(nm).high).toBeGreaterThan(36.0 * 1.1);
    }
  });

  test('a leak at 532 nm lends its spread to no other wavelength', () => {
    const red = { source: 'red', power_mW: 50 };
    const leaky = [1.2, 1.0, 0.85].map((factor) => ({ source: 'doubled', factor }));
    const sources = [
      { name: 'doubled', wavelength_nm: 532 },
      { name: 'red', wavelength_nm: 650 },
    ];
    const u = (series: readonly object[], list: readonly object[]) =>
      jointResult({ series: [...series, { ...red, seed: 9 }], sources: list }).wavelengths.at(-1)
        ?.relative_expanded_uncertainty as number;
    expect(u(leaky, sources)).toBeCloseTo(u([], sources.slice(1)), 9);
  });
});

describe('the whole', () => {
  test('a confidence of 0.999 stops nothing', () => {
    const result = jointResult({ series: [{}, {}], study: { confidence: 0.999 } });
    expect(notFinite(result)).toEqual([]);
    holds(result.wavelengths[0], TRUE_FACTOR);
  });

  test('equal readings and a stated spread of zero give numbers', () => {
    const result = jointResult({
      series: [{ noise: 0 }, { noise: 0 }],
      step_mW: 1,
      study: { between_series_percent: 0 },
    });
    expect(notFinite(result)).toEqual([]);
    expect(result.wavelengths[0].factor).not.toBeNull();
  });

  test('the same readings under another title are no re-check', () => {
    const one = jointStudy({ series: [{}] });
    const other = jointStudy({ series: [{}], study: { title: 'Another evening' } });
    const found = compareFactors(factorsOf(one, analyse(one)), analyse(other));
    expect(found.why).toMatch(/the very data/);
  });

  test('pulsed light gets no class, and who does not say so is told', () => {
    const pulsed = jointResult({ series: [{}], source: { emission: 'pulsed' } });
    expect(pulsed.hazard[0]).toMatchObject({ class: null, decided: false });
    expect(codes(jointResult({ series: [{}], source: { emission: null } }))).toContain(
      'emission-not-stated',
    );
    expect(codes(pulsed)).not.toContain('emission-not-stated');
  });
});
