import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { predictionInterval, severalUnits } from '../../src/factors/severalUnits.js';
import { seededRandom } from '../../src/statistics/random.js';

describe('published prediction interval', () => {
  // J. L. Devore, Probability and Statistics for Engineering and the Sciences, fat content of ten
  // hot dogs, read in a public R companion to the book (examples 7.12 and 7.13). 95 % prediction
  // interval printed (12.09, 31.71): from memory. R: mean(x)+c(-1,1)*qt(.975,9)*sd(x)*sqrt(1.1)
  it('of one more hot dog is 12.09 to 31.71', () => {
    const fat = [25.2, 21.3, 22.8, 17.0, 29.8, 21.0, 25.5, 16.0, 20.9, 19.5];
    const [low, high] = predictionInterval(fat);
    expect(Number(low.toFixed(2))).toBe(12.09);
    expect(Number(high.toFixed(2))).toBe(31.71);
  });

  // The same data: 95 % interval of the mean printed (18.94, 24.86), from memory. R: t.test(x)
  it('of the mean is 18.94 to 24.86, on the logarithms of factors', () => {
    const fat = [25.2, 21.3, 22.8, 17.0, 29.8, 21.0, 25.5, 16.0, 20.9, 19.5];
    const found = severalUnits({
      units: fat.map((value, i) => ({
        name: `dog ${i}`,
        factor: Math.exp(value),
        relative_standard_uncertainty: 0.01,
      })),
      tolerance: 0.05,
      confidence: 0.95,
    });
    expect(found.meanInterval.map((end) => Number(Math.log(end).toFixed(2)))).toEqual([
      18.94, 24.86,
    ]);
    expect(found.furtherUnit.map((end) => Number(Math.log(end).toFixed(2)))).toEqual([
      12.09, 31.71,
    ]);
  });

  it('holds one further value as often as it says', () => {
    const random = seededRandom(22);
    const trials = 4000;
    let held = 0;
    for (let i = 0; i < trials; i++) {
      const [low, high] = predictionInterval(Array.from({ length: 4 }, random.normal));
      const next = random.normal();
      if (next >= low && next <= high) held++;
    }
    // Binomial standard error 0.34 %: within three of it.
    expect(Math.abs(held / trials - 0.95)).toBeLessThan(0.0104);
  });
});

const units = (factors: readonly number[], u = 0.005) =>
  severalUnits({
    units: factors.map((factor, i) => ({
      name: `unit ${i + 1}`,
      factor,
      relative_standard_uncertainty: u,
    })),
    tolerance: 0.05,
    confidence: 0.95,
  });

describe('several units', () => {
  it('tell whether a further one serves as it is, with a common factor, or not at all', () => {
    expect(units([1.0, 1.005, 0.995, 1.002, 0.998, 1.001]).verdict).toBe('uncorrected');
    expect(units([1.2, 1.206, 1.194, 1.202, 1.198, 1.201]).verdict).toBe('common');
    expect(units([1.2, 1.3, 1.1, 1.25, 1.15, 1.22]).verdict).toBe('each');
  });

  // Q with two units is (y₁ − y₂)²/(2u²); chi-square table, 1 degree of freedom: 3.841 at 5 %.
  it('test their spread by Cochran’s Q against the chi-square table', () => {
    const apart = Math.exp(0.01 * Math.sqrt(2 * 3.841));
    expect(units([1, apart], 0.01).p).toBeCloseTo(0.05, 4);
  });

  it('spread no more than measured when the measurement explains it all', () => {
    const result = units([1.0, 1.004, 0.996], 0.02);
    expect(result.betweenUnitsRelativeSd).toBe(0);
    expect(result.relativeSd).toBeCloseTo(0.004, 5);
    expect(result.p).toBeGreaterThan(0.9);
  });

  it('the prediction never claims more than the units show, whatever they are', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), { minLength: 2, maxLength: 8 }),
        (factors) => {
          const result = units(factors);
          expect(result.furtherUnit[0]).toBeLessThanOrEqual(result.factor * (1 + 1e-12));
          expect(result.furtherUnit[1]).toBeGreaterThanOrEqual(result.factor * (1 - 1e-12));
          // √(1 + 1/n) against √(1/n): the mean is always better known than a further unit.
          expect(result.meanInterval[0]).toBeGreaterThanOrEqual(result.furtherUnit[0]);
          expect(result.meanInterval[1]).toBeLessThanOrEqual(result.furtherUnit[1]);
          expect(result.betweenUnitsRelativeSd).toBeLessThanOrEqual(result.relativeSd);
          if (result.verdict === 'uncorrected') {
            expect(result.furtherUnit[0]).toBeGreaterThanOrEqual(1 / 1.05 - 1e-12);
            expect(result.furtherUnit[1]).toBeLessThanOrEqual(1 / 0.95 + 1e-12);
          }
        },
      ),
      { seed: 23 },
    );
  });

  it('of which there are only two say little', () => {
    const result = units([1.2, 1.22]);
    expect(result.verdict).toBe('each');
    expect(result.why).toMatch(/wide because little is known/);
  });

  it('that lie apart beyond all measure are refused, where the further unit alone does too', () => {
    // ln 0, 0 and 100: mean 33.3, s = 57.7, t(2) = 4.303: the mean reaches to 177, a further unit
    // 4.303 · 57.7 · √(4/3) = 287 beyond it, to 320; the limit is 300.
    expect(() => units([1, 1, Math.exp(100)])).toThrow('too far apart');
    expect(() => units([1, 1, Math.exp(90)])).not.toThrow();
  });

  it('with exactly known factors have no test', () => {
    expect(units([1, 1.1], 0).p).toBeNull();
  });

  it('refuse a single unit and factors that are none', () => {
    expect(() => units([1])).toThrow(/at least 2/);
    expect(() => units([1, 0])).toThrow(/factor/);
    expect(() => units([1, 1.1], -1)).toThrow(/uncertainty/);
    expect(() => units([1, 1.1], Number.NaN)).toThrow(/uncertainty/);
    expect(() => units([1e-80, 1e80])).toThrow(/too far apart/);
    expect(() => predictionInterval([1, 2], { confidence: 1 })).toThrow(/confidence/);
  });
});
