import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { demingLine } from '../../../src/power/lines/demingLine.js';
import { inverseOnLine } from '../../../src/power/lines/inverseOnLine.js';
import { ordinaryLine } from '../../../src/power/lines/ordinaryLine.js';
import { weightedLine } from '../../../src/power/lines/weightedLine.js';
import { yorkLine } from '../../../src/power/lines/yorkLine.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromR, fromScipy, peakFlow, york } from './fixtures.js';

const swap = <T extends { readonly x: readonly number[]; readonly y: readonly number[] }>(
  p: T,
) => ({
  ...p,
  x: p.y,
  y: p.x,
});

describe('against other programs', () => {
  test('Deming with ratio 2 and its jackknife are those of R (test/fixtures/lines.R)', () => {
    // Tolerances: R's optimize stops near the square root of the machine's precision
    const [a, b, ja, jb] = fromR.deming2;
    const line = demingLine(peakFlow, { varianceRatio: 2, uncertainty: 'jackknife' });
    nearly(line.slope.value, b, 1e-7);
    nearly(line.intercept.value, a, 2e-6);
    nearly(line.intercept.standard_uncertainty, ja, 1e-6);
    nearly(line.slope.standard_uncertainty, jb, 1e-6);
    const [ua, ub] = fromR.deming2Analytic;
    nearly(line.analytic?.intercept, ua, 1e-6);
    nearly(line.analytic?.slope, ub, 1e-6);
  });

  test.each(Object.entries(fromScipy.sets))(
    'York and Deming are those of scipy.odr: %s',
    (_, set) => {
      // Tolerances: scipy.odr differentiates by finite differences
      const [a, b, ua, ub, cov, s] = set.york;
      const line = yorkLine({
        ...set,
        x_standard_uncertainty: set.ux,
        y_standard_uncertainty: set.uy,
      });
      nearly(line.intercept.value, a, 1e-5);
      nearly(line.slope.value, b, 1e-6);
      nearly(line.intercept.standard_uncertainty, ua, 1e-5);
      nearly(line.slope.standard_uncertainty, ub, 1e-5);
      nearly(line.covariance, cov, 1e-5);
      nearly(line.chi_square, s, 1e-8);
      const deming = demingLine(set, { varianceRatio: 4 });
      nearly(deming.slope.value, set.deming_ratio_4[1], 1e-6);
      nearly(deming.intercept.value, set.deming_ratio_4[0], 1e-5);
    },
  );

  test.each([
    [0.5, fromR.yorkHalf],
    [-0.7, fromR.yorkMinus],
  ])('York with correlation %d is the minimum that R finds', (r, [a, b, s]) => {
    // R's Nelder–Mead ends at about 1e-8 relative
    const line = yorkLine({ ...york, correlation: york.x.map(() => r) });
    nearly(line.intercept.value, a, 1e-7);
    nearly(line.slope.value, b, 1e-7);
    nearly(line.chi_square, s, 1e-9);
  });
});

describe('properties', () => {
  test('exchanging x and y inverts the Deming line', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 20, noNaN: true }), (ratio) => {
        const line = demingLine(peakFlow, { varianceRatio: ratio });
        const other = demingLine(swap(peakFlow), { varianceRatio: 1 / ratio });
        nearly(other.slope.value, 1 / line.slope.value, 1e-12);
        nearly(other.intercept.value, -line.intercept.value / line.slope.value, 1e-10);
        // Relative uncertainty of the slope is the same either way
        nearly(
          (other.slope.standard_uncertainty ?? 0) / other.slope.value,
          (line.slope.standard_uncertainty ?? 1) / line.slope.value,
          1e-10,
        );
      }),
      { seed: 21 },
    );
  });

  test('exchanging x and y inverts the York line, correlated errors included', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.9, max: 0.9, noNaN: true }), (r) => {
        const correlation = york.x.map(() => r);
        const line = yorkLine({ ...york, correlation });
        const other = yorkLine({
          ...swap(york),
          correlation,
          x_standard_uncertainty: york.y_standard_uncertainty,
          y_standard_uncertainty: york.x_standard_uncertainty,
        });
        nearly(other.slope.value, 1 / line.slope.value, 1e-10);
        nearly(other.chi_square, line.chi_square, 1e-10);
      }),
      { seed: 22 },
    );
  });

  test('in other units both lines are the same lines', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        (sx, sy) => {
          const x = york.x.map((value) => sx * value);
          const y = york.y.map((value) => sy * value);
          const scaled = yorkLine({
            x,
            y,
            x_standard_uncertainty: york.x_standard_uncertainty.map((u) => sx * u),
            y_standard_uncertainty: york.y_standard_uncertainty.map((u) => sy * u),
          });
          const line = yorkLine(york);
          nearly(scaled.slope.value, (line.slope.value * sy) / sx, 1e-10);
          nearly(
            scaled.intercept.standard_uncertainty,
            (line.intercept.standard_uncertainty ?? 0) * sy,
            1e-9,
          );
          const deming = demingLine({ x, y }, { varianceRatio: (sy / sx) ** 2 });
          nearly(deming.slope.value, (demingLine(york).slope.value * sy) / sx, 1e-10);
        },
      ),
      { seed: 23 },
    );
  });

  test('a perfect line is found exactly by both', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        (slope, intercept) => {
          const x = [1, 3, 7, 20, 45];
          const y = x.map((value) => intercept + slope * value);
          const ones = x.map(() => 1);
          for (const line of [
            demingLine({ x, y }, { varianceRatio: 3 }),
            yorkLine({ x, y, x_standard_uncertainty: ones, y_standard_uncertainty: ones }),
          ]) {
            nearly(line.slope.value, slope, 1e-12);
            near(line.intercept.value, intercept, 1e-11);
          }
        },
      ),
      { seed: 24 },
    );
  });

  test('with exact x the York line is the weighted one, and Deming tends to the ordinary one', () => {
    const exact = yorkLine({ ...york, x_standard_uncertainty: york.x.map(() => 0) });
    const weighted = weightedLine(york);
    nearly(exact.slope.value, weighted.slope.value, 1e-12);
    nearly(exact.slope.standard_uncertainty, weighted.slope.standard_uncertainty ?? 0, 1e-12);
    nearly(exact.chi_square, weighted.chi_square, 1e-12);
    nearly(
      demingLine(york, { varianceRatio: 1e9 }).slope.value,
      ordinaryLine(york).slope.value,
      1e-8,
    );
  });

  test('intervals hold their 95 % and noise in x does not pull the slopes to zero', () => {
    // 1500 studies of 12 points; four binomial standard errors are 2.25 %. The analytic Deming
    // uncertainty is a large-sample one, the jackknife somewhat wide: half a percent more for both.
    const random = seededRandom(25);
    const trials = 1500;
    const hit = { analytic: 0, jackknife: 0, york: 0, estimated: 0 };
    let mean = 0;
    let ordinary = 0;
    const level = Array.from({ length: 12 }, (_, i) => 10 + 5 * i);
    for (let k = 0; k < trials; k++) {
      const x = level.map((value) => value + 5 * random.normal());
      const y = level.map((value) => 2 + 1.2 * value + 5 * random.normal());
      const fives = level.map(() => 5);
      const inside = (interval: readonly [number, number] | null) =>
        interval !== null && interval[0] <= 1.2 && 1.2 <= interval[1] ? 1 : 0;
      const line = demingLine({ x, y });
      const points = { x, y, x_standard_uncertainty: fives, y_standard_uncertainty: fives };
      hit.analytic += inside(line.slope.interval);
      hit.jackknife += inside(demingLine({ x, y }, { uncertainty: 'jackknife' }).slope.interval);
      hit.york += inside(yorkLine(points).slope.interval);
      hit.estimated += inside(yorkLine(points, { scale: 'estimated' }).slope.interval);
      mean += line.slope.value / trials;
      ordinary += ordinaryLine({ x, y }).slope.value / trials;
    }
    for (const count of Object.values(hit)) near(count / trials, 0.95, 0.0275);
    near(mean, 1.2, 0.02);
    // Attenuation: 25 / (25 + variance of the levels, 325 · 12/11 …) is several percent
    expect(ordinary).toBeLessThan(1.14);
  });

  test('chi-square of the York line has the distribution it is judged by', () => {
    const random = seededRandom(26);
    const u = [1, 2, 1, 3, 1, 2, 1, 1];
    let rejected = 0;
    for (let k = 0; k < 2000; k++) {
      const x = u.map((s, i) => 10 * i + s * random.normal());
      const y = u.map((s, i) => 4 + 8 * i + s * random.normal());
      const line = yorkLine({ x, y, x_standard_uncertainty: u, y_standard_uncertainty: u });
      if ((line.p ?? 1) < 0.05) rejected++;
    }
    // Four binomial standard errors
    near(rejected / 2000, 0.05, 0.0195);
  });
});

describe('awkward input', () => {
  test('points on an upright line are refused, not answered with infinity', () => {
    expect(() => demingLine({ x: [1, 1, 1], y: [1, 2, 3] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
    expect(() => demingLine({ x: [1, 2, 1, 2], y: [0, 0, 9, 9] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('flat points give slope 0 in both', () => {
    const flat = { x: [1, 2, 3, 4], y: [5, 5, 5, 5] };
    const ones = [1, 1, 1, 1];
    expect(demingLine(flat).slope.value).toBe(0);
    near(
      yorkLine({ ...flat, x_standard_uncertainty: ones, y_standard_uncertainty: ones }).slope.value,
      0,
      1e-12,
    );
  });

  test('two points give Deming no uncertainty; three give no jackknife', () => {
    expect(demingLine({ x: [1, 2], y: [1, 3] }).slope.standard_uncertainty).toBeNull();
    const three = demingLine({ x: [1, 2, 3], y: [1, 3, 4] }, { uncertainty: 'jackknife' });
    expect(three.slope.interval).toBeNull();
    expect(three.why).toMatch(/four points/);
  });

  test('a ratio of 0, a correlation above 1 and a point exact in both are refused', () => {
    const wrong = expect.objectContaining({ code: 'argument-wrong' });
    expect(() => demingLine(peakFlow, { varianceRatio: 0 })).toThrow(wrong);
    expect(() => yorkLine({ ...york, correlation: york.x.map(() => 1.1) })).toThrow(wrong);
    const zeros = york.x.map(() => 0);
    expect(() =>
      yorkLine({ ...york, x_standard_uncertainty: zeros, y_standard_uncertainty: zeros }),
    ).toThrow(wrong);
  });

  test('a York line can be used backwards with a stated uncertainty', () => {
    const line = yorkLine(york);
    const inverse = inverseOnLine(line, { y: 4, y_standard_uncertainty: 0.1 });
    near(inverse.value, (4 - 5.47991) / -0.480533, 1e-4);
    expect(inverse.interval?.[0]).toBeLessThan(inverse.interval?.[1] ?? 0);
  });
});

test('a Deming line without any slope has one with an error all the same', () => {
  // x̄ = 3, sxx = 10, sxy = 0, syy = 4/5 + … = 1.2: √(10 · 1.2 / (10² · 3)) = 0.2
  const line = demingLine({ x: [1, 2, 3, 4, 5], y: [1, 0, 0, 0, 1] });
  near(line.slope.value, 0, 1e-15);
  near(line.analytic?.slope, 0.2, 1e-12);
});
