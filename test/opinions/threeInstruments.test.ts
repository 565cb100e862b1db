import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { precisionOfThree } from '../../src/opinions/threeInstruments.js';
import { seededRandom } from '../../src/statistics/random.js';

const separate = (lists: readonly (readonly number[])[], relative = false) =>
  precisionOfThree({
    instruments: lists.map((values, i) => ({ name: `instrument ${i + 1}`, values })),
    relative,
  });

describe('separating three instruments', () => {
  // Hand-worked from the formula of Grubbs 1948: items 1…5; instrument 2 is off by +1 −1 +1 −1 0,
  // instrument 3 by +1 +1 −1 −1 0 (orthogonal). Variances of the differences: 1, 1 and
  // (0 4 4 0 0)/4 = 2. So s₁² = ½(1 + 1 − 2) = 0, s₂² = ½(1 + 2 − 1) = 1, s₃² = 1.
  it('finds the exact variances of orthogonal errors', () => {
    const { instruments } = separate([
      [1, 2, 3, 4, 5],
      [2, 1, 4, 3, 5],
      [2, 3, 2, 3, 5],
    ]);
    expect(instruments[0].variance).toBe(0);
    expect(instruments[1].variance).toBeCloseTo(1, 12);
    expect(instruments[2].variance).toBeCloseTo(1, 12);
  });

  it('recovers the scatter that was put in, to what 20 000 items allow', () => {
    const random = seededRandom(18);
    const items = Array.from({ length: 20000 }, () => 100 * Math.exp(random.normal()));
    const truth = [0.01, 0.02, 0.03];
    const lists = truth.map((s) => items.map((item) => item * Math.exp(s * random.normal())));
    const found = separate(lists, true).instruments.map((one) => one.standardDeviation as number);
    found.forEach((s, i) => {
      // Relative standard error of the smallest one about 3 %: within four of it.
      expect(s / truth[i]).toBeGreaterThan(0.88);
      expect(s / truth[i]).toBeLessThan(1.12);
    });
  });

  it('adds up: two variances sum to that of their difference, whatever the items', () => {
    const list = fc.array(fc.double({ min: 1, max: 100, noNaN: true }), {
      minLength: 4,
      maxLength: 4,
    });
    fc.assert(
      fc.property(list, list, list, list, (a, b, c, shift) => {
        const [one, two] = separate([a, b, c]).instruments;
        const d = a.map((value, i) => value - b[i]);
        const m = d.reduce((x, y) => x + y) / 4;
        const variance = d.reduce((sum, v) => sum + (v - m) ** 2, 0) / 3;
        expect(one.variance + two.variance).toBeCloseTo(variance, 6);
        const moved = separate([a, b, c].map((x) => x.map((value, i) => value + shift[i])));
        expect(moved.instruments[2].variance).toBeCloseTo(
          separate([a, b, c]).instruments[2].variance,
          6,
        );
      }),
      { seed: 19 },
    );
  });

  it('reports a negative variance as one, without a standard deviation', () => {
    // Instrument 1 lies halfway between two that err in opposite ways: errors that are not independent.
    const { instruments, why } = separate([
      [1, 2, 3],
      [2, 1, 3],
      [0, 3, 3],
    ]);
    expect(instruments[0].variance).toBeLessThan(0);
    expect(instruments[0].standardDeviation).toBeNull();
    expect(why).toMatch(/instrument 1 came out negative/);
  });

  it('says what came of it, and which value cannot be compared', () => {
    const steady = [
      [1, 2, 3],
      [1, 2, 3],
      [2, 1, 3],
    ];
    // The first two are one: their variances of exactly 0 are no negative ones.
    const { instruments, why } = separate(steady);
    expect(instruments.map((one) => one.variance)).toEqual([0, 0, 1]);
    expect(why).toBe(
      'Scatter separated from 3 items. This is precision only: an instrument that scatters little may still read wrong.',
    );
    expect(() => separate([[1, -4, 3], ...steady.slice(1)], true)).toThrow(/-4/);
    const unnamed = [{ values: [1, 2, 3] }] as unknown as { name: string; values: number[] }[];
    expect(() => precisionOfThree({ instruments: unnamed })).toThrow(/name/);
  });

  it('refuses two instruments, unequal lists, too few items, and zeros on the log scale', () => {
    expect(() =>
      separate([
        [1, 2, 3],
        [1, 2, 3],
      ]),
    ).toThrow(/Three instruments/);
    expect(() =>
      separate([
        [1, 2, 3],
        [1, 2, 3],
        [1, 2, 3, 4],
      ]),
    ).toThrow(/one value per item/);
    expect(() =>
      separate([
        [1, 2],
        [1, 2],
        [1, 2],
      ]),
    ).toThrow(/at least 3/);
    expect(() =>
      separate(
        [
          [0, 2, 3],
          [1, 2, 3],
          [1, 2, 3],
        ],
        true,
      ),
    ).toThrow(/above 0/);
  });
});
