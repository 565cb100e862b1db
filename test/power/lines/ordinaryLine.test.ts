import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inverseOnLine } from '../../../src/power/lines/inverseOnLine.js';
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
