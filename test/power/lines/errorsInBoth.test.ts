import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { demingLine } from '../../../src/power/lines/demingLine.js';
import { inverseOnLine } from '../../../src/power/lines/inverseOnLine.js';
import { ordinaryLine } from '../../../src/power/lines/ordinaryLine.js';
import { weightedLine } from '../../../src/power/lines/weightedLine.js';
import { yorkLine } from '../../../src/power/lines/yorkLine.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromDefinition, fromR, fromScipy, peakFlow, york } from './fixtures.js';

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

const about = (value: number, digits = 9) => expect.closeTo(value, digits);

describe('Deming by hand', () => {
  // The same points: level 0.4, squares left 1.2 with three degrees of freedom, t(3) = 3.182446 (table)
  test.each([
    [1, Math.sqrt(0.4)],
    [4, Math.sqrt(0.1)],
  ])('the whole record of a flat line, ratio %d', (varianceRatio, sdOfX) => {
    const line = demingLine({ x: [1, 2, 3, 4, 5], y: [1, 0, 0, 0, 1] }, { varianceRatio });
    const u = Math.sqrt(0.4 / 5 + 9 * 0.04);
    const k = 3.182446305;
    expect(line).toEqual({
      method: 'deming',
      intercept: {
        value: about(0.4),
        standard_uncertainty: about(u),
        interval: [about(0.4 - k * u, 6), about(0.4 + k * u, 6)],
      },
      slope: {
        value: about(0),
        standard_uncertainty: about(0.2),
        interval: [about(-0.2 * k, 6), about(0.2 * k, 6)],
      },
      covariance: about(-3 * 0.04),
      dof: 3,
      points: 5,
      confidence: 0.95,
      coverage_factor: about(k, 6),
      residuals: [0.6, -0.4, -0.4, -0.4, 0.6].map((value) => about(value)),
      residual_sd: about(Math.sqrt(0.4)),
      why: '',
      uncertainty: 'analytic',
      analytic: { intercept: about(u), slope: about(0.2) },
      jackknife: line.jackknife,
      // The errors of y alone make the scatter where nothing rises.
      error_sd: { x: about(sdOfX), y: about(Math.sqrt(0.4)) },
    });
  });

  test('what of the scatter is x and what is y, where the line rises', () => {
    const line = demingLine(peakFlow, { varianceRatio: 3 });
    const x = (line.residual_sd as number) / Math.sqrt(3 + line.slope.value ** 2);
    expect(line.error_sd).toEqual({ x: about(x, 6), y: about(Math.sqrt(3) * x, 6) });
  });

  test('the jackknife is that of its definition (test/fixtures/powerLines.py)', () => {
    const { x, y, intercept, slope, covariance } = fromDefinition.jackknife;
    const options = { varianceRatio: 2, uncertainty: 'jackknife' } as const;
    const line = demingLine({ x, y }, options);
    expect(line.jackknife).toEqual({ intercept: about(intercept), slope: about(slope) });
    expect(line).toMatchObject({
      intercept: { standard_uncertainty: about(intercept) },
      slope: { standard_uncertainty: about(slope) },
      covariance: about(covariance),
      dof: 2,
      why: '',
      uncertainty: 'jackknife',
    });
    expect(demingLine({ x, y }, { ...options, uncertainty: 'analytic' }).jackknife).toEqual(
      line.jackknife,
    );
  });

  test('few points: what they leave out, and why', () => {
    const bare = { standard_uncertainty: null, interval: null };
    for (const uncertainty of ['analytic', 'jackknife'] as const) {
      expect(demingLine({ x: [1, 3], y: [2, 8] }, { uncertainty })).toMatchObject({
        intercept: { value: about(-1), ...bare },
        slope: { value: about(3), ...bare },
        covariance: null,
        dof: 0,
        coverage_factor: null,
        residual_sd: null,
        why: expect.stringMatching(/three are the least/),
        analytic: null,
        jackknife: null,
        error_sd: null,
      });
    }
    const three = demingLine({ x: [1, 2, 3], y: [1, 3, 4] });
    expect(three).toMatchObject({ jackknife: null, dof: 1, why: '' });
    expect(three.analytic).not.toBeNull();
    expect(three.slope.interval).not.toBeNull();
  });

  test('four points of which one alone holds the line up have no jackknife', () => {
    const points = { x: [1, 1, 1, 2], y: [1, 1.1, 0.9, 2] };
    expect(demingLine(points)).toMatchObject({ jackknife: null, why: '' });
    const asked = demingLine(points, { uncertainty: 'jackknife' });
    expect(asked).toMatchObject({
      jackknife: null,
      covariance: null,
    });
    expect(asked.why).toMatch(/four points/);
    expect(asked.analytic).not.toBeNull();
  });

  test('slopes of a thousand millions and of their inverse keep all their digits', () => {
    const large = [1e9, 2e9, 3e9];
    nearly(demingLine({ x: [1, 2, 3], y: large }).slope.value, 1e9, 1e-12);
    nearly(demingLine({ x: large, y: [1, 2, 3] }).slope.value, 1e-9, 1e-12);
    nearly(demingLine({ x: [1, 2, 3], y: large.map((v) => -v) }).slope.value, -1e9, 1e-12);
  });

  test('the corners of a square have no best line', () => {
    expect(() => demingLine({ x: [0, 0, 1, 1], y: [0, 1, 0, 1] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('one point is none', () => {
    expect(() => demingLine({ x: [1], y: [1] })).toThrow(
      expect.objectContaining({ code: 'too-few-values' }),
    );
  });
});

describe('York', () => {
  test('the record, with the uncertainties believed and with their ratios alone', () => {
    // χ² = 11.8663531941 (York et al. 2004); its p by SciPy 1.17.1: stats.chi2.sf(11.8663531941, 8)
    const known = yorkLine(york);
    expect(known).toMatchObject({
      method: 'york',
      dof: 1e6,
      points: 10,
      chi_square: about(11.8663531941, 7),
      chi_square_dof: 8,
      p: about(0.15726722868948007, 7),
      residual_sd: about(Math.sqrt(11.8663531941 / 8), 7),
      coverage_factor: about(1.959963985, 6),
      why: '',
    });
    known.residuals.forEach((rest, i) => {
      near(rest, york.y[i] - known.intercept.value - known.slope.value * york.x[i], 1e-12);
    });
    const estimated = yorkLine(york, { scale: 'estimated', confidence: 0.9 });
    const wider = Math.sqrt(11.8663531941 / 8);
    nearly(
      estimated.slope.standard_uncertainty,
      (known.slope.standard_uncertainty as number) * wider,
      1e-8,
    );
    // t(8) at 90 %: 1.859548 (table)
    expect(estimated).toMatchObject({
      dof: 8,
      confidence: 0.9,
      coverage_factor: about(1.859548, 5),
    });
  });

  test('moves each point at a right angle where both errors are equal', () => {
    const ones = york.x.map(() => 1);
    const line = yorkLine({ ...york, x_standard_uncertainty: ones, y_standard_uncertainty: ones });
    const [a, b] = [line.intercept.value, line.slope.value];
    york.x.forEach((x, i) => {
      const foot = (x + b * (york.y[i] - a)) / (1 + b ** 2);
      near(line.adjusted.x[i], foot, 1e-9);
      near(line.adjusted.y[i], a + b * foot, 1e-9);
    });
    nearly(line.slope.value, demingLine(york).slope.value, 1e-9);
    expect(line.iterations).toBeGreaterThan(1);
    expect(line.iterations).toBeLessThan(100);
  });

  test('two points: known uncertainties make those of the line, estimated ones nothing', () => {
    const two = {
      x: [0, 2],
      y: [1, 1],
      x_standard_uncertainty: [0, 0],
      y_standard_uncertainty: [1, 1],
    };
    expect(yorkLine(two)).toMatchObject({
      intercept: { standard_uncertainty: about(1) },
      slope: { value: about(0), standard_uncertainty: about(Math.SQRT1_2) },
      covariance: about(-0.5),
      residual_sd: null,
      chi_square_dof: 0,
      p: null,
    });
    expect(yorkLine(two, { scale: 'estimated' }).slope).toMatchObject({
      standard_uncertainty: null,
      interval: null,
    });
  });

  test.each([
    ['one correlation too few', { correlation: york.x.slice(1).map(() => 0) }],
    ['a correlation that is no number', { correlation: york.x.map(() => Number.NaN) }],
    ['a text', { correlation: york.x.map(() => '0') as unknown as number[] }],
    ['a correlation below −1', { correlation: york.x.map(() => -1.01) }],
    ['an uncertainty of x below 0', { x_standard_uncertainty: york.x.map(() => -1) }],
    ['an uncertainty of y below 0', { y_standard_uncertainty: york.x.map(() => -1) }],
    ['one of x too few', { x_standard_uncertainty: [1, 2] }],
    ['one of y too few', { y_standard_uncertainty: [1, 2] }],
  ])('%s is refused', (_, changes) => {
    expect(() => yorkLine({ ...york, ...changes })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('a correlation of 1 is allowed, and no correlation is one of 0', () => {
    // The line falls, so errors that rise together do not cancel.
    expect(yorkLine({ ...york, correlation: york.x.map(() => 1) }).slope.value).toBeLessThan(0);
    expect(yorkLine({ ...york, correlation: york.x.map(() => 0) })).toEqual(yorkLine(york));
  });

  test('a cloud that has no line says that it does not settle', () => {
    const cloud = {
      x: [6, 7, 4],
      y: [4, 9, 6],
      x_standard_uncertainty: [1, 2, 0],
      y_standard_uncertainty: [1, 1, 2],
    };
    expect(() => yorkLine(cloud)).toThrow(
      expect.objectContaining({ code: 'no-convergence', found: '2000 iterations' }),
    );
  });
});
