import { describe, expect, test } from 'vitest';
import { type ComparisonWishes, completeWishes } from '../../src/plan/comparisonWishes.js';
import { designUncertainty, effectVariance } from '../../src/plan/designUncertainty.js';
import { biasPower, lapsToShowBias } from '../../src/plan/lapsToShowBias.js';
import { plannedPlacement } from '../../src/plan/placement.js';
import { planComparison } from '../../src/plan/planComparison.js';
import { plannedOutlook } from '../../src/plan/plannedOutlook.js';
import { knownParts, plannedParts, roughU } from '../../src/plan/plannedReading.js';
import { plannedShares } from '../../src/plan/plannedShares.js';
import { plannedSpread } from '../../src/plan/plannedSpread.js';
import { recommendOrder } from '../../src/plan/recommendOrder.js';
import { remedies } from '../../src/plan/remedies.js';
import { contrastBias, residualBiasOf } from '../../src/plan/residualBias.js';
import { resolutionNote } from '../../src/plan/resolutionNote.js';
import { requireLaps, wholeBlocks } from '../../src/plan/runOrder.js';
import { plannedRuns, requireWavelengths, runSheet } from '../../src/plan/runSheet.js';
import { CAUTIONS, runSheetText } from '../../src/plan/runSheetText.js';
import { searchLaps } from '../../src/plan/searchLaps.js';
import { shownReadings, standsStill } from '../../src/plan/shownReadings.js';
import { roundedDown, roundedUp } from '../../src/plan/twoDigits.js';
import { seededRandom } from '../../src/statistics/random.js';

const wrong = expect.objectContaining({ code: 'argument-wrong' });

/** Nothing scatters: u is 1 % of the certificate and 1 % of each placement, known exactly. */
const STILL: ComparisonWishes = {
  wanted: 0.035,
  confidence: 0.95,
  certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
  noise: { reference: 0, candidate: 0 },
  placement: 0.01,
};
/** U of a reading there: certificate, the placements of so many series, and the next. */
const stillU = (series: number, certificate = 0.01, placement = 0.01) =>
  Math.expm1(1.959964 * Math.sqrt(certificate ** 2 + placement ** 2 * (1 + 1 / series)));

describe('two digits, to the side that is surely enough', () => {
  test.each([
    [0.0123, 0.013, 0.012],
    [0.012, 0.012, 0.012],
    [0.01201, 0.013, 0.012],
    [0.01299, 0.013, 0.012],
    [9.95, 10, 9.9],
    [99.1, 100, 99],
    [100, 100, 100],
    [101, 110, 100],
    [1, 1, 1],
    [0.07, 0.07, 0.07],
    [0.29, 0.29, 0.29],
  ])('%f: up %f, down %f', (value, up, down) => {
    expect([roundedUp(value), roundedDown(value)]).toEqual([up, down]);
  });
});

describe('wishes', () => {
  test('what is left out has its default', () => {
    const { wanted, confidence, noise } = STILL;
    expect(completeWishes({ wanted, confidence, noise })).toEqual({
      wanted,
      confidence,
      noise,
      source_noise: 0,
      order: 'ABBA-BAAB',
      most_series: 3,
      most_laps: 40,
      probability: 0.8,
    });
    const own = {
      ...STILL,
      source_noise: 0.01,
      order: 'ABBA' as const,
      most_series: 1,
      most_laps: 6,
      probability: 0.5,
    };
    expect(completeWishes(own)).toEqual(own);
  });

  test.each<[string, Partial<ComparisonWishes>, boolean]>([
    ['a wish of 0', { wanted: 0 }, false],
    ['a tiny wish', { wanted: 1e-9 }, true],
    ['a wish of nearly 1', { wanted: 0.999 }, true],
    ['a wish of 1', { wanted: 1 }, false],
    ['no noise', { noise: { reference: 0, candidate: 0 } }, true],
    ['a reference of nearly 1', { noise: { reference: 0.999, candidate: 0 } }, true],
    ['a reference of 1', { noise: { reference: 1, candidate: 0 } }, false],
    ['a candidate of 1', { noise: { reference: 0, candidate: 1 } }, false],
    ['a candidate below 0', { noise: { reference: 0, candidate: -1e-9 } }, false],
    ['a source of 1', { source_noise: 1 }, false],
    ['a source below 0', { source_noise: -1e-9 }, false],
    ['a certificate of 0', { certificate: { expanded_uncertainty: 0, coverage_factor: 2 } }, false],
    ['of nearly 1', { certificate: { expanded_uncertainty: 0.999, coverage_factor: 2 } }, true],
    ['of 1', { certificate: { expanded_uncertainty: 1, coverage_factor: 2 } }, false],
    ['k of 0', { certificate: { expanded_uncertainty: 0.02, coverage_factor: 0 } }, false],
    [
      'a reference without a step',
      { display: { level_mW: 1, step_mW: { reference: 0, candidate: 1 } } },
      false,
    ],
    [
      'a candidate without a step',
      { display: { level_mW: 1, step_mW: { reference: 1, candidate: 0 } } },
      false,
    ],
    ['no power', { display: { level_mW: 0, step_mW: { reference: 1, candidate: 1 } } }, false],
    ['one series', { most_series: 1 }, true],
    ['no series', { most_series: 0 }, false],
    ['half a series', { most_series: 1.5 }, false],
    ['six laps of ABBA', { order: 'ABBA', most_laps: 6 }, true],
    ['five laps of ABBA', { order: 'ABBA', most_laps: 5 }, false],
    ['five laps in turn', { order: 'reference-first', most_laps: 5 }, true],
    ['four laps in turn', { order: 'reference-first', most_laps: 4 }, false],
    ['half a lap', { most_laps: 8.5 }, false],
    ['a probability of 0', { probability: 0 }, false],
    ['of nearly 0', { probability: 0.001 }, true],
    ['of 1', { probability: 1 }, false],
  ])('%s', (_, changed, taken) => {
    const call = () => completeWishes({ ...STILL, ...changed });
    if (taken) expect(call()).toMatchObject(changed);
    else expect(call).toThrow(wrong);
  });

  test('placements: said, known, or a word', () => {
    expect(plannedPlacement()).toEqual({
      sd: 0.01,
      stated: null,
      note: 'How the heads are put back is not said: 1.0 % from series to series, as the analysis takes it.',
    });
    expect(plannedPlacement(0.015)).toEqual({
      sd: 0.015,
      stated: 0.015,
      note: '1.5 % from series to series, known from elsewhere: between_series_percent: 1.5 in study.json.',
    });
    // 0.07 · 100 is 7.000000000000001 in binary.
    expect(plannedPlacement(0.07).note).toContain('between_series_percent: 7 in');
    expect(plannedPlacement(0)).toMatchObject({ sd: 0, stated: 0 });
    expect(plannedPlacement(0.999)).toMatchObject({ sd: 0.999, stated: 0.999 });
    for (const one of [1, -1e-9, Number.NaN]) expect(() => plannedPlacement(one)).toThrow(wrong);
    expect(plannedPlacement('jig')).toMatchObject({ sd: 0.005, stated: null });
    expect(plannedPlacement('by-hand')).toMatchObject({ sd: 0.02, stated: null });
  });
});

describe('the variance of a design', () => {
  test('ABBA BAAB without drift: half of each scatter over four runs, degrees by Welch–Satterthwaite', () => {
    const found = effectVariance('ABBA-BAAB', 4, 0);
    expect(found?.factors[0]).toBeCloseTo(0.5, 12);
    expect(found?.factors[1]).toBeCloseTo(0.5, 12);
    expect(found?.dof).toBe(6);
    // 0.3²/4 and 0.4²/4 on three degrees of freedom each
    const [a, b] = [0.0225, 0.04];
    expect(found?.of(0.3, 0.4)).toEqual({
      standard_uncertainty: expect.closeTo(0.25, 12),
      dof: expect.closeTo((a + b) ** 2 / ((a * a + b * b) / 3), 10),
    });
    expect(found?.of(0, 0.4).dof).toBeCloseTo(3, 10);
    expect(found?.of(0, 0)).toEqual({ standard_uncertainty: 0, dof: 6 });
  });

  test('plain alternation with a line: Σz² = 2 less 2²/42 for what the drift takes', () => {
    const found = effectVariance('reference-first', 4, 1);
    const each = Math.sqrt(1 / (2 * (2 - 4 / 42)));
    expect(found?.factors[0]).toBeCloseTo(each, 12);
    expect(found?.factors[1]).toBeCloseTo(each, 12);
    expect(found?.dof).toBe(5);
  });

  test('runs of two meters, their mean and each degree of drift leave what is left', () => {
    expect(effectVariance('ABBA', 2, 0)?.dof).toBe(2);
    expect(effectVariance('ABBA', 2, 1)?.dof).toBe(1);
    expect(effectVariance('ABBA', 2, 2)).toBeNull();
    expect(effectVariance('ABBA-BAAB', 8, 5)?.dof).toBe(9);
    // As the analysis takes it: a line from 4 runs on, a parabola from 10.
    expect(effectVariance('ABBA', 1)).toBeNull();
    expect(effectVariance('ABBA', 4)?.dof).toBe(5);
    expect(effectVariance('ABBA', 5)?.dof).toBe(6);
    for (const degree of [-1, 6, 1.5]) {
      expect(() => effectVariance('ABBA', 8, degree)).toThrow(wrong);
    }
    const series = { order: 'ABBA', referenceSd: 0, candidateSd: 0 } as const;
    expect(designUncertainty(series, 4)).toEqual({ standard_uncertainty: 0, dof: 5 });
    expect(() => designUncertainty({ ...series, candidateSd: -1 }, 4)).toThrow(wrong);
    expect(() => designUncertainty({ ...series, referenceSd: -1 }, 4)).toThrow(wrong);
  });
});

describe('the search for laps', () => {
  const plan = { referenceSd: 1, candidateSd: 1, driftDegree: 0 } as const;
  // u = √(2/n): enough from `from` laps on.
  const found = (order: 'reference-first' | 'ABBA' | 'ABBA-BAAB', from: number, mostLaps = 1000) =>
    searchLaps({ ...plan, order, mostLaps }, ([own]) => ({
      answer: Math.round(2 / (own?.standard_uncertainty ?? 0) ** 2),
      enough: (own?.standard_uncertainty ?? 1) <= Math.sqrt(2 / from) * (1 + 1e-9),
    }));

  test.each([1, 5, 6, 7, 8, 9, 10, 11, 16, 17, 31, 40, 41, 99, 100])(
    'finds the first of all: %i laps in turn, in blocks of two and of four',
    (from) => {
      const [one, two, four] = [
        Math.max(5, from),
        Math.max(6, wholeBlocks('ABBA', from)),
        Math.max(8, wholeBlocks('ABBA-BAAB', from)),
      ];
      expect(found('reference-first', from, 100)).toEqual({ laps: one, tried: one, answer: one });
      expect(found('ABBA', from, 100)).toEqual({ laps: two, tried: two, answer: two });
      expect(found('ABBA-BAAB', from, 100)).toEqual({ laps: four, tried: four, answer: four });
    },
  );

  test('says how far it looked, in whole blocks', () => {
    expect(found('ABBA-BAAB', 101, 103)).toEqual({ laps: null, tried: 100, answer: 100 });
    expect(found('reference-first', 6, 5)).toEqual({ laps: null, tried: 5, answer: 5 });
    expect(found('reference-first', 5, 5)).toEqual({ laps: 5, tried: 5, answer: 5 });
    expect(() => found('reference-first', 5, 4)).toThrow(wrong);
    expect(() => found('ABBA-BAAB', 5, 7)).toThrow('8 or more');
  });

  test('looks as far as a thousand laps unless told, and hands on what laps do not reduce', () => {
    const others = [{ standard_uncertainty: 0.5, dof: 3 }];
    const seen: number[] = [];
    const { tried } = searchLaps({ ...plan, order: 'ABBA' }, (parts) => {
      seen.push(parts.length);
      return { answer: 0, enough: false };
    });
    expect([tried, seen]).toEqual([1000, [1]]);
    const handed: unknown[] = [];
    searchLaps({ ...plan, order: 'ABBA', others }, (parts) => {
      handed.push(parts.slice(1));
      return { answer: 0, enough: true };
    });
    expect(new Set(handed.map((one) => JSON.stringify(one)))).toEqual(
      new Set([JSON.stringify(others)]),
    );
  });
});

describe('the power of a test', () => {
  // With a million degrees of freedom t is normal: Φ(δ − 1.96) + Φ(−δ − 1.96).
  test.each([
    [1, 0.170075],
    [2, 0.51601],
    [-2, 0.51601],
    [4, 0.979327],
  ])('a bias of %f standard uncertainties is shown with probability %f', (bias, power) => {
    expect(biasPower({ bias, standardUncertainty: 1, dof: 1e6 })).toBeCloseTo(power, 4);
  });

  test('a bias of 0 as often as the confidence leaves; without uncertainty always', () => {
    expect(biasPower({ bias: 0, standardUncertainty: 1, dof: 5, confidence: 0.9 })).toBeCloseTo(
      0.1,
      12,
    );
    expect(biasPower({ bias: 0, standardUncertainty: 1, dof: 5 })).toBeCloseTo(0.05, 12);
    expect(biasPower({ bias: 1, standardUncertainty: 0, dof: 5 })).toBeCloseTo(1, 9);
    const wrongs = [
      { bias: Number.NaN, standardUncertainty: 1, dof: 5 },
      { bias: 1, standardUncertainty: -1, dof: 5 },
      { bias: 1, standardUncertainty: 1, dof: 5, confidence: 1 },
    ];
    for (const one of wrongs) expect(() => biasPower(one)).toThrow(wrong);
  });

  test('the sentence, with a probability never rounded up', () => {
    const asked = { order: 'ABBA', referenceSd: 0.01, candidateSd: 0.01, driftDegree: 0 } as const;
    const found = lapsToShowBias({ ...asked, bias: 0.01, power: 0.8 });
    expect(found.power).toBeGreaterThanOrEqual(0.8);
    expect(found.sentence).toBe(
      `${found.laps} laps show a bias of 1.0 %, if it is there, with a probability of ${Math.floor(100 * found.power)} %.`,
    );
    // Two groups of n: 2n − 2 degrees of freedom
    expect(found.dof).toBeCloseTo(2 * (found.laps ?? 0) - 2, 9);
    const never = lapsToShowBias({ ...asked, bias: 0.001, power: 0.8, mostLaps: 8 });
    expect(never.laps).toBeNull();
    expect(never.sentence).toBe(
      `Not within 8 laps: a bias of 0.10 % would be shown with a probability of only ${Math.floor(100 * never.power)} %.`,
    );
    // What laps do not reduce counts.
    const others = [{ standard_uncertainty: 0.02, dof: 1e6 }];
    expect(lapsToShowBias({ ...asked, bias: 0.01, power: 0.8, others }).laps).toBeNull();
  });
});

describe('an order for a drift', () => {
  test.each([
    ['none', 'reference-first', [5, 5, 6, 7, 8, 9]],
    ['steady', 'ABBA', [6, 6, 6, 8, 8, 10]],
    ['curving', 'ABBA-BAAB', [8, 8, 8, 8, 8, 12]],
    ['unknown', 'ABBA-BAAB', [8, 8, 8, 8, 8, 12]],
  ] as const)('%s: %s, in whole blocks of five laps and more', (drift, order, laps) => {
    const found = [1, 5, 6, 7, 8, 9].map((asked) => recommendOrder({ laps: asked, drift }));
    expect(found.map((one) => one.order)).toEqual(laps.map(() => order));
    expect(found.map((one) => one.laps)).toEqual(laps);
  });

  test('laps are whole and one or more', () => {
    expect(() => requireLaps(1)).not.toThrow();
    for (const laps of [0, 1.5, -1, 2 ** 53]) expect(() => requireLaps(laps)).toThrow(wrong);
    expect(() => recommendOrder({ laps: 0, drift: 'none' })).toThrow(wrong);
    expect([1, 2, 3, 4].map((laps) => wholeBlocks('ABBA', laps))).toEqual([2, 2, 4, 4]);
    expect(() => wholeBlocks('ABBA', 0)).toThrow(wrong);
  });

  test('fractions in lowest terms, the denominator above zero', () => {
    // t = −1, 1 in half steps: Σwt = 2·6, over 2·(−4)
    expect(contrastBias([-6, 6], -4)).toEqual({
      linear: { numerator: -3, denominator: 2, value: -1.5 },
      quadratic: { numerator: 0, denominator: 1, value: 0 },
    });
    expect(Object.is(contrastBias([-6, 6], -4).quadratic.value, 0)).toBe(true);
    expect(() => contrastBias([1, -1], 0.5)).toThrow(wrong);
    for (const one of ['reference', 'candidate'] as const) {
      expect(() => residualBiasOf([one])).toThrow(wrong);
    }
  });
});

describe('the step of a display', () => {
  test('2·√2·0.1/√12 over a fifth of 5 %', () => {
    const found = resolutionNote({ resolution_mW: 0.1, tolerance: 0.05 });
    expect(found.smallest_mW).toBeCloseTo((2 * Math.SQRT2 * 0.1) / Math.sqrt(12) / 0.01, 10);
    expect(found.sentence).toBe(
      'Below 8.2 mW the display step of 0.1 mW alone takes up more than 20 % of the tolerance of 5 %: choose a higher power or a finer range.',
    );
  });

  test.each([
    [{ share: 1 }, true],
    [{ share: 1.001 }, false],
    [{ share: 0 }, false],
    [{ tolerance: 1.5 }, true],
    [{ tolerance: Number.POSITIVE_INFINITY }, false],
    [{ resolution_mW: Number.NaN }, false],
    [{ coverageFactor: 0 }, false],
    [{ coverageFactor: 3 }, true],
  ])('%j taken: %s', (changed, taken) => {
    const call = () => resolutionNote({ resolution_mW: 1, tolerance: 0.05, ...changed });
    if (taken) expect(call().smallest_mW).toBeGreaterThan(0);
    else expect(call).toThrow(wrong);
  });

  test('the middle between two numbers counts where both are shown alike', () => {
    // 12, 12, 13, 13 for 12.3, 12.4, 12.6, 12.7: the mean 12.5 lies at the edge itself.
    const levels = [12.3, 12.4, 12.6, 12.7];
    const found = shownReadings({ levels, sd: 0, step: 1 }, seededRandom(1));
    expect(found.error).toBeCloseTo(0, 12);
    expect(found.variance).toBeCloseTo((2 * 0.3 ** 2 + 2 * 0.4 ** 2) / 3, 12);
    // 12, 13, 13, 13: a quarter from it.
    const three = shownReadings(
      { levels: [12.3, 12.55, 12.6, 12.7], sd: 0, step: 1 },
      seededRandom(1),
    );
    expect(three.rounding).toBeCloseTo(Math.max(0.25 / Math.sqrt(3), three.rounding), 12);
    expect(three.rounding).toBeGreaterThanOrEqual(0.25 / Math.sqrt(3) - 1e-12);
    expect(standsStill(0, 1)).toBe(true);
  });
});

describe('where nothing scatters', () => {
  const wishes = completeWishes(STILL);

  test.each([1, 2, 3])('U of %i series is 1.96 times the root of the sum', (series) => {
    const found = plannedOutlook(wishes, { series, laps: 8 }, 50);
    expect(found).toMatchObject({ series, laps: 8 });
    expect(found?.reading_U_promised).toBeCloseTo(stillU(series), 6);
    expect(found?.reading_U).toBeCloseTo(stillU(series), 6);
    // K has no next placement.
    const ofK = Math.expm1(1.959964 * 0.01 * Math.sqrt(1 + 1 / series));
    expect(found?.factor_U).toBeCloseTo(ofK, 6);
  });

  test.each([
    [0.0345, 0],
    [0.0346, 1],
  ])('a wish of %f is met with probability %f', (wanted, probability) => {
    expect(plannedOutlook({ ...wishes, wanted }, { series: 1, laps: 8 })?.probability).toBe(
      probability,
    );
  });

  test('the wish may be U itself', () => {
    const exact = plannedOutlook(wishes, { series: 1, laps: 8 }, 10)?.reading_U ?? 0;
    const met = plannedOutlook({ ...wishes, wanted: exact }, { series: 1, laps: 8 }, 10);
    expect(met?.probability).toBe(1);
  });

  test('so few laps that nothing is left give no outlook and no shares', () => {
    expect(plannedOutlook(wishes, { series: 1, laps: 1 })).toBeNull();
    expect(plannedOutlook(wishes, { series: 1, laps: 1 }, 5)).toBeNull();
    expect(plannedSpread(wishes, { series: 1, laps: 1 }, 5)).toBeNull();
    expect(plannedShares(wishes, { series: 1, laps: 1 })).toEqual([]);
    expect(plannedSpread(wishes, { series: 1, laps: 8 }, 5)).toHaveLength(5);
  });

  test('shares: two placements and the certificate, a third each', () => {
    const shares = plannedShares(wishes, { series: 1, laps: 8 });
    expect(shares.slice(0, 2)).toEqual([
      { name: 'placement', share: expect.closeTo(2 / 3, 12) },
      { name: 'calibration of the reference', share: expect.closeTo(1 / 3, 12) },
    ]);
    expect(shares.slice(2).every(({ share }) => share === 0)).toBe(true);
    const { certificate: _, ...bare } = STILL;
    expect(
      plannedShares(completeWishes({ ...bare, placement: 0 }), { series: 1, laps: 8 }),
    ).toEqual([]);
  });

  test('what stands in the budget beforehand: certificate, and zeros that are written down', () => {
    const display = { level_mW: 50, step_mW: { reference: 0.1, candidate: 1 } };
    const of = (changed: Partial<ComparisonWishes>) =>
      knownParts(completeWishes({ ...STILL, ...changed })).map(
        ({ name, relative_standard_uncertainty: u }) => [name, u],
      );
    const certificate = ['calibration of the reference', expect.closeTo(0.01, 12)];
    expect(of({})).toEqual([certificate]);
    // Half a step of 0.1 and 1 mW, rectangular, of 50 mW
    expect(of({ display })).toEqual([
      certificate,
      ['zero of the reference', expect.closeTo(0.05 / Math.sqrt(3) / 50, 12)],
      ['zero of the candidate', expect.closeTo(0.5 / Math.sqrt(3) / 50, 12)],
    ]);
    expect(of({ display: { ...display, zero_recorded: false } })).toEqual([certificate]);
    expect(of({ display: { ...display, zero_recorded: true } })).toHaveLength(3);
    const { certificate: _, ...bare } = STILL;
    expect(knownParts(completeWishes(bare))).toEqual([]);
  });

  test('the quick formula: k·u', () => {
    const part = { relative_standard_uncertainty: 0.03, dof: 1e6, shape: 'normal', kind: 'other' };
    const parts = [part, { ...part, relative_standard_uncertainty: 0.04 }] as unknown as Parameters<
      typeof roughU
    >[0];
    expect(roughU(parts, 0.95)).toBeCloseTo(1.959964 * 0.05, 6);
  });
});

describe('the plan where nothing scatters', () => {
  test('one series of eight laps does for 3.5 %', () => {
    const plan = planComparison(STILL);
    expect(plan).toMatchObject({
      design: { series: 1, laps: 8, order: 'ABBA-BAAB' },
      outlook: { series: 1, laps: 8, probability: 1 },
      certificate_U: expect.closeTo(0.01959964, 7),
      remedies: [],
      study: { protocol: { order: 'ABBA-BAAB' }, between_series_percent: 1 },
      sentence:
        '1 series of 8 laps: a reading corrected later, the head put up anew, is then known to ± 3.5 % or better in 100 of 100 such comparisons (half of them: ± 3.5 %), K itself to about ± 2.8 %.',
    });
    expect(plan.assumed).toEqual([
      '1.0 % from series to series, known from elsewhere: between_series_percent: 1 in study.json.',
      'No power is said to hold display steps against: they are taken as too fine to count.',
    ]);
    const { certificate: _, ...bare } = STILL;
    expect(planComparison(bare).assumed[1]).toBe(
      'No certificate: every U is relative to this reference only.',
    );
  });

  test('two of eight do for 3.4 %, which one of sixteen does not', () => {
    const plan = planComparison({ ...STILL, wanted: 0.034, most_series: 2, most_laps: 16 });
    expect(plan.design).toEqual({ series: 2, laps: 8, order: 'ABBA-BAAB' });
  });

  test('3.1 % is beyond two series; the best of them, with the fewest laps, and what would help', () => {
    const plan = planComparison({ ...STILL, wanted: 0.031, most_series: 2, most_laps: 12 });
    expect(plan.design).toBeNull();
    expect(plan.outlook).toMatchObject({ series: 2, laps: 8, probability: 0 });
    expect(plan.remedies.map(({ what }) => what)).toEqual(['wish', 'certificate', 'placement']);
    // 3.147 % up; √((ln 1.031/1.96)² − 1.5·0.01²)·2 and √(((ln 1.031/1.96)² − 0.01²)/1.5) down
    const of = (what: string) => plan.remedies.find((one) => one.what === what)?.value;
    expect(of('wish')).toBe(0.032);
    expect(of('certificate')).toBe(0.019);
    expect(plan.sentence).toMatch(
      /^± 3\.1 % for a corrected reading cannot be promised: 2 series of 8 laps, the best of what may be done, reach it in 0 of 100 comparisons, not in 80\. The certificate alone gives ± 2\.0 %\. What would help: to be content with ± 3\.2 %, which this design does promise; or a reference with U = 1\.9 % \(k = 2\); or heads that /,
    );
  });

  test('each remedy alone, to the number that it takes', () => {
    const best = { series: 1, laps: 8, reading_U_promised: 0.0431 };
    const found = (changed: Partial<ComparisonWishes>) =>
      remedies(completeWishes({ ...STILL, wanted: 0.03, ...changed }), best).map(
        ({ what, value }) => [what, value],
      );
    const wish = ['wish', 0.044];
    // (ln 1.03/1.96)² is 2.274e-4. Placement: (2.274e-4 − 1e-4)/2, root 0.00798; the certificate:
    // 2.274e-4 − 2e-4, root 0.00524, U 0.01048. Rounded down.
    expect(found({})).toEqual([wish, ['certificate', 0.01], ['placement', 0.0079]]);
    // A certificate of 4 %: 4e-4 by itself, so only the certificate helps: 2.274e-4 − 2·0.005².
    const certificate = { expanded_uncertainty: 0.04, coverage_factor: 2 };
    expect(found({ certificate, placement: 0.005 })).toEqual([wish, ['certificate', 0.026]]);
    const { certificate: _, ...bare } = STILL;
    // Without one: 2.274e-4/2, root 0.01066 of 0.02.
    expect(
      remedies(completeWishes({ ...bare, wanted: 0.03, placement: 0.02 }), best).map(
        ({ what, value }) => [what, value],
      ),
    ).toEqual([wish, ['placement', 0.01]]);
  });

  test('scatter alone: U goes with it, so the part is the ratio of the logarithms', () => {
    const { certificate: _, ...bare } = STILL;
    const wishes = completeWishes({
      ...bare,
      placement: 0,
      noise: { reference: 0.006, candidate: 0.012 },
      source_noise: 0.005,
    });
    const promised = plannedOutlook(wishes, { series: 1, laps: 8 }, 400)?.reading_U_promised ?? 0;
    const wanted = promised / 2;
    const part = Math.log1p(wanted) / Math.log1p(promised);
    const [, scatter] = remedies(
      { ...wishes, wanted },
      { series: 1, laps: 8, reading_U_promised: promised },
    );
    expect(scatter?.what).toBe('scatter');
    // Of the meter that scatters more, with the source: √(1.2² + 0.5²) = 1.3 %
    expect(scatter?.value).toBeLessThanOrEqual(part * 0.013);
    expect(scatter?.value).toBeGreaterThan((part - 0.004) * 0.013 - 0.0001);
  });
});

test('a display that stands still shows what the power does behind it', () => {
  // A step is 2 % of the power, which falls by 0.1 % a run, 0.05 of a step. The candidate is read at runs 1,
  // 2, 4, 7, 9, 10, 12, 15, Σ(i − 7.5)² = 170: where it shows one number throughout, over 14 · 0.05 = 0.7 of
  // a step and so in three comparisons of ten, its readings are off by just that.
  const wishes = completeWishes({
    ...STILL,
    placement: 0,
    display: { level_mW: 50, step_mW: { reference: 0.001, candidate: 1 } },
  });
  const sd = 0.001 * Math.sqrt(170 / 7);
  const draws = plannedSpread(wishes, { series: 1, laps: 8 }, 400) ?? [];
  const still = draws.filter((parts) =>
    parts().reading.some(
      ({ name, relative_standard_uncertainty: u }) =>
        name === 'scatter of the reading' && Math.abs(u / sd - 1) < 1e-9,
    ),
  );
  expect(Math.abs(still.length / 400 - 0.3)).toBeLessThan(4 * Math.sqrt((0.3 * 0.7) / 400));
});

test('series that differ show their spread, where none is stated', () => {
  const at = (logFactor: number) => ({
    id: String(logFactor),
    logFactor,
    standardUncertainty: 0,
    dof: 12,
  });
  const parts = plannedParts(
    completeWishes({ ...STILL, placement: undefined }),
    {
      series: [at(0.1), at(0.14)],
      reading: { sd: 0, dof: 6 },
      rounding: { reference: 0, candidate: 0 },
    },
    null,
    null,
  );
  const between = parts.factor.find(({ kind }) => kind === 'between-series');
  // 0.04²/2 on one degree of freedom, beside two series with 1 % on two, of a mean of two
  expect(between?.relative_standard_uncertainty).toBeCloseTo(Math.sqrt(0.001 / 3 / 2), 9);
  expect(between?.dof).toBeCloseTo(3, 9);
});

describe('where readings scatter by 1 %, heads by 0.5 %', () => {
  const wishes: ComparisonWishes = {
    wanted: 0.03,
    confidence: 0.95,
    noise: { reference: 0.01, candidate: 0.01 },
    placement: 0.005,
    most_series: 2,
    most_laps: 16,
  };
  const complete = completeWishes(wishes);

  test('five times the draws where 2000 lie within three standard errors of the probability', () => {
    const of = (laps: number, draws?: number) =>
      plannedOutlook(complete, { series: 1, laps }, draws);
    // √(0.8 · 0.2/2000) = 0.0089: within 0.0268 of 0.8, and not
    expect(Math.abs((of(12, 2000)?.probability ?? 0) - 0.8)).toBeLessThan(0.0268);
    expect(of(12)).toEqual(of(12, 10_000));
    expect(Math.abs((of(8, 2000)?.probability ?? 0) - 0.8)).toBeGreaterThan(0.0268);
    expect(of(8)).toEqual(of(8, 2000));
  });

  test('of designs with as many laps the likelier; the nearest is that which promises the least U', () => {
    const size = (series: number, laps: number) =>
      plannedOutlook({ ...complete, wanted: 0.0295 }, { series, laps });
    const [twelve, sixteen, eights] = [size(1, 12), size(1, 16), size(2, 8)];
    expect(twelve?.reading_U_promised).toBeGreaterThan(0.0295);
    expect(sixteen?.reading_U_promised).toBeLessThan(0.0295);
    expect(eights?.reading_U_promised).toBeLessThan(0.0295);
    expect(sixteen?.probability).toBeGreaterThan(eights?.probability ?? 1);
    const plan = planComparison({ ...wishes, wanted: 0.0295 });
    expect(plan.design).toEqual({ series: 1, laps: 16, order: 'ABBA-BAAB' });
    expect(plan.outlook).toEqual(sixteen);
    // 2 % is beyond all of them, at a glance.
    const beyond = planComparison({ ...wishes, wanted: 0.02, most_laps: 8 });
    expect(beyond.design).toBeNull();
    expect(beyond.outlook).toEqual(
      plannedOutlook({ ...complete, wanted: 0.02 }, { series: 2, laps: 8 }),
    );
  });
});

describe('the sheet of runs', () => {
  const sources = [
    { name: ' green ', wavelength_nm: 520 },
    { name: 'blue', wavelength_nm: 445 },
  ];

  test('run by run: each source once, then each again', () => {
    const run = (
      series: string,
      source: string,
      nm: number,
      n: number,
      lap: number,
      meter: string,
    ) => ({
      series,
      source,
      wavelength_nm: nm,
      run: n,
      lap,
      meter,
    });
    const [A, B] = ['reference', 'candidate'];
    const of = (series: string, source: string, nm: number) => [
      run(series, source, nm, 1, 1, A!),
      run(series, source, nm, 2, 1, B!),
      run(series, source, nm, 3, 2, B!),
      run(series, source, nm, 4, 2, A!),
    ];
    expect(plannedRuns({ sources, laps: 2, order: 'ABBA' })).toEqual([
      ...of('green', 'green', 520),
      ...of('blue', 'blue', 445),
    ]);
    expect(plannedRuns({ sources, laps: 2, order: 'ABBA', seriesPerSource: 2 })).toEqual([
      ...of('green / 1', 'green', 520),
      ...of('blue / 1', 'blue', 445),
      ...of('green / 2', 'green', 520),
      ...of('blue / 2', 'blue', 445),
    ]);
    expect(runSheet({ sources: [sources[1]!], laps: 1, order: 'candidate-first' })).toBe(
      'series,source,meter,reading_mW,peak_mW,zero_mW,started_at,setting_nm,exclude,note\nblue,blue,candidate,,,,,,,lap 1\nblue,blue,reference,,,,,,,lap 1\n',
    );
  });

  test.each([
    [149.9, false],
    [150, true],
    [20_000, true],
    [20_001, false],
    [Number.NaN, false],
  ])('a wavelength of %f nm is taken: %s', (wavelength_nm, taken) => {
    const call = () => requireWavelengths([sources[0]!, { name: 'odd', wavelength_nm }]);
    if (taken) expect(call).not.toThrow();
    else expect(call).toThrow(/"odd"/);
  });

  test.each([
    [{ seriesPerSource: 1.5 }],
    [{ seriesPerSource: 0 }],
    [{ laps: 0 }],
    [{ sources: [] }],
    [{ sources: [sources[1]!, { name: 'blue ', wavelength_nm: 520 }] }],
  ])('refuses %j', (changed) => {
    expect(() => plannedRuns({ sources, laps: 1, order: 'ABBA', ...changed })).toThrow(wrong);
  });

  test('to print: title, cautions, steps, a table for each series', () => {
    const lines = runSheetText({
      sources,
      laps: 5,
      order: 'reference-first',
      seriesPerSource: 2,
    }).split('\n');
    expect(lines[0]).toBe('# Comparison of two power meters');
    expect(lines.filter((line) => line.startsWith('- [ ] '))).toEqual(
      CAUTIONS.map((one) => `- [ ] ${one}`),
    );
    expect(lines.filter((line) => line.startsWith('## '))).toEqual([
      '## Before the laser is switched on',
      '## How each reading is taken',
      '## Series green / 1: green, 520 nm',
      '## Series blue / 1: blue, 445 nm',
      '## Series green / 2: green, 520 nm',
      '## Series blue / 2: blue, 445 nm',
    ]);
    expect(lines.filter((line) => /^\d\. /.test(line))).toHaveLength(7);
    const rows = lines.filter((line) => /^\| \d/.test(line));
    expect(rows).toHaveLength(40);
    expect(rows.slice(0, 3)).toEqual([
      '| 1 | 1 | reference | | | | | | |',
      '| 2 | 1 | candidate | | | | | | |',
      '| 3 | 2 | reference | | | | | | |',
    ]);
    expect(lines.join('\n')).toMatch(/is set to 445 nm\. Write down/);
    expect(lines.join('\n')).not.toContain('These are fewer than');
    expect(runSheetText({ sources, laps: 4, order: 'reference-first' })).toContain(
      'These are fewer than the 5 laps',
    );
  });

  test('times: warming up, and five time constants rounded up', () => {
    const text = (changed: object) =>
      runSheetText({ sources, laps: 5, order: 'reference-first', ...changed });
    expect(text({})).toContain('at least 10 minutes');
    expect(text({ warmUp_min: 3 })).toContain('at least 3 minutes');
    expect(text({ slowerTimeConstant_s: 2 })).toContain('slower one: 10 s');
    expect(text({ slowerTimeConstant_s: 2.01 })).toContain('slower one: 11 s');
    expect(text({ title: 'A *b* #1' })).toMatch(/^# A \\\*b\\\* \\#1\n/);
    for (const odd of [{ warmUp_min: 0 }, { slowerTimeConstant_s: 0 }]) {
      expect(() => text(odd)).toThrow(wrong);
    }
  });
});
