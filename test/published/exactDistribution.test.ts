import { describe, expect, it } from 'vitest';
import { exactDistribution } from '../../src/budget/exactDistribution.js';
import { normalCdf, normalQuantile } from '../../src/statistics/distributions.js';
import { studentPlusRectangular } from '../../src/statistics/studentPlusRectangular.js';
import { half, part, sources } from './exactDistribution.cases.js';
import { holds } from './holds.js';

holds(sources);

const flat = (halfWidth: number) => part('rectangular', halfWidth / Math.sqrt(3));

describe('exactDistribution against arithmetic', () => {
  it('four normal inputs: ± 2 · 1.959 964', () => {
    expect(half([1, 1, 1, 1].map((u) => part('normal', u)))).toBeCloseTo(
      2 * normalQuantile(0.975),
      6,
    );
  });

  it('four rectangular inputs: ± 2√3 (2 − (3/5)^¼)', () => {
    // JCGM 101:2008, 9.2.3, Table 3, prints the analytic interval beside that of the trials.
    expect(half([1, 1, 1, 1].map((u) => part('rectangular', u)))).toBeCloseTo(
      2 * Math.sqrt(3) * (2 - 0.6 ** 0.25),
      8,
    );
  });

  it('two rectangles make a trapezoid: k = (1 − √((1 − p)(1 − β²))) / √((1 + β²)/6)', () => {
    // EA-4/02 M:2013, S10.13 (from memory, β = 0.33 there gives k = 1.83); holds by arithmetic for
    // p above the flat top.
    for (const beta of [0.1, 0.33, 0.8]) {
      const parts = [flat((1 + beta) / 2), flat((1 - beta) / 2)];
      const u = Math.sqrt((1 + beta ** 2) / 6);
      const k = (1 - Math.sqrt(0.05 * (1 - beta ** 2))) / u;
      expect(half(parts) / u).toBeCloseTo(k, 8);
    }
  });
});

describe('exactDistribution against closed forms', () => {
  it('Irwin–Hall: the sum of n equal rectangles', () => {
    // F(s) = Σ (−1)^k C(n, k) (s − k)₊ⁿ / n! for n uniforms on [0, 1]; Irwin and Hall, Biometrika 19
    // (1927) 225 and 240.
    for (const n of [1, 2, 3, 5, 8]) {
      const { cdf } = exactDistribution(Array.from({ length: n }, () => flat(0.5)));
      for (const share of [0.02, 0.1, 0.3, 0.5, 0.77, 0.99]) {
        const s = share * n;
        let sum = 0;
        let term = 1;
        for (let k = 0; k < s; k++) {
          sum += term * (s - k) ** n;
          term *= -(n - k) / (k + 1);
        }
        let factorial = 1;
        for (let k = 2; k <= n; k++) factorial *= k;
        expect(Math.abs(cdf(s - n / 2) - sum / factorial)).toBeLessThanOrEqual(1e-7);
      }
    }
  });

  it('normal + rectangle: σ/(2a) · [G((x + a)/σ) − G((x − a)/σ)], G(z) = z Φ(z) + φ(z)', () => {
    const G = (z: number) => z * normalCdf(z) + Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
    for (const a of [1e-6, 1e-3, 0.1, 1, 10, 1e3, 1e6]) {
      const { cdf } = exactDistribution([part('normal', 1), flat(a)]);
      for (const share of [-0.9, 0.2, 0.5, 1, 1.1]) {
        const x = share * (a + 2);
        const closed = (G(x + a) - G(x - a)) / (2 * a);
        expect(Math.abs(cdf(x) - closed)).toBeLessThanOrEqual(a < 1e-3 ? 1e-6 : 1e-7);
      }
    }
  });

  it('Cauchy parts (t with ν = 1) add up to a Cauchy of the summed scales', () => {
    const cauchy = (x: number) => 0.5 + Math.atan(x) / Math.PI;
    for (const scales of [[1], [1, 1], [0.3, 0.7, 2], [1, 1e-6]]) {
      const { cdf, quantile } = exactDistribution(scales.map((u) => part('student', u, 1)));
      const all = scales.reduce((sum, one) => sum + one, 0);
      for (const x of [0.01, 0.5, 3, 12.7, 100, 1e4, 1e7, 1e12]) {
        expect(Math.abs(cdf(x * all) - cauchy(x))).toBeLessThanOrEqual(1e-7);
      }
      for (const p of [0.6, 0.9, 0.975, 0.999]) {
        expect(quantile(p) / (all * Math.tan(Math.PI * (p - 0.5)))).toBeCloseTo(1, 5);
      }
    }
  });

  it('one Student and one rectangular part: the closed form of studentPlusRectangular', () => {
    for (const dof of [1, 2, 3.5, 10, 60]) {
      for (const rectangular of [0.05, 0.5, 2, 20]) {
        const closed = studentPlusRectangular({
          standardUncertainty: 1,
          dof,
          rectangular,
          confidence: 0.95,
        });
        const parts = [part('student', 1, dof), part('rectangular', rectangular)];
        expect(half(parts) / closed).toBeCloseTo(1, 6);
      }
    }
  });

  it('a lone part has the quantiles of its shape', () => {
    // Triangle of half-width 1: 1 − √(2(1 − p)); arcsine: sin(π(p − ½)).
    expect(half([part('triangular', 1 / Math.sqrt(6))])).toBeCloseTo(1 - Math.sqrt(0.05), 8);
    expect(half([part('arcsine', Math.SQRT1_2)])).toBeCloseTo(Math.sin(0.475 * Math.PI), 6);
    expect(half([flat(1)])).toBeCloseTo(0.95, 12);
  });

  it('the shortest interval of an arcsine leaves everything out on one side', () => {
    // Density highest at the ends: from −1 to the 0.95-quantile, sin(0.45 π).
    const [low, high] = exactDistribution([part('arcsine', Math.SQRT1_2)]).shortestInterval(0.95);
    expect(low).toBeCloseTo(-1, 6);
    expect(high).toBeCloseTo(Math.sin(0.45 * Math.PI), 6);
  });
});
