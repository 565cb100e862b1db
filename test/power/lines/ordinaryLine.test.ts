import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inverseOnLine } from '../../../src/power/lines/inverseOnLine.js';
import type { Line, LinePoints } from '../../../src/power/lines/line.js';
import { ordinaryLine } from '../../../src/power/lines/ordinaryLine.js';
import { predictOnLine } from '../../../src/power/lines/predictOnLine.js';
import { weightedLine } from '../../../src/power/lines/weightedLine.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromR, peakFlow } from './fixtures.js';

describe('against R (test/fixtures/lines.R)', () => {
  test('the ordinary line is that of lm', () => {
    const [a, b, sa, sb, cov, s, r2] = fromR.ordinary;
    const line = ordinaryLine(peakFlow);
    nearly(line.intercept.value, a, 1e-11);
    nearly(line.slope.value, b, 1e-12);
    nearly(line.intercept.standard_uncertainty, sa, 1e-12);
    nearly(line.slope.standard_uncertainty, sb, 1e-12);
    nearly(line.covariance, cov, 1e-12);
    nearly(line.residual_sd, s, 1e-12);
    nearly(line.r_squared, r2, 1e-12);
  });

  test('line and new reading at 300 are those of predict', () => {
    // Tolerance 1e-8: the t quantile is good to about 2e-9
    const [value, low, high, , newLow, newHigh] = fromR.ordinaryAt300;
    const at = predictOnLine(ordinaryLine(peakFlow), { x: 300 });
    nearly(at.value, value, 1e-12);
    nearly(at.interval[0], low, 1e-8);
    nearly(at.interval[1], high, 1e-8);
    nearly(at.new_reading_interval?.[0], newLow, 1e-8);
    nearly(at.new_reading_interval?.[1], newHigh, 1e-8);
  });

  test("the inverse interval ends where R's prediction band crosses the observation", () => {
    const inverse = inverseOnLine(ordinaryLine(peakFlow), { y: 300 });
    nearly(inverse.interval?.[0], fromR.ordinaryInverse300[0], 1e-8);
    nearly(inverse.interval?.[1], fromR.ordinaryInverse300[1], 1e-8);
  });

  test('the weighted line is that of lm with weights, scaled or not', () => {
    const points = { ...peakFlow, y_standard_uncertainty: peakFlow.y.map((y) => 0.02 * y) };
    const [a, b, sa, sb, s] = fromR.weightedEstimated;
    const estimated = weightedLine(points, { scale: 'estimated' });
    nearly(estimated.intercept.value, a, 1e-11);
    nearly(estimated.slope.value, b, 1e-11);
    nearly(estimated.intercept.standard_uncertainty, sa, 1e-11);
    nearly(estimated.slope.standard_uncertainty, sb, 1e-11);
    nearly(estimated.residual_sd, s, 1e-11);
    const [ua, ub, chiSquare] = fromR.weightedKnown;
    const known = weightedLine(points);
    nearly(known.intercept.standard_uncertainty, ua, 1e-11);
    nearly(known.slope.standard_uncertainty, ub, 1e-11);
    nearly(known.chi_square, chiSquare, 1e-11);
    // R: 2e-77; here one minus the distribution function, which ends at the rounding level
    near(known.p, 0, 1e-12);
  });
});

/** Slope 1.5, intercept −2/3, squares left 1/6 with one degree of freedom. */
const THREE = { x: [1, 2, 3], y: [1, 2, 4] };
// s² = 1/6, u²(b) = s²/2, u²(a) = s²(1/3 + 2²/2), cov = −2s²/2
const S2 = 1 / 6;
const UA = Math.sqrt(S2 * (1 / 3 + 2));
const UB = Math.sqrt(S2 / 2);
const about = (value: number, digits = 9) => expect.closeTo(value, digits);
const coefficient = (value: number, u: number, k: number) => ({
  value: about(value),
  standard_uncertainty: about(u),
  interval: [about(value - k * u, 5), about(value + k * u, 5)],
});
const TWO_POINTS = expect.stringMatching(/three are the least/);

describe('three points by hand, the whole record', () => {
  const residuals = [about(1 / 6), about(-1 / 3), about(1 / 6)];

  test('ordinary, at 95 % and 90 %', () => {
    // t(1): 12.7062 and 6.3138 (table)
    for (const [confidence, k] of [
      [undefined, 12.706204736],
      [0.9, 6.313751515],
    ] as const) {
      expect(ordinaryLine(THREE, { confidence })).toEqual({
        method: 'ordinary',
        intercept: coefficient(-2 / 3, UA, k),
        slope: coefficient(1.5, UB, k),
        covariance: about(-S2),
        dof: 1,
        points: 3,
        confidence: confidence ?? 0.95,
        coverage_factor: about(k, 5),
        residuals,
        residual_sd: about(Math.sqrt(S2)),
        why: '',
        // 1 − (1/6)/(14/3)
        r_squared: about(1 - 1 / 28),
      });
    }
  });

  test('weighted with one unit each: the scale known, and estimated', () => {
    const points = { ...THREE, y_standard_uncertainty: [1, 1, 1] };
    // χ² = 1/6 with one degree of freedom; p by SciPy 1.17.1: stats.chi2.sf(1 / 6, 1)
    const fit = { chi_square: about(S2), chi_square_dof: 1, p: about(0.68309139831, 7) };
    const shared = { method: 'weighted', points: 3, confidence: 0.95, residuals, why: '', ...fit };
    const k = 1.959963985;
    expect(weightedLine(points)).toEqual({
      ...shared,
      intercept: coefficient(-2 / 3, Math.sqrt(1 / 3 + 2), k),
      slope: coefficient(1.5, Math.sqrt(0.5), k),
      covariance: about(-1),
      dof: 1e6,
      coverage_factor: about(k, 6),
      residual_sd: about(Math.sqrt(S2)),
    });
    expect(weightedLine(points, { scale: 'estimated' })).toEqual({
      ...shared,
      intercept: coefficient(-2 / 3, UA, 12.706204736),
      slope: coefficient(1.5, UB, 12.706204736),
      covariance: about(-S2),
      dof: 1,
      coverage_factor: about(12.706204736, 5),
      residual_sd: about(Math.sqrt(S2)),
    });
  });

  test('unequal weights: those of 1/u², the centre of x with them', () => {
    // u = 1, 1, ½, so w = 1, 1, 4: x̄ = 15/6, ȳ = 19/6, Σw(x − x̄)² = 3.5, Σw(x − x̄)y = 5.5
    const line = weightedLine({ ...THREE, y_standard_uncertainty: [1, 1, 0.5] });
    near(line.slope.value, 5.5 / 3.5, 1e-12);
    near(line.intercept.value, 19 / 6 - (2.5 * 5.5) / 3.5, 1e-12);
    near(line.slope.standard_uncertainty, 1 / Math.sqrt(3.5), 1e-12);
    near(line.intercept.standard_uncertainty, Math.sqrt(1 / 6 + 2.5 ** 2 / 3.5), 1e-12);
    near(line.covariance, -2.5 / 3.5, 1e-12);
  });
});

describe('two points', () => {
  const two = { x: [1, 3], y: [2, 8] };
  const bare = (value: number) => ({
    value: about(value),
    standard_uncertainty: null,
    interval: null,
  });

  test('leave the ordinary line nothing but itself', () => {
    const { residuals, ...rest } = ordinaryLine(two);
    expect(rest).toEqual({
      method: 'ordinary',
      intercept: bare(-1),
      slope: bare(3),
      covariance: null,
      dof: 0,
      points: 2,
      confidence: 0.95,
      coverage_factor: null,
      residual_sd: null,
      why: TWO_POINTS,
      r_squared: about(1),
    });
    expect(residuals).toEqual([about(0), about(0)]);
  });

  test('have a line with uncertainties where these are known, not where they are estimated', () => {
    const points = { ...two, y_standard_uncertainty: [1, 1] };
    const known = weightedLine(points);
    // Σ(x − x̄)² = 2, x̄ = 2
    expect(known.slope).toEqual(coefficient(3, Math.sqrt(0.5), 1.959963985));
    expect(known.intercept).toEqual(coefficient(-1, Math.sqrt(0.5 + 4 / 2), 1.959963985));
    expect(known).toMatchObject({ dof: 1e6, residual_sd: null, chi_square_dof: 0, p: null });
    expect(weightedLine(points, { scale: 'estimated' })).toMatchObject({
      slope: bare(3),
      dof: 0,
      residual_sd: null,
      coverage_factor: null,
      chi_square_dof: 0,
      p: null,
    });
  });
});

/** y = 1 + 2x, u(a) = 0.1, u(b) = 0.05, covariance −0.003, all known exactly. */
const KNOWN: Line = {
  method: 'weighted',
  intercept: { value: 1, standard_uncertainty: 0.1, interval: null },
  slope: { value: 2, standard_uncertainty: 0.05, interval: null },
  covariance: -0.003,
  dof: 1e6,
  points: 5,
  confidence: 0.95,
  coverage_factor: null,
  residuals: [],
  residual_sd: 0.3,
  why: '',
};

describe('what is read off a line, by hand', () => {
  // u²(x) = 0.01 + 0.0025x² − 0.006x
  test.each([
    [2, 5, 0.008],
    [-1, -1, 0.0185],
  ])('forwards at %d', (x, value, variance) => {
    const u = Math.sqrt(variance);
    const k = 1.959963985;
    const on = {
      value,
      standard_uncertainty: about(u),
      interval: [about(value - k * u, 6), about(value + k * u, 6)],
    };
    expect(predictOnLine(KNOWN, { x })).toEqual({
      ...on,
      new_reading_standard_uncertainty: null,
      new_reading_interval: null,
      why: expect.stringMatching(/state it/),
    });
    for (const sd of [0.2, 0]) {
      const single = Math.hypot(u, sd);
      expect(predictOnLine(KNOWN, { x, readingSd: sd })).toEqual({
        ...on,
        new_reading_standard_uncertainty: about(single),
        new_reading_interval: [about(value - k * single, 6), about(value + k * single, 6)],
        why: '',
      });
    }
    // Of an ordinary line the scatter of a reading is known, unless another is stated.
    const ordinary = { ...KNOWN, method: 'ordinary' } as const;
    near(
      predictOnLine(ordinary, { x }).new_reading_standard_uncertainty,
      Math.sqrt(variance + 0.09),
      1e-12,
    );
    near(
      predictOnLine(ordinary, { x, readingSd: 0.4 }).new_reading_standard_uncertainty,
      Math.sqrt(variance + 0.16),
      1e-12,
    );
  });

  test.each([
    [2, 5, 0.2],
    [2, 5, 0],
    [-2, -9, 0.2],
  ])('backwards on a slope of %d', (slope, y, uy) => {
    const line = { ...KNOWN, slope: { ...KNOWN.slope, value: slope } };
    const found = inverseOnLine(line, { y, y_standard_uncertainty: uy });
    const x = (y - 1) / slope;
    near(found.value, x, 1e-12);
    const variance = (at: number) => uy ** 2 + 0.01 + 0.0025 * at ** 2 - 0.006 * at;
    near(found.standard_uncertainty, Math.sqrt(variance(x)) / 2, 1e-12);
    expect(found.why).toBe('');
    // Fieller's ends are where the distance from the line is k times its standard uncertainty.
    const [low, high] = found.interval as readonly [number, number];
    expect([low < x, x < high]).toEqual([true, true]);
    for (const end of [low, high]) {
      near((y - 1 - slope * end) ** 2 / variance(end), 1.959963985 ** 2, 1e-6);
    }
  });

  test('the mean of several readings is known better by their root', () => {
    const line = ordinaryLine({ x: [1, 2, 3, 4, 5], y: [1, 2.1, 2.9, 4.2, 5] });
    const sd = line.residual_sd as number;
    for (const readings of [1, 4]) {
      expect(inverseOnLine(line, { y: 3, readings })).toEqual(
        inverseOnLine(line, { y: 3, y_standard_uncertainty: sd / Math.sqrt(readings) }),
      );
    }
    expect(inverseOnLine(line, { y: 3 })).toEqual(inverseOnLine(line, { y: 3, readings: 1 }));
    expect(inverseOnLine(line, { y: 3, readings: 4 })).not.toEqual(inverseOnLine(line, { y: 3 }));
  });

  test('a slope that may be zero still says where x would be, one of zero does not', () => {
    const of = (value: number) =>
      inverseOnLine(
        { ...KNOWN, slope: { ...KNOWN.slope, value } },
        { y: 5, y_standard_uncertainty: 0.1 },
      );
    const nothing = { standard_uncertainty: null, interval: null };
    // 1.96 · 0.05 = 0.098
    expect(of(0.097)).toMatchObject({ value: about(4 / 0.097), ...nothing });
    expect(of(-0.097)).toMatchObject({ value: about(-4 / 0.097), ...nothing });
    expect(of(0)).toMatchObject({ value: null, ...nothing });
    expect(of(0.099).interval).not.toBeNull();
    expect(of(-0.099).interval).not.toBeNull();
  });

  const wrong = expect.objectContaining({ code: 'argument-wrong' });
  test.each([
    ['no reading', { y: 5, readings: 0 }],
    ['half a reading', { y: 5, readings: 1.5 }],
    ['an uncertainty below 0', { y: 5, y_standard_uncertainty: -0.1 }],
    ['one that is no number', { y: 5, y_standard_uncertainty: Number.NaN }],
    ['one without end', { y: 5, y_standard_uncertainty: Number.POSITIVE_INFINITY }],
    ['y that is no number', { y: Number.NaN, y_standard_uncertainty: 0.1 }],
  ])('%s is refused', (_, observed) => {
    expect(() => inverseOnLine(KNOWN, observed)).toThrow(wrong);
    const ordinary = { ...KNOWN, method: 'ordinary' } as const;
    expect(() => inverseOnLine(ordinary, observed)).toThrow(wrong);
  });

  test('without a residual standard deviation the uncertainty of y has to be stated', () => {
    const bare = { ...KNOWN, method: 'ordinary', residual_sd: null } as const;
    expect(() => inverseOnLine(bare, { y: 5 })).toThrow(wrong);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY])(
    'x of %d, or a scatter, is refused',
    (value) => {
      expect(() => predictOnLine(KNOWN, { x: value })).toThrow(wrong);
      expect(() => predictOnLine(KNOWN, { x: 1, readingSd: value })).toThrow(wrong);
      expect(() => predictOnLine(KNOWN, { x: 1, readingSd: -1 })).toThrow(wrong);
    },
  );

  const without = { value: 1, standard_uncertainty: null, interval: null };
  test.each([
    ['intercept', { intercept: without }],
    ['slope', { slope: without }],
    ['covariance', { covariance: null }],
  ])('a line without an uncertainty of its %s says nothing', (_, changes) => {
    const use = () => predictOnLine({ ...KNOWN, ...changes }, { x: 1 });
    expect(use).toThrow(expect.objectContaining({ code: 'too-few-values' }));
    expect(use).toThrow('weighted, 5 points');
  });

  test('a covariance up to the product of both uncertainties, of either sign', () => {
    const at = (covariance: number, x: number) =>
      predictOnLine({ ...KNOWN, covariance }, { x }).standard_uncertainty;
    // |0.1 ∓ 0.05x| where both move together
    near(at(-0.005, 2), 0, 1e-8);
    near(at(0.005, 2), 0.2, 1e-12);
    for (const covariance of [0.005001, -0.005001]) expect(() => at(covariance, 2)).toThrow(wrong);
  });

  test.each([
    ['no record', null],
    ['another method', { ...KNOWN, method: 'guess' }],
    ['no intercept', { ...KNOWN, intercept: undefined }],
    ['an intercept that is no number', { ...KNOWN, intercept: { ...KNOWN.intercept, value: '1' } }],
    ['a slope that is no number', { ...KNOWN, slope: { ...KNOWN.slope, value: Number.NaN } }],
    ['an uncertainty below 0', { ...KNOWN, slope: { value: 2, standard_uncertainty: -0.1 } }],
    ['a covariance that is no number', { ...KNOWN, covariance: '0' }],
    ['degrees of freedom below 0', { ...KNOWN, dof: -1 }],
    ['a confidence in percent', { ...KNOWN, confidence: 95 }],
    ['a scatter below 0', { ...KNOWN, residual_sd: -1 }],
  ])('what is no line is refused: %s', (_, line) => {
    expect(() => predictOnLine(line as Line, { x: 1 })).toThrow(wrong);
    expect(() => inverseOnLine(line as Line, { y: 1, y_standard_uncertainty: 1 })).toThrow(wrong);
  });
});

describe('properties', () => {
  test('a perfect line is found exactly, with no uncertainty', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: -100, max: 100, noNaN: true }),
        (slope, intercept) => {
          const x = [1, 4, 9, 20, 55];
          const line = ordinaryLine({ x, y: x.map((value) => intercept + slope * value) });
          near(line.slope.value, slope, 1e-12);
          near(line.intercept.value, intercept, 1e-11);
          near(line.residual_sd, 0, 1e-11);
        },
      ),
      { seed: 11 },
    );
  });

  test('stretching and shifting the axes stretches and shifts the line', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: -50, max: 50, noNaN: true }),
        (sx, sy, shift) => {
          const line = ordinaryLine(peakFlow);
          const moved = ordinaryLine({
            x: peakFlow.x.map((value) => sx * value),
            y: peakFlow.y.map((value) => sy * value + shift),
          });
          nearly(moved.slope.value, (line.slope.value * sy) / sx, 1e-10);
          near(moved.intercept.value, line.intercept.value * sy + shift, 1e-8);
          nearly(
            moved.slope.standard_uncertainty,
            ((line.slope.standard_uncertainty ?? 0) * sy) / sx,
            1e-9,
          );
        },
      ),
      { seed: 12 },
    );
  });

  test('reading back what the line predicts gives x', () => {
    fc.assert(
      fc.property(fc.double({ min: 150, max: 700, noNaN: true }), (x) => {
        const line = ordinaryLine(peakFlow);
        const y = predictOnLine(line, { x }).value;
        const inverse = inverseOnLine(line, { y });
        nearly(inverse.value, x, 1e-10);
        expect(inverse.interval?.[0]).toBeLessThan(x);
        expect(inverse.interval?.[1]).toBeGreaterThan(x);
      }),
      { seed: 13 },
    );
  });

  test('intervals of slope, new reading and inverse hold their 95 %', () => {
    // 2000 studies of 8 points; four binomial standard errors are 1.95 %
    const random = seededRandom(14);
    const trials = 2000;
    const hit = { slope: 0, reading: 0, inverse: 0 };
    const x = [10, 20, 30, 40, 50, 60, 70, 80];
    const inside = (interval: readonly [number, number] | null, value: number) =>
      interval !== null && interval[0] <= value && value <= interval[1] ? 1 : 0;
    for (let k = 0; k < trials; k++) {
      const line = ordinaryLine({ x, y: x.map((value) => 3 + 1.1 * value + 2 * random.normal()) });
      hit.slope += inside(line.slope.interval, 1.1);
      const next = 3 + 1.1 * 95 + 2 * random.normal();
      hit.reading += inside(predictOnLine(line, { x: 95 }).new_reading_interval, next);
      const observed = 3 + 1.1 * 33 + 2 * random.normal();
      hit.inverse += inside(inverseOnLine(line, { y: observed }).interval, 33);
    }
    for (const count of Object.values(hit)) near(count / trials, 0.95, 0.0195);
  });
});

describe('awkward input', () => {
  test('two points give a line without uncertainty, and the reason', () => {
    const line = ordinaryLine({ x: [1, 2], y: [3, 5] });
    near(line.slope.value, 2, 1e-14);
    expect(line.slope).toMatchObject({ standard_uncertainty: null, interval: null });
    expect(line.residual_sd).toBeNull();
    expect(line.why).toMatch(/three are the least/);
    expect(() => predictOnLine(line, { x: 3 })).toThrow(
      expect.objectContaining({ code: 'too-few-values' }),
    );
  });

  test.each([
    ['one point', [1], [1], 'too-few-values'],
    ['no point', [], [], 'too-few-values'],
    ['equal x', [2, 2, 2], [1, 2, 3], 'argument-wrong'],
    ['unequal lengths', [1, 2, 3], [1, 2], 'argument-wrong'],
    ['a value that is not a number', [1, 2, 3], [1, Number.NaN, 3], 'argument-wrong'],
    ['an infinite value', [1, 2, Number.POSITIVE_INFINITY], [1, 2, 3], 'argument-wrong'],
  ])('%s is refused', (_, x, y, code) => {
    expect(() => ordinaryLine({ x, y })).toThrow(expect.objectContaining({ code }));
  });

  test('points without y are told what they lack', () => {
    expect(() => ordinaryLine({ x: [1, 2, 3] } as unknown as LinePoints)).toThrow(
      'must be a record with x, y. Found: no y.',
    );
  });

  test('constant y gives slope 0 and no R²', () => {
    const line = ordinaryLine({ x: [1, 2, 3], y: [7, 7, 7] });
    near(line.slope.value, 0, 1e-14);
    expect(line.r_squared).toBeNull();
  });

  test('a slope that cannot be told from zero cannot be used backwards', () => {
    const inverse = inverseOnLine(ordinaryLine({ x: [1, 2, 3, 4], y: [5, 4, 6, 5] }), { y: 5 });
    expect(inverse.interval).toBeNull();
    expect(inverse.why).toMatch(/cannot be told from zero/);
  });

  test('uncertainties of 0 or of the wrong number are refused by the weighted line', () => {
    const points = { x: [1, 2, 3], y: [1, 2, 3] };
    for (const y_standard_uncertainty of [
      [1, 0, 1],
      [1, 1],
      [1, -1, 1],
    ]) {
      expect(() => weightedLine({ ...points, y_standard_uncertainty })).toThrow(
        expect.objectContaining({ code: 'argument-wrong' }),
      );
    }
  });

  test('a line with known uncertainties needs the uncertainty of the observation stated', () => {
    const line = weightedLine({ x: [1, 2, 3], y: [1, 2, 3.1], y_standard_uncertainty: [1, 1, 1] });
    expect(predictOnLine(line, { x: 2 }).new_reading_interval).toBeNull();
    expect(() => inverseOnLine(line, { y: 2 })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
    near(inverseOnLine(line, { y: 2, y_standard_uncertainty: 0.01 }).value, 2, 0.2);
  });

  test('a correlation where the covariance of a line belongs is refused', () => {
    const line = ordinaryLine({ x: [1, 2, 3, 4], y: [1.1, 2, 3.1, 3.9] });
    const u = (line.intercept.standard_uncertainty ?? 0) * (line.slope.standard_uncertainty ?? 0);
    const mistaken = { ...line, covariance: (line.covariance ?? 0) / u };
    for (const use of [
      () => predictOnLine(mistaken, { x: 2 }),
      () => inverseOnLine(mistaken, { y: 2 }),
    ]) {
      expect(use).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
    }
    expect(predictOnLine(line, { x: 2 }).standard_uncertainty).toBeGreaterThan(0);
  });
});
