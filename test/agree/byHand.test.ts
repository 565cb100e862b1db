import { describe, expect, test } from 'vitest';
import { checkDifferences } from '../../src/agree/checkDifferences.js';
import { concordance } from '../../src/agree/concordance.js';
import { correlation } from '../../src/agree/correlation.js';
import { equivalenceOfDifference, equivalenceOfRatio } from '../../src/agree/equivalence.js';
import { lapLimitsAtLevel } from '../../src/agree/lapLimitsAtLevel.js';
import { limitsAtLevel } from '../../src/agree/limitsAtLevel.js';
import {
  exactLimitFactors,
  limitsFromFigures,
  limitsOf,
  limitsOfAgreement,
  requireMultiplier,
} from '../../src/agree/limitsOfAgreement.js';
import { moverLimits } from '../../src/agree/moverLimits.js';
import { requirePairs } from '../../src/agree/pairedLevels.js';
import { pitmanMorgan } from '../../src/agree/pitmanMorgan.js';
import {
  levelLine,
  type ProportionalBias,
  proportionalBias,
} from '../../src/agree/proportionalBias.js';
import {
  back,
  limitsBack,
  logarithmsOf,
  ratioLimits,
  storable,
} from '../../src/agree/ratioLimits.js';
import { replicatedMethodsLimits } from '../../src/agree/replicatedMethodsLimits.js';
import { replicateLimits } from '../../src/agree/replicateLimits.js';
import {
  type SeriesAgainstLevel,
  seriesAgainstLevel,
  slopeOfNoise,
} from '../../src/agree/seriesAgainstLevel.js';
import { differenceSummary, summariseDifferences } from '../../src/agree/summarise.js';
import { near } from '../near.js';

// Distributions that have a formula: t with one degree of freedom is Cauchy's, with two
// P(t) = ½ + t/(2√(2 + t²)), so that with a = 2P − 1 the quantile is a·√(2/(1 − a²)); χ² with two is
// exponential, −2·ln(1 − P).
const T1 = Math.tan(0.475 * Math.PI);
const t2 = (P: number) => (2 * P - 1) * Math.sqrt(2 / (1 - (2 * P - 1) ** 2));
const below2 = (t: number) => 0.5 + t / (2 * Math.sqrt(2 + t * t));
const T2 = t2(0.975);
const wrong = expect.objectContaining({ code: 'argument-wrong' });

describe('bounds of what is taken', () => {
  test('differences up to 1e150 in size', () => {
    expect(() => checkDifferences([])).not.toThrow();
    expect(() => checkDifferences([1e150, -1e150, 0])).not.toThrow();
    for (const value of [1.001e150, -1.001e150]) {
      expect(() => checkDifferences([1, value])).toThrow(wrong);
    }
    expect(() => checkDifferences([Number.NaN])).toThrow(wrong);
  });

  test('multipliers from 0 to 100', () => {
    for (const fine of [0, 1.96, 100]) expect(() => requireMultiplier(fine)).not.toThrow();
    for (const one of [-0.001, 100.001, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => requireMultiplier(one)).toThrow(wrong);
    }
  });

  test('pairs: as many of each, and as many as are asked for', () => {
    const two = { reference: [1, 2], candidate: [1, 2] };
    expect(() => requirePairs(two, 2, 'This')).not.toThrow();
    expect(() => requirePairs(two, 3, 'This')).toThrow(
      expect.objectContaining({ code: 'too-few-values' }),
    );
    expect(() => requirePairs({ ...two, candidate: [1] }, 1, 'This')).toThrow(/2 and 1/);
    expect(() => requirePairs({ ...two, candidate: [1, 1e200] }, 1, 'This')).toThrow(wrong);
    expect(() => requirePairs({ ...two, reference: [1, 1e200] }, 1, 'This')).toThrow(wrong);
  });

  test('numbers of differences from 2 to a million', () => {
    for (const n of [1, 0, 2.5, 1e6 + 1]) expect(() => exactLimitFactors(n)).toThrow(wrong);
    expect(exactLimitFactors(1e6)[0]).toBeGreaterThan(1.95);
  });

  test('a standard deviation of 0, and none below', () => {
    const figures = { n: 3, mean: 2, sd: 0 };
    expect(limitsFromFigures(figures)).toEqual({
      low: 2,
      high: 2,
      low_interval: [2, 2],
      high_interval: [2, 2],
    });
    expect(() => limitsFromFigures({ ...figures, sd: -1e-9 })).toThrow(wrong);
  });
});

describe('mean and limits', () => {
  test('of 1 and 3: mean 2, sd √2, half width t₁·√2/√2', () => {
    expect(summariseDifferences([1, 3])).toEqual({
      mean: 2,
      sd: expect.closeTo(Math.SQRT2, 12),
      low: expect.closeTo(2 - T1, 6),
      high: expect.closeTo(2 + T1, 6),
      n: 2,
      standard_error: expect.closeTo(1, 12),
      dof: 1,
      confidence: 0.95,
    });
    expect(summariseDifferences([4], { confidence: 0.9 })).toEqual({
      mean: 4,
      sd: null,
      low: null,
      high: null,
      n: 1,
      standard_error: null,
      dof: null,
      confidence: 0.9,
    });
    expect(differenceSummary([])).toEqual({ mean: null, sd: null, low: null, high: null });
  });

  test('limits of no width about the mean have the interval of the mean', () => {
    // Multiplier 0: noncentral t is Student's. n = 2: ± t₁/√2 standard deviations.
    const [low, high] = exactLimitFactors(2, { multiplier: 0 });
    near(low, -T1 / Math.SQRT2, 1e-6);
    near(high, T1 / Math.SQRT2, 1e-6);
    // Asked again, and with another confidence, it is not the same answer.
    expect(exactLimitFactors(2, { multiplier: 0 })).toEqual([low, high]);
    near(exactLimitFactors(2, { multiplier: 0, confidence: 0.5 })[1], 1 / Math.SQRT2, 1e-6);
    const found = limitsFromFigures({ n: 2, mean: 5, sd: 2 }, { multiplier: 0 });
    expect([found.low, found.high]).toEqual([5, 5]);
    near(found.low_interval[0], 5 - Math.SQRT2 * T1, 1e-5);
    near(found.low_interval[1], 5 + Math.SQRT2 * T1, 1e-5);
    near(found.high_interval[0], 5 - Math.SQRT2 * T1, 1e-5);
    near(found.high_interval[1], 5 + Math.SQRT2 * T1, 1e-5);
  });

  test('the limits lie a multiplier of sd from the mean, and say what they were made from', () => {
    expect(limitsOfAgreement([1, 3], { multiplier: 3, confidence: 0.9 })).toMatchObject({
      n: 2,
      mean: 2,
      sd: expect.closeTo(Math.SQRT2, 12),
      low: expect.closeTo(2 - 3 * Math.SQRT2, 12),
      high: expect.closeTo(2 + 3 * Math.SQRT2, 12),
      multiplier: 3,
      confidence: 0.9,
    });
    expect(limitsOfAgreement([1])).toEqual({
      low: null,
      high: null,
      low_interval: [null, null],
      high_interval: [null, null],
      n: 1,
      mean: null,
      sd: null,
      multiplier: 1.96,
      confidence: 0.95,
    });
    const { low, high, low_interval, high_interval } = limitsOfAgreement([1, 4, 3]);
    expect(limitsOf([1, 4, 3])).toEqual({ low, high, low_interval, high_interval });
  });

  test('variances joined at the limit: 4 and 5 on two degrees of freedom each', () => {
    const found = moverLimits({
      bias: 1,
      biasVariance: 0.25,
      biasDof: 2,
      parts: [
        { estimate: 4, dof: 2 },
        { estimate: 5, dof: 2 },
      ],
      confidence: 0.95,
      multiplier: 2,
    });
    // √(4 + 5) = 3; a part of s² lies between 2s²/χ²(0.975) and 2s²/χ²(0.025), χ² = −2·ln(1 − P).
    const down = Math.sqrt(9 - Math.hypot(4, 5) * (1 - 1 / -Math.log(0.025)));
    const up = Math.sqrt(9 + Math.hypot(4, 5) * (1 / -Math.log(0.975) - 1));
    const half = T2 * 0.5;
    expect([found.low, found.high]).toEqual([-5, 7]);
    near(found.bias_low, 1 - half, 1e-6);
    near(found.bias_high, 1 + half, 1e-6);
    near(found.high_interval[0], 7 - Math.hypot(half, 2 * (3 - down)), 1e-6);
    near(found.high_interval[1], 7 + Math.hypot(half, 2 * (up - 3)), 1e-6);
    near(found.low_interval[0], -5 - Math.hypot(half, 2 * (up - 3)), 1e-6);
    near(found.low_interval[1], -5 + Math.hypot(half, 2 * (3 - down)), 1e-6);
  });

  test('repeated pairs: 0, 2 and 4, 6', () => {
    // Means 1 and 5 with variance 8, within 2: 8 + (1 − ½)·2 = 9; between 8 − 2/2 = 7.
    const found = replicateLimits([[0, 2], [], [4, 6]], { multiplier: 2 });
    expect(found).toMatchObject({
      bias: 3,
      low: expect.closeTo(-3, 12),
      high: expect.closeTo(9, 12),
      sd_total: expect.closeTo(3, 12),
      sd_within: expect.closeTo(Math.SQRT2, 12),
      sd_between: expect.closeTo(Math.sqrt(7), 12),
      groups: 2,
      pairs: 4,
      why: '',
    });
    // Bias on one degree of freedom, √(8/2) = 2.
    near(found.bias_low, 3 - 2 * T1, 1e-5);
    near(found.bias_high, 3 + 2 * T1, 1e-5);
  });

  test('of one series its mean and scatter, and no more', () => {
    const nothing = {
      low: null,
      high: null,
      low_interval: [null, null],
      high_interval: [null, null],
      bias_low: null,
      bias_high: null,
      sd_total: null,
      sd_between: null,
    };
    expect(replicateLimits([[1, 3], []])).toEqual({
      ...nothing,
      bias: 2,
      sd_within: expect.closeTo(Math.SQRT2, 12),
      groups: 1,
      pairs: 2,
      why: 'One series cannot show how much the difference varies from series to series.',
    });
    expect(replicateLimits([[7]])).toMatchObject({ bias: 7, sd_within: null, groups: 1, pairs: 1 });
    expect(replicateLimits([[]])).toEqual({
      ...nothing,
      bias: null,
      sd_within: null,
      groups: 0,
      pairs: 0,
      why: 'There is no pair of readings.',
    });
    expect(() => replicateLimits([[1], [Number.NaN]])).toThrow(wrong);
    expect(() => replicateLimits([[1], [1e200]])).toThrow(wrong);
  });

  test('one pair a series takes the confidence that is asked for', () => {
    const at = (options: object) => replicateLimits([[1], [3]], options);
    expect(at({})).toMatchObject({
      bias: 2,
      sd_within: null,
      sd_between: null,
      groups: 2,
      pairs: 2,
    });
    near(at({}).bias_high, 2 + T1, 1e-6);
    // t₁ at 50 % is 1.
    near(at({ confidence: 0.5 }).bias_high, 3, 1e-6);
    near(at({ multiplier: 1 }).high, 2 + Math.SQRT2, 1e-12);
  });

  test('unpaired repeats: what means hide of each meter is put back', () => {
    // Reference 0, 2 and 4, 6; candidate 1, 3, 5 and 8, 10, 12: within 2 and 4, means 1, 5 and 3, 10,
    // differences 2 and 5 with variance 4.5. 4.5 + ½·2 + ⅔·4 = 49/6.
    const found = replicatedMethodsLimits(
      [
        { reference: [0, 2], candidate: [1, 3, 5] },
        { reference: [4, 6], candidate: [8, 10, 12] },
      ],
      { multiplier: 1 },
    );
    const sd = Math.sqrt(49 / 6);
    expect(found).toMatchObject({
      bias: 3.5,
      low: expect.closeTo(3.5 - sd, 12),
      high: expect.closeTo(3.5 + sd, 12),
      sd_total: expect.closeTo(sd, 12),
      sd_of_means: expect.closeTo(Math.sqrt(4.5), 12),
      sd_reference: expect.closeTo(Math.SQRT2, 12),
      sd_candidate: expect.closeTo(2, 12),
    });
    // Bias on one degree of freedom, √(4.5/2) = 1.5.
    near(found.bias_low, 3.5 - 1.5 * T1, 1e-5);
    near(found.bias_high, 3.5 + 1.5 * T1, 1e-5);
    expect(() =>
      replicatedMethodsLimits([
        { reference: [1], candidate: [1e200] },
        { reference: [1], candidate: [1] },
      ]),
    ).toThrow(wrong);
    expect(() =>
      replicatedMethodsLimits([
        { reference: [1e200], candidate: [1] },
        { reference: [1], candidate: [1] },
      ]),
    ).toThrow(wrong);
  });
});

describe('ratios', () => {
  test('a logarithm is stored up to ± 700', () => {
    expect([699, 700, 701, -700, -701].map(storable)).toEqual([699, 700, 700, -700, -700]);
    expect([back(null), back(0), back(Math.log(2))]).toEqual([null, 1, expect.closeTo(2, 12)]);
    expect(
      limitsBack({
        low: null,
        high: 0,
        low_interval: [null, Math.log(2)],
        high_interval: [0, null],
      }),
    ).toEqual({
      low: null,
      high: 1,
      low_interval: [null, expect.closeTo(2, 12)],
      high_interval: [1, null],
    });
  });

  test('only of finite numbers above 0', () => {
    expect(logarithmsOf([1, Math.E])).toEqual([0, 1]);
    for (const ratio of [0, -1, -0.5]) {
      expect(() => logarithmsOf([1, ratio])).toThrow(
        expect.objectContaining({ code: 'reading-not-positive' }),
      );
    }
    expect(() => logarithmsOf([Number.POSITIVE_INFINITY])).toThrow();
  });

  test('of e and e³: e², sd √2, half width t₁', () => {
    const found = ratioLimits([Math.E, Math.E ** 3], { confidence: 0.5, multiplier: 1 });
    // t₁ at 50 % is 1.
    expect(found).toMatchObject({
      n: 2,
      ratio: expect.closeTo(Math.E ** 2, 9),
      low: expect.closeTo(Math.E, 6),
      high: expect.closeTo(Math.E ** 3, 5),
      log_sd: expect.closeTo(Math.SQRT2, 12),
      limits: {
        low: expect.closeTo(Math.exp(2 - Math.SQRT2), 9),
        high: expect.closeTo(Math.exp(2 + Math.SQRT2), 9),
      },
    });
  });
});

// Means 2.5 and 3; sums of squares 5, 4 and of products 4: r² = 16/20.
const PAIRS = { reference: [1, 2, 3, 4], candidate: [2, 2, 4, 4] };

describe('correlation, concordance and spread', () => {
  test('Pearson: 4/√20; none where a meter does not scatter', () => {
    near(correlation(PAIRS), 4 / Math.sqrt(20), 1e-12);
    const flat = [3, 3, 3, 3];
    expect(correlation({ ...PAIRS, candidate: flat })).toBeNull();
    expect(correlation({ ...PAIRS, reference: flat })).toBeNull();
    near(correlation({ ...PAIRS, candidate: [4, 4, 2, 2] }), -4 / Math.sqrt(20), 1e-12);
    expect(() => correlation({ reference: [1], candidate: [2] })).toThrow(/at least 2 pairs/);
    // Of two pairs on a line rounding may make a little more than one.
    for (let i = 1; i < 200; i++) {
      const r = correlation({ reference: [0.1 * i, 0.7], candidate: [0.3, 0.9 / i] }) ?? 0;
      expect(Math.abs(r)).toBeLessThanOrEqual(1);
    }
  });

  test('concordance: 2·1/(1.25 + 1 + 0.25), its error from Lin 1989 and 2000', () => {
    // c = 0.8, r² = 0.8, u² = 0.25/√1.25 = r/4: (1 − r²)c²/((1 − c²)r²) = 4/9,
    // 2c³(1 − c)u²/(r(1 − c²)²) = 32/81, c⁴u⁴/(2r²(1 − c²)²) = 8/81: (36 + 32 − 8)/81 over n − 2.
    const error = Math.sqrt(10 / 27);
    const found = concordance(PAIRS, { confidence: 0.95 });
    expect(found).toEqual({
      value: expect.closeTo(0.8, 12),
      precision: expect.closeTo(Math.sqrt(0.8), 12),
      accuracy: expect.closeTo(Math.sqrt(0.8), 12),
      low: expect.closeTo(Math.tanh(Math.atanh(0.8) - 1.959963985 * error), 8),
      high: expect.closeTo(Math.tanh(Math.atanh(0.8) + 1.959963985 * error), 8),
      standard_error_z: expect.closeTo(error, 12),
      why: '',
    });
  });

  test('three pairs have no interval, though they are not equal', () => {
    expect(concordance({ reference: [1, 2, 4], candidate: [1, 3, 4] })).toMatchObject({
      low: null,
      high: null,
      standard_error_z: null,
      why: 'Fewer than 4 pairs give no interval.',
    });
  });

  test('spread: √(4/5), t = −√2/4 on two degrees of freedom', () => {
    const ratio = Math.sqrt(0.8);
    // (√0.8 − 1/√0.8)·√2/(2·√0.2)
    const t = -Math.SQRT2 / 4;
    const k = 1 + (2 * 0.2 * T2 ** 2) / 2;
    const reach = Math.sqrt(k + Math.sqrt(k * k - 1));
    expect(pitmanMorgan(PAIRS)).toEqual({
      ratio: expect.closeTo(ratio, 12),
      low: expect.closeTo(ratio / reach, 6),
      high: expect.closeTo(ratio * reach, 6),
      t: expect.closeTo(t, 12),
      dof: 2,
      p: expect.closeTo(2 * below2(t), 7),
      why: '',
    });
    expect(() => pitmanMorgan({ reference: [1, 2], candidate: [1, 2] })).toThrow(/at least 3/);
    // On a line the ratio is known and nothing can be tested; on a flat reference not even that.
    expect(pitmanMorgan({ reference: [1, 2, 3], candidate: [2, 4, 6] })).toMatchObject({
      ratio: expect.closeTo(2, 12),
      t: null,
      dof: 1,
      p: null,
    });
    expect(pitmanMorgan({ reference: [1, 2, 3], candidate: [5, 5, 5] })).toMatchObject({
      ratio: 0,
      p: null,
    });
  });
});

describe('equivalence of 0, 1, 2: mean 1, standard error 1/√3', () => {
  const at = (low: number, high: number, alpha = 0.05) =>
    equivalenceOfDifference([0, 1, 2], { low, high, alpha });
  const half = t2(0.95) / Math.sqrt(3);

  test('within −1 to 3.5: both t by hand, the larger p', () => {
    const [tLow, tHigh] = [2 * Math.sqrt(3), -2.5 * Math.sqrt(3)];
    expect(at(-1, 3.5)).toMatchObject({
      decision: 'equivalent',
      estimate: 1,
      confidence: 0.9,
      low: expect.closeTo(1 - half, 6),
      high: expect.closeTo(1 + half, 6),
      dof: 2,
      t_low: expect.closeTo(tLow, 12),
      t_high: expect.closeTo(tHigh, 12),
      p_low: expect.closeTo(1 - below2(tLow), 8),
      p_high: expect.closeTo(below2(tHigh), 8),
      p: expect.closeTo(1 - below2(tLow), 8),
      why: 'The 90 % interval of the mean lies inside the margins.',
    });
  });

  test('either margin too near shows nothing', () => {
    // 1 ± 1.686
    expect(half).toBeCloseTo(1.6859, 4);
    expect(at(-0.69, 2.69).decision).toBe('equivalent');
    expect(at(-0.68, 2.69).decision).toBe('not-shown');
    expect(at(-0.69, 2.68).decision).toBe('not-shown');
    near(at(-1, 2.5).p, below2(-1.5 * Math.sqrt(3)), 1e-8);
  });

  test('levels between 0 and 0.5', () => {
    for (const alpha of [0, 0.5, -0.1, Number.NaN]) expect(() => at(-1, 3, alpha)).toThrow(wrong);
    expect(at(-1, 3, 0.499).confidence).toBe(0.002);
    expect(() => at(3, -1)).toThrow(wrong);
    expect(() => at(-1, 1e200)).toThrow(wrong);
  });

  test('too few, or all equal', () => {
    const untested = {
      decision: 'not-shown',
      low: null,
      high: null,
      dof: null,
      t_low: null,
      t_high: null,
      p_low: null,
      p_high: null,
      p: null,
      confidence: 0.9,
    };
    const of = (...values: number[]) => equivalenceOfDifference(values, { low: -1, high: 1 });
    const few = 'Fewer than 2 differences show no scatter, so nothing can be tested.';
    expect(of()).toEqual({ ...untested, estimate: null, why: few });
    expect(of(0.5)).toEqual({ ...untested, estimate: 0.5, why: few });
    expect(of(0.5, 0.5)).toEqual({
      ...untested,
      estimate: 0.5,
      why: expect.stringContaining('All differences are equal'),
    });
  });

  test('as ratios: all of it exponents', () => {
    const ratios = [1, Math.E, Math.E ** 2];
    expect(equivalenceOfRatio(ratios, { low: 1 / Math.E, high: Math.E ** 3.5 })).toMatchObject({
      decision: 'equivalent',
      confidence: 0.9,
      estimate: expect.closeTo(Math.E, 9),
      low: expect.closeTo(Math.exp(1 - half), 6),
      high: expect.closeTo(Math.exp(1 + half), 5),
    });
    expect(equivalenceOfRatio(ratios, { low: 0.5, high: 40, alpha: 0.25 }).confidence).toBe(0.5);
  });
});

describe('a line through four points', () => {
  // Levels 0, 1, 2, 3 with 0, 2, 1, 3: slope 4/5, intercept 0.3, residuals −0.3, 0.9, −0.9, 0.3.
  const line = levelLine([0, 1, 2, 3], [0, 2, 1, 3], 0.95);
  const sd = Math.sqrt(1.8 / 2);

  test('slope, intercept, residuals and interval', () => {
    const t = 0.8 / (sd / Math.sqrt(5));
    expect(line).toEqual({
      intercept: expect.closeTo(0.3, 12),
      slope: expect.closeTo(0.8, 12),
      slope_interval: [
        expect.closeTo(0.8 - (T2 * sd) / Math.sqrt(5), 6),
        expect.closeTo(0.8 + (T2 * sd) / Math.sqrt(5), 6),
      ],
      slope_p: expect.closeTo(2 * (1 - below2(t)), 7),
      residual_sd: expect.closeTo(sd, 12),
      dof: 2,
      mean_level: 1.5,
      sum_of_squares: 5,
    });
  });

  test('weighted: twice the weight is the point twice', () => {
    // Points (0, 0) and (1, 2) with weight 1.5, (2, 1) with 1, (4, 3) with 0: mean level 3.5/4 = 0.875.
    const weighted = levelLine([0, 1, 2, 4], [0, 2, 1, 3], 0.95, [1.5, 1.5, 1, 0]);
    near(weighted.mean_level, 0.875, 1e-12);
    // Σ w(x − x̄)² = 5.5 − 4·0.875²; Σ w(x − x̄)y = 1.5·2 + 2 − 0.875·4, as Σ w·y = 4
    near(weighted.sum_of_squares, 2.4375, 1e-12);
    near(weighted.slope, 1.5 / 2.4375, 1e-12);
    near(weighted.intercept, 1 - (0.875 * 1.5) / 2.4375, 1e-12);
  });

  test('through points on it exactly has no p', () => {
    expect(levelLine([0, 1, 2, 3], [5, 5, 5, 5], 0.95)).toMatchObject({ slope: 0, slope_p: null });
  });

  test('difference against the mean of both, and on the log scale', () => {
    // Levels 1, 2, 3, 4 and differences 0, 2, 1, 3
    const pairs = { reference: [1, 1, 2.5, 2.5], candidate: [1, 3, 3.5, 5.5] };
    const found = proportionalBias(pairs);
    expect(found).toMatchObject({ scale: 'difference', n: 4, confidence: 0.95, range: [1, 4] });
    near(found.bias.slope, 0.8, 1e-12);
    near(found.bias.intercept, -0.5, 1e-12);
    // Sizes 0.3, 0.9, 0.9, 0.3: no slope, 0.6 on the average
    near(found.spread.slope, 0, 1e-12);
    near(found.spread.intercept, 0.6, 1e-12);
    const logs = proportionalBias(
      { reference: pairs.reference.map(Math.exp), candidate: pairs.candidate.map(Math.exp) },
      { scale: 'log', confidence: 0.9 },
    );
    expect(logs).toMatchObject({ scale: 'log', confidence: 0.9 });
    near(logs.bias.slope, 0.8, 1e-9);
    near(logs.range[1], 4, 1e-12);
  });
});

describe('limits at a level', () => {
  const bias = {
    intercept: 1,
    slope: 2,
    slope_interval: [1, 3] as const,
    slope_p: 0.01,
    residual_sd: 3,
    dof: 2,
    mean_level: 5,
    sum_of_squares: 16,
  };
  const lines: ProportionalBias = {
    scale: 'difference',
    n: 4,
    confidence: 0.95,
    range: [2, 8],
    bias,
    spread: { ...bias, intercept: 4, slope: -0.5, slope_p: 0.05 },
  };
  const withP = (slope_p: number | null) => ({ ...lines, spread: { ...lines.spread, slope_p } });

  test('constant: bias ± multiplier · sd, its interval by the distance from the mean level', () => {
    // At 7: 1 + 14; error 3·√(1/4 + 4/16)
    expect(limitsAtLevel(lines, 7, { multiplier: 2 })).toEqual({
      level: 7,
      bias: 15,
      bias_interval: [
        expect.closeTo(15 - T2 * 3 * Math.SQRT1_2, 5),
        expect.closeTo(15 + T2 * 3 * Math.SQRT1_2, 5),
      ],
      sd: 3,
      low: 9,
      high: 21,
      spread: 'constant',
      outside: false,
      why: '',
    });
  });

  test('linear: √(π/2) of the line of sizes', () => {
    const sd = Math.sqrt(Math.PI / 2) * (4 - 0.5 * 6);
    expect(limitsAtLevel(lines, 6, { multiplier: 2, spread: 'linear' })).toMatchObject({
      bias: 13,
      sd: expect.closeTo(sd, 12),
      low: expect.closeTo(13 - 2 * sd, 12),
      high: expect.closeTo(13 + 2 * sd, 12),
      spread: 'linear',
    });
    expect(limitsAtLevel(lines, 8, { spread: 'linear' })).toMatchObject({
      sd: null,
      low: null,
      high: null,
      outside: false,
      why: 'The line of the spread is not above 0 at this level.',
    });
  });

  test.each([
    [0.0499, 'linear'],
    [0.05, 'constant'],
    [null, 'constant'],
  ])('a slope of the spread with p %s is taken as %s', (p, spread) => {
    expect(limitsAtLevel(withP(p), 5).spread).toBe(spread);
  });

  test.each([
    [1.99, true],
    [2, false],
    [8, false],
    [8.01, true],
  ])('level %f lies outside 2 to 8: %s', (level, outside) => {
    expect(limitsAtLevel(lines, level)).toMatchObject({
      outside,
      why: outside ? 'The level lies outside the levels that were measured.' : '',
    });
  });

  const found = (changed: Partial<SeriesAgainstLevel> = {}): SeriesAgainstLevel => ({
    lines,
    weighted: null,
    levels: [],
    differences: [],
    within_variance: 4,
    within_dof: 2,
    harmonic_size: 2,
    slope_of_noise: 0,
    ...changed,
  });

  test('for one more lap: the scatter about the line and half of that within series', () => {
    const at = lapLimitsAtLevel(found(), 7, { spread: 'constant', multiplier: 2 });
    // 9 + (1 − ½)·4 = 11, both on two degrees of freedom
    const sd = Math.sqrt(11);
    const up = Math.sqrt(11 + Math.hypot(9, 2) * (1 / -Math.log(0.975) - 1));
    const half = T2 * 3 * Math.SQRT1_2;
    expect(at).toMatchObject({ level: 7, bias: 15, why: '' });
    near(at.low, 15 - 2 * sd, 1e-9);
    near(at.high, 15 + 2 * sd, 1e-9);
    near(at.high_interval[1], 15 + 2 * sd + Math.hypot(half, 2 * (up - sd)), 1e-5);
    near(at.low_interval[0], 15 - 2 * sd - Math.hypot(half, 2 * (up - sd)), 1e-5);
  });

  test('one lap a series: the scatter about the line alone', () => {
    const at = lapLimitsAtLevel(found({ within_variance: null }), 7, {
      spread: 'constant',
      multiplier: 2,
    });
    near(at.high, 21, 1e-9);
  });

  test('a spread that follows its line: the weighted lines, limits without intervals', () => {
    const weighted = {
      bias: { ...bias, intercept: 0 },
      spread: { ...bias, intercept: 1, slope: 0 },
    };
    const at = lapLimitsAtLevel(found({ weighted }), 6, { spread: 'linear', multiplier: 2 });
    const sd = Math.sqrt(Math.PI / 2);
    expect(at).toMatchObject({
      bias: 12,
      low: expect.closeTo(12 - 2 * sd, 12),
      high: expect.closeTo(12 + 2 * sd, 12),
      low_interval: [null, null],
      high_interval: [null, null],
    });
    // Constant limits leave the weights alone.
    expect(lapLimitsAtLevel(found({ weighted }), 6, { spread: 'constant' }).bias).toBe(13);
    expect(lapLimitsAtLevel(found(), 6, { spread: 'linear' }).bias).toBe(13);
  });
});

describe('series against level', () => {
  test('laps that differ in number: harmonic mean, degrees of freedom, variance within', () => {
    // Differences 0, 2 | 1 | 4, 4, 7 | 3: within 2 and 6 over 1 + 2; sizes 2, 1, 3, 1.
    const series = [
      { reference: [10, 10], candidate: [10, 12] },
      { reference: [20], candidate: [21] },
      { reference: [30, 30, 30], candidate: [34, 34, 37] },
      { reference: [40], candidate: [43] },
    ];
    const found = seriesAgainstLevel(series);
    expect(found.within_dof).toBe(3);
    near(found.within_variance, 8 / 3, 1e-12);
    near(found.harmonic_size, 4 / (1 / 2 + 1 + 1 / 3 + 1), 1e-12);
    expect(found.differences).toEqual([1, 1, 5, 3]);
    expect(found.levels).toEqual([10.5, 20.5, 32.5, 41.5]);
    expect(found.lines).toMatchObject({ n: 4, confidence: 0.95, range: [10.5, 41.5] });
  });

  test('a spread of 0 has no weights', () => {
    const series = [10, 20, 40, 80].map((power) => ({ reference: [power], candidate: [power] }));
    expect(seriesAgainstLevel(series).weighted).toBeNull();
  });

  test.each([
    [3, 4, 0.5],
    [0, 4, 0],
    [3.75, 4, 0.75],
    [4, 4, 1],
    [5, 4, 1],
  ])('residual variance %f over %f of the levels: a slope of %f', (residual, ofLevels, slope) => {
    near(slopeOfNoise(residual, ofLevels), slope, 1e-12);
  });
});
