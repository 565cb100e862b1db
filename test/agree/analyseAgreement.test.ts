import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { near } from '../near.js';
import { PEAK_FLOW } from '../peakFlow.js';
import { notFinite, type PlannedSeries, steady, studyOf } from '../seriesStudy.js';

/** One lap a series: the means of the series are then the published values themselves. */
const single = (pairs: readonly (readonly [number, number])[], nm = 520): PlannedSeries[] =>
  pairs.map((lap, i) => ({ id: `s${i}`, nm, laps: [lap] }));

const agreementOf = (series: readonly PlannedSeries[], study: object = {}) =>
  analyse(studyOf(series, { study })).agreement;

describe('published data, one lap a series', () => {
  test('signed ranks of the depression data', () => {
    // Hollander and Wolfe 1973, p. 29: V = 40, p = 20/512; estimate 0.46, interval 0.010 to 0.786 at
    // 96.1 % (R 4.2.2). Here as differences in tenths of 10 mW: percent = 10 times the published.
    const before = [1.83, 0.5, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.3];
    const after = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];
    const found = agreementOf(
      single(before.map((value, i) => [10, Number((10 + value - after[i]).toFixed(3))])),
    ).wilcoxon;
    expect(found.series).toBe(9);
    near(found.p, 20 / 512, 1e-12);
    near(found.estimate_percent, 4.6, 1e-9);
    near(found.low_percent, 0.1, 1e-9);
    near(found.high_percent, 7.86, 1e-9);
    near(found.achieved_confidence, 0.961, 5e-4);
  });

  test('two one-sided tests of a ratio', () => {
    // SAS/STAT User's Guide, PROC TTEST, lognormal equivalence: ratio 0.9412, 90 % interval 0.8634 to
    // 1.0260, p 0.0031 against the lower margin 0.8 (which decides here too: the upper one, 1.2
    // instead of 1.25, is farther from the ratio). Half a unit of the last digit.
    const generic = [
      103.4, 59.92, 68.17, 94.54, 69.48, 72.17, 74.37, 84.44, 96.74, 94.26, 48.52, 95.68,
    ];
    const reference = [
      90.11, 77.71, 77.71, 97.51, 58.21, 101.3, 79.84, 96.06, 89.3, 97.22, 61.62, 85.8,
    ];
    const { equivalence, ratio_limits } = agreementOf(
      single(reference.map((value, i) => [value, generic[i]])),
      { tolerance_percent: 20 },
    );
    near(equivalence.before.ratio, 0.9412, 5e-5);
    near(equivalence.before.low, 0.8634, 5e-5);
    near(equivalence.before.high, 1.026, 5e-5);
    near(equivalence.before.p, 0.0031, 5e-5);
    expect(equivalence.before.decision).toBe('equivalent');
    expect(equivalence.before.confidence).toBe(0.9);
    expect(equivalence.before.why).toContain('90 %');
    expect(equivalence.before.why).toContain('relative to this reference');
    near(equivalence.before.margins[0], 0.8, 1e-12);
    near(equivalence.before.margins[1], 1.2, 1e-12);
    near(ratio_limits.ratio, 0.9412, 5e-5);
  });

  test('slope of the peak flow data on the log scale', () => {
    // R 4.2.2 (test/fixtures/agree.R)
    const { reference, candidate } = PEAK_FLOW;
    const found = agreementOf(
      single(reference.map((value, i) => [value, candidate[i]])),
    ).proportional_bias;
    near(found.slope, -0.151020486411, 1e-10);
    near(found.high, 0.0735051915266, 5e-9);
    near(found.p, 0.172186325079, 1e-8);
    expect(found.why).not.toContain('wavelength');
    near(found.range_mW?.[0], Math.sqrt(178 * 259), 1e-9);
    near(found.range_mW?.[1], Math.sqrt(650 * 658), 1e-9);
  });

  test('concordance by hand', () => {
    // Lin 1989, equation 2, by hand: means 2 and 3, s₁² = s₂² = 2/3, s₁₂ = 2/3: 4/7
    const found = agreementOf(
      single([
        [1, 2],
        [2, 3],
        [3, 4],
      ]),
    ).concordance;
    near(found.value, 4 / 7, 1e-12);
    near(found.precision, 1, 1e-12);
    expect(found.low).toBeNull();
    expect(found.why).toMatch(/Fewer than 4 pairs.*A side note/);
  });
});

describe('the series is the unit', () => {
  test('more of the same laps make nothing surer', () => {
    const lap = fc.tuple(fc.integer({ min: 80, max: 120 }), fc.integer({ min: 80, max: 120 }));
    fc.assert(
      fc.property(
        fc.array(lap, { minLength: 6, maxLength: 9 }),
        fc.integer({ min: 2, max: 4 }),
        (pairs, times) => {
          const once = agreementOf(single(pairs));
          const often = agreementOf(
            pairs.map(([r, c], i) => ({ id: `s${i}`, nm: 520, laps: steady(r, c, times) })),
          );
          expect(often.wilcoxon).toEqual(once.wilcoxon);
          near(often.equivalence.before.ratio, once.equivalence.before.ratio ?? 0, 1e-12);
          expect(often.equivalence.before.decision).toBe(once.equivalence.before.decision);
          near(often.ratio_limits.ratio, once.ratio_limits.ratio ?? 0, 1e-12);
        },
      ),
      { seed: 71, numRuns: 12 },
    );
  });

  test('ratio limits of laps that repeat are those of the analysis of variance', () => {
    // By hand: logarithms ± d about ± b in two series of two laps. Means ± b: variance 2b²; within:
    // mean square 2d². sd² = 2b² + (1 − ½)·2d² = 2b² + d².
    const [b, d] = [0.05, 0.02];
    const laps = (mean: number) =>
      [mean + d, mean - d].map((log) => [100, Number((100 * Math.exp(log)).toFixed(9))] as const);
    const { limits, ratio } = agreementOf(
      [
        { id: 'a', nm: 450, laps: laps(b) },
        { id: 'b', nm: 520, laps: laps(-b) },
      ],
      { limits_multiplier: 2 },
    ).ratio_limits;
    near(ratio, 1, 1e-9);
    const sd = Math.sqrt(2 * b * b + d * d);
    near(limits.low, Math.exp(-2 * sd), 1e-9);
    near(limits.high, Math.exp(2 * sd), 1e-9);
  });
});

describe('series of one lap and of several', () => {
  test('count each once: −10 % and four times −20 % are −15 %', () => {
    const found = agreementOf([
      { id: 'a', nm: 520, laps: [[100, 90]] },
      { id: 'b', nm: 520, laps: steady(100, 80, 4) },
    ]);
    near(found.difference_percent.mean, -15, 1e-9);
    near(found.difference_mW.mean, -15, 1e-9);
  });

  test('of one lap each have limits without a word, and nothing after a correction that is none', () => {
    const found = agreementOf(
      single([
        [100, 90],
        [100, 91],
        [100, 93],
      ]),
    );
    expect(found.why).not.toContain('at least two series');
    const alone = agreementOf([
      { id: 'a', nm: 450, laps: [[100, 90]] },
      { id: 'b', nm: 638, laps: [[100, 91]] },
    ]);
    expect(alone.corrected_difference_percent.mean).toBeNull();
    expect(alone.why).toContain('no wavelength of these series has a factor');
  });

  test('ten of them are too few for signed ranks at 99.99 %', () => {
    const pairs = Array.from({ length: 10 }, (_, i) => [100, 90 + i / 10] as const);
    expect(agreementOf(single(pairs), { confidence: 0.9999 }).wilcoxon.why).toMatch(/^10 series/);
  });
});

describe('after the correction', () => {
  const spread = [
    [100, 90],
    [100, 91],
    [100, 92],
  ] as const;

  test('a candidate far off comes out equivalent, and the same data are named', () => {
    const { before, after } = agreementOf(
      spread.map(([r, c], i) => ({ id: `s${i}`, nm: 520, laps: steady(r, c) })),
    ).equivalence;
    expect(before.decision).toBe('not-shown');
    expect(after.decision).toBe('equivalent');
    expect(after.why).toContain('same data');
  });

  test('series alone at their wavelength show nothing, however well they fit', () => {
    const { after } = agreementOf(
      spread.map(([r, c], i) => ({ id: `s${i}`, nm: 450 + 50 * i, laps: steady(r, c) })),
    ).equivalence;
    expect(after).toMatchObject({ decision: 'not-shown', ratio: null, p: null });
    expect(after.why).toMatch(/Fewer than 2/);
  });
});

test('what too few series cannot give is null with its reason, and no number is lost', () => {
  const found = agreementOf(single([[100, 90]]));
  expect(found.wilcoxon).toMatchObject({ series: 1, low_percent: null });
  expect(found.wilcoxon.why).toMatch(/1 series cannot give an interval|1 values/);
  expect(found.proportional_bias).toMatchObject({ slope: null, range_mW: null });
  expect(found.proportional_bias.why).toContain('four series');
  expect(found.concordance).toMatchObject({ value: null });
  expect(found.concordance.why).toContain('three series');
  expect(found.ratio_limits.limits.low).toBeNull();
  expect(found.ratio_limits.why).not.toBe('');
  const level = agreementOf(single([100, 101, 102, 103].map((r) => [r, 0.9 * r])));
  expect(level.proportional_bias.why).toContain('same power');
  expect(notFinite([found, level])).toEqual([]);
});
