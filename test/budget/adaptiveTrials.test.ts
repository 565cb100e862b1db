import { describe, expect, test } from 'vitest';
import { adaptiveTrials, numericalTolerance } from '../../src/budget/adaptiveTrials.js';
import { near } from '../near.js';

type OfRank = (rank: number) => number;
const plain: OfRank = (rank) => rank;
/** Blocks of ranks 0 to size − 1 out of order; the functions say what stands for a rank in each block in turn. */
const blocks = (...each: readonly OfRank[]) => {
  let at = 0;
  return (block: Float64Array) => {
    const value = each[at++ % each.length];
    for (let i = 0; i < block.length; i++) block[i] = value((i * 7919) % block.length);
  };
};
const steering = {
  confidence: 0.95,
  significantDigits: 2,
  toleranceDivisor: 1,
  maxTrials: 1_000_000,
  interval: 'symmetric',
} as const;
const two = { ...steering, maxTrials: 20_000 };
const refused = (found: unknown, expected?: string) =>
  expect.objectContaining({ code: 'argument-wrong', found, expected });

// Of 0 to n − 1 the mean is (n − 1)/2 and the squares about it are n(n² − 1)/12.
const n = 10_000;
const squares = (n * (n ** 2 - 1)) / 12;

test('five equal blocks: stable with noise 0, all by arithmetic', () => {
  // Each rank five times: 47 500 of 50 000 inside, 1250 below, so from the 1250th smallest, 249, to the
  // 48 750th, 9749; every interval of 47 501 trials is as short as the first. u = 2887: δ = 50.
  expect(adaptiveTrials(blocks(plain), steering)).toEqual({
    mean: 4999.5,
    standard_uncertainty: expect.closeTo(Math.sqrt((5 * squares) / (5 * n - 1)), 9),
    symmetric: [249, 9749],
    shortest: [0, 9500],
    trials: 50_000,
    stable: true,
    tolerance: 50,
    noise: 0,
  });
});

test('the shortest interval lies where the values are densest', () => {
  const found = (value: OfRank) => adaptiveTrials(blocks(value), two).shortest;
  // Squares are dense below: from 0 to the 9500th; turned round, above.
  expect(found((rank) => rank ** 2)).toEqual([0, 9500 ** 2]);
  expect(found((rank) => -(rank ** 2))).toEqual([-(9500 ** 2), -0]);
  // Dense in the middle: the cube of the distance from it; half of 9500 on either side.
  const [low, high] = found((rank) => (rank - 4999.5) ** 3);
  near(Math.cbrt(low), -4749.5, 1);
  near(Math.cbrt(high), 4750.5, 1);
});

describe('how many trials', () => {
  test.each([
    // With blocks to spare five are taken, else as many as there may be, two at least.
    [0.95, 1_000_000, 50_000],
    [0.95, 50_000, 50_000],
    [0.95, 49_999, 40_000],
    [0.95, 39_999, 30_000],
    [0.95, 20_000, 20_000],
    // Blocks of 100/(1 − p), 10 000 at least.
    [0.5, 20_000, 20_000],
    [0.995, 40_000, 40_000],
    [0.99375, 32_000, 32_000],
    [0.992, 37_499, 25_000],
  ])('at p = %f with %i at most: %i', (confidence, maxTrials, trials) => {
    const found = adaptiveTrials(blocks(plain), { ...steering, confidence, maxTrials });
    expect([found.trials, found.stable]).toEqual([trials, true]);
  });

  test('fewer than two blocks are refused', () => {
    const ask = (confidence: number, maxTrials: number) => () =>
      adaptiveTrials(blocks(plain), { ...steering, confidence, maxTrials });
    expect(ask(0.95, 19_999)).toThrow(refused('19999', 'maxTrials of 20000 or more'));
    expect(ask(0.995, 39_999)).toThrow(refused('39999', 'maxTrials of 40000 or more'));
    expect(ask(0.95, Number.NaN)).toThrow(refused('NaN', 'maxTrials of 20000 or more'));
    expect(ask(95, 20_000)).toThrow(refused('95'));
  });
});

test('draws that are not finite are refused', () => {
  for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(() =>
      adaptiveTrials(
        blocks(plain, () => wrong),
        two,
      ),
    ).toThrow(refused(undefined, 'a model that holds over the whole range of its inputs'));
  }
});

describe('noise: of two blocks, by how much the worst of the results differs', () => {
  // Twice s/√2 of two values is their distance.
  const bent = (from: number, to: number, by: number): OfRank => {
    return (rank) => (from <= rank && rank <= to ? rank + by : rank);
  };
  // Two values of ± 10⁶ in place of 0 and 9999: √((squares + 2·10¹² − 2·4999.5²)/9999)
  const outliers: OfRank = (rank) => (rank === 0 ? -995_000.5 : rank === 9999 ? 1_004_999.5 : rank);
  const withThem = Math.sqrt((squares + 2e12 - 2 * 4999.5 ** 2) / (n - 1));
  test.each<[string, OfRank, whole: number, onlyInterval: number]>([
    ['nothing', plain, 0, 0],
    ['all, downwards', (rank) => rank - 12, 12, 12],
    // The middle 8001 by 20: the mean moves by 16.002, the ends stay where they are.
    ['the mean', bent(1000, 9000, 20), 16.002, 0],
    ['u', outliers, withThem - Math.sqrt(squares / (n - 1)), 0],
    // The ends are the values of rank 249 and 9749.
    ['the lower end', bent(0, 300, -100), 100, 100],
    ['the upper end', bent(9700, 9999, 100), 100, 100],
  ])('in %s', (_, other, whole, onlyInterval) => {
    near(adaptiveTrials(blocks(plain, other), two).noise, whole, 1e-6);
    const { noise } = adaptiveTrials(blocks(other, plain), { ...two, intervalOnly: true });
    near(noise, onlyInterval, 1e-6);
  });

  test('of four blocks: 2s/√4', () => {
    // Moved by 0, 3, 0 and 5: s² = (4 + 1 + 4 + 9)/3
    const moved = [0, 3, 0, 5].map(
      (by): OfRank =>
        (rank) =>
          rank + by,
    );
    const found = adaptiveTrials(blocks(...moved), { ...steering, maxTrials: 40_000 });
    near(found.noise, Math.sqrt(6), 1e-9);
    near(found.mean, 5001.5, 1e-9);
    near(found.standard_uncertainty, Math.sqrt((4 * squares + n * 18) / (4 * n - 1)), 1e-8);
  });

  test('is that of the shortest interval where that is asked for', () => {
    // Rank 249 of the squares moves with 100 others by 100; the ends of the shortest interval stay.
    const squared: OfRank = (rank) => rank ** 2;
    const moved: OfRank = (rank) => rank ** 2 + (200 <= rank && rank <= 300 ? 100 : 0);
    const noise = (interval: 'symmetric' | 'shortest') =>
      adaptiveTrials(blocks(squared, moved), { ...two, interval, intervalOnly: true }).noise;
    expect([noise('symmetric'), noise('shortest')]).toEqual([100, 0]);
  });

  test('finds the ends also among many equal values', () => {
    const tens = (by: number): OfRank => {
      return (rank) => 10 * Math.floor(rank / 10) + by;
    };
    const found = adaptiveTrials(blocks(tens(0), tens(7)), { ...two, intervalOnly: true });
    near(found.noise, 7, 1e-9);
    // Of both blocks together 500 lie below: ten of 0, of 7, of 10, of 17 … 247.
    expect(found.symmetric).toEqual([247, 9747]);
  });
});

describe('standing still', () => {
  const apart = (d: number) =>
    blocks(
      (rank) => rank + d,
      (rank) => rank - d,
    );

  test('is a noise of δ at most: 50 for u = 2887', () => {
    // Two blocks that lie 2d apart
    expect(adaptiveTrials(apart(25), two)).toMatchObject({ stable: true, tolerance: 50 });
    const found = adaptiveTrials(apart(25.5), two);
    expect(found).toMatchObject({ stable: false, noise: 51, tolerance: 50, trials: 20_000 });
    near(
      found.standard_uncertainty,
      Math.sqrt((2 * squares + 2 * n * 25.5 ** 2) / (2 * n - 1)),
      1e-8,
    );
  });

  test('is looked for as long as there may be blocks', () => {
    // Noise of h blocks that lie 100 above and below in turn: 200/√(h − 1) for even h, 51.6 for 16, and
    // 200·√(h + 1)/h for odd h, 49.9 for 17.
    const found = adaptiveTrials(apart(100), steering);
    expect(found).toMatchObject({ stable: true, trials: 170_000 });
    near(found.noise, (200 * Math.sqrt(18)) / 17, 1e-9);
  });

  test('to a fifth of δ, and to one digit', () => {
    const of = (changes: object) => adaptiveTrials(apart(0), { ...two, ...changes }).tolerance;
    expect(of({ toleranceDivisor: 5 })).toBe(10);
    expect(of({ significantDigits: 1 })).toBe(500);
  });

  test('the interval alone takes a normal u of its width: 9500/(2 · 1.959 964) = 2423.5', () => {
    // 0.99 has δ = 0.005, 1.01 has 0.05; u itself is 2887/2423.5 of that, above 1 for both.
    const of = (scale: number, intervalOnly: boolean) =>
      adaptiveTrials(
        blocks((rank) => (rank * scale) / 2423.5),
        { ...two, intervalOnly },
      ).tolerance;
    expect([of(0.99, true), of(1.01, true), of(0.99, false)]).toEqual([0.005, 0.05, 0.05]);
  });
});

describe('δ, half a unit of the last digit of u', () => {
  test.each([
    // JCGM 101:2008, 7.9.2, examples 1 to 3 (from memory): 0.000 35 with two digits δ = 0.000 005,
    // with one digit 0.000 05; 2 with one digit 0.5.
    [0.00035, 2, 0.000005],
    [0.00035, 1, 0.00005],
    [2, 1, 0.5],
    [0.0996, 2, 0.005],
    [9.94, 2, 0.05],
    [9.96, 2, 0.5],
    [0, 2, 0],
    [-2, 1, 0],
    [Number.NaN, 1, 0],
  ] as const)('of u = %f with %i digits is %f', (u, digits, delta) => {
    expect(numericalTolerance(u, digits)).toBeCloseTo(delta, 15);
  });
});
