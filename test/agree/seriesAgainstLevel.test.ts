import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lapLimitsAtLevel } from '../../src/agree/lapLimitsAtLevel.js';
import { limitsAtLevel } from '../../src/agree/limitsAtLevel.js';
import { proportionalBias } from '../../src/agree/proportionalBias.js';
import { seriesAgainstLevel, slopeOfNoise } from '../../src/agree/seriesAgainstLevel.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { PEAK_FLOW } from '../peakFlow.js';

// Numbers of R 4.2.2 (test/fixtures/agree.txt).
const { reference, candidate } = PEAK_FLOW;
const single = reference.map((value, i) => ({ reference: [value], candidate: [candidate[i]] }));

describe('one lap a series', () => {
  test('has the lines that R finds', () => {
    const { lines, within_variance } = seriesAgainstLevel(single);
    near(lines.bias.slope, -0.0286874451525, 1e-12);
    near(lines.bias.residual_sd, 39.8960341828, 1e-9);
    // Sizes of residuals over √(1 − leverage)
    near(lines.spread.intercept, 76.4441489866, 1e-9);
    near(lines.spread.slope, -0.0997785139843, 1e-12);
    near(lines.spread.slope_p, 0.0924151231928, 1e-8);
    expect(within_variance).toBeNull();
    near(seriesAgainstLevel(single, { scale: 'log' }).lines.bias.slope, -0.151020486411, 1e-11);
  });

  test('has the weighted lines that R finds, and their limits', () => {
    const found = seriesAgainstLevel(single);
    near(found.weighted?.bias.slope, -0.0196093663269, 1e-12);
    near(found.weighted?.bias.residual_sd, 30.7688469341, 1e-9);
    near(found.weighted?.bias.slope_interval[0], -0.168662457123, 1e-8);
    near(found.weighted?.spread.slope, -0.0380511514205, 1e-12);
    const at = lapLimitsAtLevel(found, 300, { spread: 'linear' });
    near(at.bias, 5.4961761963, 1e-9);
    near(at.bias_interval[0], -35.5236865988, 1e-5);
    near(at.bias_interval[1], 46.5160389914, 1e-5);
    const sd = Math.sqrt(Math.PI / 2) * (47.0222147702 - 0.0380511514205 * 300);
    near(at.high, 5.4961761963 + 1.96 * sd, 1e-8);
  });

  test('has the limits of the pairs at a level, with their intervals', () => {
    const found = seriesAgainstLevel(single);
    const at = lapLimitsAtLevel(found, 400, { spread: 'constant' });
    const plain = limitsAtLevel(proportionalBias({ reference, candidate }), 400);
    near(at.low, plain.low ?? 0, 1e-9);
    near(at.high, plain.high ?? 0, 1e-9);
    // R, as in proportionalBias.test.ts
    near(at.bias_interval[0], -19.1844771478, 1e-6);
    expect(at.low_interval[0]).toBeLessThan(at.low ?? Number.NaN);
    expect(at.low_interval[1]).toBeGreaterThan(at.low ?? Number.NaN);
    expect(lapLimitsAtLevel(found, 400, { spread: 'linear' })).toMatchObject({
      low_interval: [null, null],
      high_interval: [null, null],
    });
  });
});

describe('several laps a series', () => {
  test('add the scatter within series, by hand', () => {
    // Differences level/10 ± 1 about means that lie on the line, the last two off it by ± 1: levels 10,
    // 20, 30, 40 of reference 10, 20, …; means 1, 2, 3, 4 plus 0.5, −0.5, −0.5, 0.5 (level moves by half).
    const off = [0.5, -0.5, -0.5, 0.5];
    const series = [10, 20, 30, 40].map((level, i) => {
      const d = level / 10 + off[i];
      return {
        reference: [level - d / 2, level - d / 2],
        candidate: [level + d / 2 + 1, level + d / 2 - 1],
      };
    });
    const found = seriesAgainstLevel(series);
    near(found.lines.bias.slope, 0.1, 1e-12);
    // Residuals ± 0.5 four times on two degrees of freedom: 4·0.25/2
    near(found.lines.bias.residual_sd ** 2, 0.5, 1e-12);
    // Within: four series with ± 1, eight times 1 on four degrees of freedom
    near(found.within_variance, 2, 1e-12);
    const at = lapLimitsAtLevel(found, 30, { spread: 'constant', multiplier: 2 });
    near(at.bias, 3, 1e-12);
    // 0.5 + (1 − ½)·2
    near(at.high, 3 + 2 * Math.sqrt(1.5), 1e-12);
    // Leverage 1/4 + 15²/500 = 0.7 at both ends, 0.3 within: residuals 0.5/√0.3 and 0.5/√0.7, both below 1,
    // so with ± 1 the mean size is 1 in every series.
    near(found.lines.spread.slope, 0, 1e-12);
    near(found.lines.spread.intercept, 1, 1e-12);
  });

  test('take no slope from within a series, where noise alone makes one', () => {
    const random = seededRandom(5);
    const series = [100, 150, 200, 250, 300].map((power) => ({
      reference: Array.from({ length: 40 }, () => power),
      candidate: Array.from({ length: 40 }, () => power + 15 * random.normal()),
    }));
    const pooled = proportionalBias({
      reference: series[0].reference,
      candidate: series[0].candidate,
    });
    near(pooled.bias.slope, 2, 1e-9);
    const { lines } = seriesAgainstLevel(series);
    expect(Math.abs(lines.bias.slope)).toBeLessThan(0.05);
  });
});

describe('the slope that noise makes', () => {
  test('is the one of the formula when all noise is in one meter', () => {
    const random = seededRandom(6);
    const power = Array.from({ length: 4000 }, () => 100 + 5 * random.normal());
    const found = seriesAgainstLevel(
      power.map((value) => ({ reference: [value], candidate: [value + 4 * random.normal()] })),
    );
    // Covariance 16/2 over the variance of levels 25 + 16/4; standard error about 0.014; four of them
    near(found.lines.bias.slope, 8 / 29, 0.056);
    near(found.slope_of_noise, 8 / 29, 0.056);
  });

  test('is 1 where the levels differ no more than the differences scatter', () => {
    expect(slopeOfNoise(4, 4)).toBe(1);
    expect(slopeOfNoise(9, 4)).toBe(1);
    expect(slopeOfNoise(0, 4)).toBe(0);
  });
});

describe('simulated', () => {
  interface Truth {
    readonly series: number;
    readonly laps: number;
    /** Standard deviation between and within series at a power. */
    readonly sd: (power: number) => number;
  }
  const power = (i: number, n: number) => 10 * 20 ** (i / (n - 1));
  const bias = (p: number) => 0.01 * p * (1 + Math.log(p / 10));
  const normal = (random: ReturnType<typeof seededRandom>, sd: number) => sd * random.normal();

  /**
   * At lowest, middle and highest power: share of fresh laps of fresh series within the limits, and of
   * intervals of the bias that hold the true one.
   */
  function within({ series: n, laps, sd }: Truth, spread: 'constant' | 'linear', seed: number) {
    const random = seededRandom(seed);
    const hits = [0, 0, 0];
    const held = [0, 0, 0];
    const trials = 250;
    const fresh = 10;
    for (let trial = 0; trial < trials; trial++) {
      const found = seriesAgainstLevel(
        Array.from({ length: n }, (_, i) => {
          const p = power(i, n);
          const shift = normal(random, sd(p));
          return {
            reference: Array.from({ length: laps }, () => p),
            candidate: Array.from(
              { length: laps },
              () => p + bias(p) + shift + normal(random, 0.7 * sd(p)),
            ),
          };
        }),
        { scale: 'log' },
      );
      for (const [k, i] of [0, (n - 1) / 2, n - 1].entries()) {
        const p = power(i, n);
        const level = Math.log(p) + Math.log1p(bias(p) / p) / 2;
        const at = lapLimitsAtLevel(found, level, { spread });
        const truth = Math.log1p(bias(p) / p);
        if (at.bias_interval[0] <= truth && truth <= at.bias_interval[1]) held[k] += 1;
        for (let j = 0; j < fresh; j++) {
          const c = p + bias(p) + normal(random, Math.hypot(1, 0.7) * sd(p));
          const d = Math.log(c / p);
          if (at.low !== null && at.high !== null && at.low <= d && d <= at.high) hits[k] += 1;
        }
      }
    }
    return {
      shares: hits.map((count) => count / trials / fresh),
      held: held.map((count) => count / trials),
    };
  }

  test('about 95 % of fresh differences lie within limits whose bias grows with the level', () => {
    // Binomial standard error 0.45 % at 95 %; limits from few series hold a little less than 95 %.
    const { shares } = within({ series: 25, laps: 6, sd: (p) => 0.02 * p }, 'constant', 41);
    for (const share of shares) {
      expect(share).toBeGreaterThan(0.92);
      expect(share).toBeLessThan(0.965);
    }
  });

  test('and whose spread grows too, with a little less at the ends', () => {
    const growing = (p: number) => p * (0.01 + 0.01 * Math.log(p / 10));
    const { shares, held } = within({ series: 25, laps: 6, sd: growing }, 'linear', 42);
    const [low, middle, high] = shares;
    near(middle, 0.95, 0.02);
    // A line of sizes is least sure at its ends, and where it falls to 0 there are no limits: a miss here.
    for (const share of [low, high]) {
      expect(share).toBeGreaterThan(0.86);
      expect(share).toBeLessThan(0.97);
    }
    // Weighted: binomial standard error 1.4 %; four of them
    for (const share of held) near(share, 0.95, 0.055);
    // One pair of limits for all levels: far too wide below, far too narrow above.
    const [wide, , narrow] = within({ series: 25, laps: 6, sd: growing }, 'constant', 43).shares;
    expect(wide).toBeGreaterThan(0.99);
    expect(narrow).toBeLessThan(0.88);
  });
});

describe('properties and awkward input', () => {
  test('swapping the meters turns bias and limits round on the log scale', () => {
    const reading = fc.double({ min: 1, max: 1000, noNaN: true });
    const laps = fc.array(fc.tuple(reading, reading), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(fc.array(laps, { minLength: 5, maxLength: 9 }), (list) => {
        const one = list.map((each) => ({
          reference: each.map(([r]) => r),
          candidate: each.map(([, c]) => c),
        }));
        const other = one.map(({ reference: r, candidate: c }) => ({ reference: c, candidate: r }));
        const [a, b] = [one, other].map((series) => seriesAgainstLevel(series, { scale: 'log' }));
        const level = a.lines.bias.mean_level;
        const [at, turned] = [a, b].map((found) =>
          lapLimitsAtLevel(found, level, { spread: 'constant' }),
        );
        near(turned.low, -(at.high ?? 0), 1e-6);
        near(turned.high_interval[1], -(at.low_interval[0] ?? 0), 1e-6);
      }),
      { seed: 12, numRuns: 40 },
    );
  });

  test('too few series, an empty one, unequal numbers and zero are refused', () => {
    expect(() => seriesAgainstLevel(single.slice(0, 3))).toThrow(/at least 4 pairs/);
    expect(() => seriesAgainstLevel([...single, { reference: [], candidate: [] }])).toThrow(
      /at least 1 pairs/,
    );
    expect(() => seriesAgainstLevel([...single, { reference: [1], candidate: [1, 2] }])).toThrow(
      /same number/,
    );
    const zero = [...single, { reference: [0], candidate: [1] }];
    expect(() => seriesAgainstLevel(zero, { scale: 'log' })).toThrow(/above 0/);
  });

  test('a line of the spread that reaches 0 gives no limits there, and says why', () => {
    const found = seriesAgainstLevel(single);
    const at = lapLimitsAtLevel(found, 1300, { spread: 'linear' });
    expect(at).toMatchObject({ low: null, high: null });
    expect(at.why).toContain('not above 0');
  });
});
