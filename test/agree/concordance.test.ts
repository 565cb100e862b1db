import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { concordance } from '../../src/agree/concordance.js';
import { correlation } from '../../src/agree/correlation.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';

/** Pairs of correlation 0.8, the candidate shifted and stretched. */
function draw(seed: number, n: number, shift: number, scale: number) {
  const random = seededRandom(seed);
  const reference: number[] = [];
  const candidate: number[] = [];
  for (let i = 0; i < n; i++) {
    const z = random.normal();
    reference.push(z);
    candidate.push(shift + scale * (0.8 * z + 0.6 * random.normal()));
  }
  return { reference, candidate };
}

describe('concordance correlation', () => {
  test('it is its definition: 2s₁₂ / (s₁² + s₂² + (difference of means)²)', () => {
    // Lin 1989, equation 2, divisor n, by hand: means 2 and 3, s₁² = s₂² = 2/3, s₁₂ = 2/3
    const found = concordance({ reference: [1, 2, 3], candidate: [2, 3, 4] });
    near(found.value, (2 * (2 / 3)) / (2 / 3 + 2 / 3 + 1), 1e-12);
    near(found.precision, 1, 1e-12);
    near(found.accuracy, 4 / 7, 1e-12);
  });

  test('its standard error is that of simulated samples, with bias and without', () => {
    // 4000 samples of 100 pairs: the simulated standard deviation is good to 1.1 %; four of them,
    // and 1.5 % for the formula being one of large samples
    for (const [shift, scale] of [
      [0, 1],
      [1, 1],
      [1.5, 0.6],
    ]) {
      const zs: number[] = [];
      let formula = 0;
      for (let i = 0; i < 4000; i++) {
        const found = concordance(draw(1000 + i, 100, shift, scale));
        zs.push(Math.atanh(found.value!));
        formula += found.standard_error_z! ** 2 / 4000;
      }
      const centre = zs.reduce((sum, z) => sum + z, 0) / zs.length;
      const spread = Math.sqrt(zs.reduce((sum, z) => sum + (z - centre) ** 2, 0) / zs.length);
      near(Math.sqrt(formula) / spread, 1, 0.06);
    }
  });

  test('never above the correlation in size, the same when the meters swap, 1 for equal pairs', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 500 }), fc.integer({ min: 1, max: 500 })), {
          minLength: 4,
          maxLength: 20,
        }),
        (tuples) => {
          const pairs = { reference: tuples.map(([x]) => x), candidate: tuples.map(([, y]) => y) };
          const found = concordance(pairs);
          const r = correlation(pairs);
          if (r === null) {
            expect(found.value).toBeNull();
            return;
          }
          expect(Math.abs(found.value!)).toBeLessThanOrEqual(Math.abs(r) + 1e-12);
          const swapped = { reference: pairs.candidate, candidate: pairs.reference };
          near(concordance(swapped).value, found.value!, 1e-12);
          if (found.low !== null) {
            expect(found.low).toBeLessThanOrEqual(found.value!);
            expect(found.high!).toBeGreaterThanOrEqual(found.value!);
          }
        },
      ),
      { seed: 4, numRuns: 150 },
    );
    const same = [3, 5, 8, 9];
    expect(concordance({ reference: same, candidate: same })).toMatchObject({
      value: 1,
      low: null,
    });
  });

  test('why correlation is not agreement: half the power correlates perfectly', () => {
    const power = [10, 50, 120, 300];
    const half = { reference: power, candidate: power.map((value) => value / 2) };
    near(correlation(half), 1, 1e-12);
    expect(concordance(half).value!).toBeLessThan(0.8);
  });

  test('why neither is a verdict: the same errors look better over a wider range', () => {
    const errors = [4, -5, 3, -4, 5, -3];
    const value = (powers: readonly number[]) =>
      concordance({
        reference: powers,
        candidate: powers.map((power, i) => power + errors[i]),
      }).value!;
    expect(value([90, 94, 98, 102, 106, 110])).toBeLessThan(0.9);
    expect(value([10, 100, 200, 300, 400, 500])).toBeGreaterThan(0.999);
  });

  test('awkward input', () => {
    expect(concordance({ reference: [1, 1, 1, 1], candidate: [1, 2, 3, 4] })).toMatchObject({
      value: null,
    });
    expect(() => concordance({ reference: [1, 2], candidate: [1, 2] })).toThrow(/at least 3 pairs/);
    const opposed = concordance({ reference: [1, 2, 3, 4], candidate: [4, 3, 2, 1] });
    near(opposed.value, -1, 1e-12);
  });
});

test('pairs that are all equal have no interval, and say so', () => {
  const same = [1, 2, 3, 4];
  expect(concordance({ reference: same, candidate: same })).toMatchObject({
    value: expect.closeTo(1, 12),
    low: null,
    why: 'All pairs are equal.',
  });
});
