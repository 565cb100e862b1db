import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { middleSlope, tieGroups } from '../../../src/power/lines/order.js';
import { ordinaryLine } from '../../../src/power/lines/ordinaryLine.js';
import { passingBablokLine } from '../../../src/power/lines/passingBablokLine.js';
import { theilSenLine } from '../../../src/power/lines/theilSenLine.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromR, fromScipy, peakFlow } from './fixtures.js';

describe('against other programs', () => {
  test.each(Object.entries(fromScipy.sets))('Theil–Sen is that of scipy.stats: %s', (_, set) => {
    const line = theilSenLine(set, { interval: 'normal' });
    nearly(line.slope.value, set.theil_slope, 1e-12);
    nearly(line.intercept.value, set.theil_joint_intercept, 1e-11);
    nearly(line.slope.interval?.[0], set.theil_low, 1e-12);
    nearly(line.slope.interval?.[1], set.theil_high, 1e-12);
    const separate = theilSenLine(set, { intercept: 'separate' });
    nearly(separate.intercept.value, set.theil_separate_intercept, 1e-11);
  });

  test('Passing–Bablok is its definition written out in R (test/fixtures/lines.R)', () => {
    const [b, low, high, a, aLow, aHigh, shift] = fromR.passingBablok;
    const line = passingBablokLine(peakFlow);
    nearly(line.slope.value, b, 1e-13);
    nearly(line.slope.interval?.[0], low, 1e-13);
    nearly(line.slope.interval?.[1], high, 1e-13);
    nearly(line.intercept.value, a, 1e-12);
    nearly(line.intercept.interval?.[0], aLow, 1e-12);
    nearly(line.intercept.interval?.[1], aHigh, 1e-12);
    expect(line.shift).toBe(shift);
    expect(shift).toBeGreaterThan(0);
  });
});

describe('properties', () => {
  const cloud = (seed: number, n: number) => {
    const random = seededRandom(seed);
    const level = Array.from({ length: n }, () => 10 + 90 * random.uniform());
    return {
      x: level.map((value) => value + 4 * random.normal()),
      y: level.map((value) => 1.1 * value + 4 * random.normal()),
    };
  };

  test('exchanging x and y inverts the Passing–Bablok line when the slopes are odd in number', () => {
    // n = 11, 14, 15, 18: n(n−1)/2 is odd, so the median is one slope and not a mean of two
    for (const n of [11, 14, 15, 18]) {
      for (let seed = 0; seed < 20; seed++) {
        const points = cloud(seed, n);
        const line = passingBablokLine(points);
        const other = passingBablokLine({ x: points.y, y: points.x });
        nearly(other.slope.value, 1 / line.slope.value, 1e-12);
        nearly(other.slope.interval?.[0], 1 / (line.slope.interval?.[1] ?? 0), 1e-12);
        nearly(other.slope.interval?.[1], 1 / (line.slope.interval?.[0] ?? 0), 1e-12);
      }
    }
  });

  test('a slope of −1 is left out in every unit, though other units round its differences', () => {
    // From (3, 1) to (1, 3) and from (5, 8) to (7, 6) the slope is −1 exactly
    const whole = { x: [3, 1, 5, 7, 9, 12], y: [1, 3, 8, 6, 9, 13] };
    const plain = passingBablokLine(whole);
    for (const unit of [0.1, 1e-3, 1 / 3, 1e3]) {
      const scaled = (values: readonly number[]) => values.map((value) => value * unit);
      const line = passingBablokLine({ x: scaled(whole.x), y: scaled(whole.y) });
      expect([line.pairs, line.shift]).toEqual([plain.pairs, plain.shift]);
      nearly(line.slope.value, plain.slope.value, 1e-12);
    }
  });

  test('both follow a common change of unit; Theil–Sen follows one of x alone as well', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (s, t) => {
          const points = cloud(5, 14);
          const scaled = (f: number, g: number) => ({
            x: points.x.map((value) => f * value),
            y: points.y.map((value) => g * value),
          });
          nearly(
            passingBablokLine(scaled(s, s)).slope.value,
            passingBablokLine(points).slope.value,
            1e-9,
          );
          nearly(
            theilSenLine(scaled(s, t)).slope.value,
            (theilSenLine(points).slope.value * t) / s,
            1e-9,
          );
        },
      ),
      { seed: 31, numRuns: 50 },
    );
  });

  test('one wild reading moves the ordinary line and neither of these', () => {
    const x = Array.from({ length: 15 }, (_, i) => 10 + 5 * i);
    const clean = x.map((value, i) => 1 + 1.2 * value + 0.3 * (i % 3));
    const wild = clean.map((value, i) => (i === 14 ? value + 500 : value));
    const moved = (line: typeof ordinaryLine | typeof theilSenLine | typeof passingBablokLine) =>
      Math.abs(line({ x, y: wild }).slope.value - line({ x, y: clean }).slope.value);
    expect(moved(ordinaryLine)).toBeGreaterThan(1);
    expect(moved(theilSenLine)).toBeLessThan(0.01);
    expect(moved(passingBablokLine)).toBeLessThan(0.01);
  });

  test('a perfect line is found exactly', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        (slope, intercept) => {
          const x = [1, 3, 7, 20, 45, 60];
          const y = x.map((value) => intercept + slope * value);
          for (const line of [theilSenLine({ x, y }), passingBablokLine({ x, y })]) {
            nearly(line.slope.value, slope, 1e-11);
            near(line.intercept.value, intercept, 1e-10);
          }
        },
      ),
      { seed: 32 },
    );
  });

  test('the exact Theil–Sen interval holds at least its confidence, with heavy tails too', () => {
    // 2000 studies of 8 points, t with 2 degrees of freedom; exact confidence 0.9688, below it by no
    // more than four binomial standard errors
    const random = seededRandom(33);
    let hits = 0;
    let confidence = 0;
    for (let k = 0; k < 2000; k++) {
      const x = [1, 2, 4, 5, 7, 9, 12, 15];
      const line = theilSenLine({ x, y: x.map((value) => 2 * value + random.student(2)) });
      confidence = line.interval_confidence ?? 0;
      const [low, high] = line.slope.interval ?? [0, 0];
      if (low <= 2 && 2 <= high) hits++;
    }
    expect(confidence).toBeGreaterThanOrEqual(0.95);
    near(hits / 2000, confidence, 4 * Math.sqrt((confidence * (1 - confidence)) / 2000));
  });

  test('Passing–Bablok intervals hold about their 95 %', () => {
    // Large-sample interval: 1000 studies of 20 points; four binomial standard errors and 1 % more
    const random = seededRandom(34);
    let slope = 0;
    let intercept = 0;
    for (let k = 0; k < 1000; k++) {
      const level = Array.from({ length: 20 }, (_, i) => 10 + 4 * i);
      const line = passingBablokLine({
        x: level.map((value) => value + 2 * random.normal()),
        y: level.map((value) => 5 + 1.05 * value + 2 * random.normal()),
      });
      const [low, high] = line.slope.interval ?? [0, 0];
      const [aLow, aHigh] = line.intercept.interval ?? [0, 0];
      if (low <= 1.05 && 1.05 <= high) slope++;
      if (aLow <= 5 && 5 <= aHigh) intercept++;
    }
    near(slope / 1000, 0.95, 0.0376);
    near(intercept / 1000, 0.95, 0.0376);
  });

  test('the cusum check finds a strong bend and mostly passes a straight relation', () => {
    const random = seededRandom(35);
    const bent = Array.from({ length: 50 }, (_, i) => 5 + 2 * i);
    const curved = passingBablokLine({
      x: bent.map((value) => value + random.normal()),
      y: bent.map((value) => value - 0.003 * value ** 2 + random.normal()),
    });
    expect(curved.linearity.p).toBeLessThan(0.01);
    let rejected = 0;
    for (let k = 0; k < 400; k++) {
      const level = Array.from({ length: 40 }, (_, i) => 10 + 2 * i);
      const line = passingBablokLine({
        x: level.map((value) => value + 2 * random.normal()),
        y: level.map((value) => value + 2 * random.normal()),
      });
      if ((line.linearity.p ?? 1) < 0.05) rejected++;
    }
    // Nominal 5 %: about 3 % for 40 points (docs/methods/lines.md); four binomial standard errors
    expect(rejected / 400).toBeLessThan(0.094);
  });
});

describe('awkward input', () => {
  test('a falling relation is no Passing–Bablok line', () => {
    expect(() => passingBablokLine({ x: [1, 2, 3, 4], y: [8, 6, 4, 2] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('slopes of exactly −1 only leave nothing to take a median of', () => {
    expect(() => passingBablokLine({ x: [1, 2, 3], y: [3, 2, 1] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('upright and coinciding pairs are borne', () => {
    const line = passingBablokLine({
      x: [1, 1, 2, 3, 3, 4, 5, 6, 6, 7],
      y: [1, 1, 2, 3, 3.2, 4, 5.1, 6, 6.3, 7],
    });
    near(line.slope.value, 1, 0.05);
    // 45 pairs less one that coincides
    expect(line.pairs).toBe(44);
  });

  test('too few points give no interval and say so', () => {
    const three = theilSenLine({ x: [1, 2, 3], y: [1, 2.1, 2.9] });
    expect(three.slope.interval).toBeNull();
    expect(three.why).toMatch(/too few/);
    const bablok = passingBablokLine({ x: [1, 2, 3], y: [1, 2.1, 2.9] });
    expect(bablok.slope.interval).toBeNull();
    expect(bablok.why).toMatch(/do not bound/);
  });

  test('an exact interval with ties is refused', () => {
    expect(() => theilSenLine({ x: [1, 1, 2], y: [1, 2, 3] }, { interval: 'exact' })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
    expect(theilSenLine({ x: [1, 1, 2, 3, 4, 5, 6], y: [1, 2, 3, 4, 5, 6, 7] }).interval_kind).toBe(
      'normal',
    );
  });
});

test('a Passing–Bablok interval at 80 % lies within that at 95 %', () => {
  const wide = passingBablokLine(peakFlow).slope.interval;
  const [low, high] = passingBablokLine(peakFlow, { confidence: 0.8 }).slope.interval!;
  expect(low).toBeGreaterThan(wide![0]);
  expect(high).toBeLessThan(wide![1]);
});

/** Slopes of the ten pairs in order: 0.7, 0.7, 0.9333, 0.95, 1, 1.05, 1.05, 1.1, 1.2, 1.4. */
const FIVE = { x: [1, 2, 3, 4, 5], y: [1, 2.2, 2.9, 4.3, 5] };
const about = (value: number, digits = 9) => expect.closeTo(value, digits);
const span = (low: number, high: number) => [about(low), about(high)];

describe('five points by hand, the whole record', () => {
  const rests = [0, 0.175, -0.15, 0.225, -0.1];
  const shared = {
    covariance: null,
    dof: 3,
    points: 5,
    confidence: 0.95,
    coverage_factor: null,
    residuals: rests.map((value) => about(value)),
    // The median of the absolute residuals is 0.15
    residual_sd: about(1.4826 * 0.15),
  };

  test('Passing–Bablok', () => {
    // 1.96·√(5·4·15/18) = 8.0015: ranks (10 − 8)/2 = 1 and 10. The intercept at both ends is the median of
    // y − 1.4x and y − 0.7x. Residuals +, −, +, − in this order: steps of 1, so at most 1/√3; p by
    // SciPy 1.17.1: stats.kstwobign.sf(3**-0.5)
    expect(passingBablokLine(FIVE)).toEqual({
      ...shared,
      method: 'passing-bablok',
      intercept: { value: about(-0.025), standard_uncertainty: null, interval: span(-1.3, 0.8) },
      slope: { value: about(1.025), standard_uncertainty: null, interval: span(0.7, 1.4) },
      why: 'The method gives no standard uncertainties.',
      pairs: 10,
      shift: 0,
      linearity: {
        largest: about(1),
        statistic: about(3 ** -0.5),
        p: about(0.8927783372501086, 9),
        why: '',
      },
    });
    // 0.6745·4.0825 = 2.754: ranks 4 and 7
    const half = passingBablokLine(FIVE, { confidence: 0.5 });
    expect(half.slope.interval).toEqual(span(0.95, 1.05));
    expect(half.confidence).toBe(0.5);
  });

  test('Theil–Sen', () => {
    // Of 5! = 120 orders 1 has no discordant pair, 4 have one, 9 have two: at 95 % one slope is left out
    // at each end, which holds 118/120; at 90 % five orders are, 110/120 and the second slopes.
    const record = (
      interval: readonly number[],
      kind: string,
      held: number,
      confidence = 0.95,
    ) => ({
      ...shared,
      confidence,
      method: 'theil-sen',
      intercept: { value: about(-0.025), standard_uncertainty: null, interval: null },
      slope: {
        value: about(1.025),
        standard_uncertainty: null,
        interval: interval.map((v) => about(v)),
      },
      why: 'The method gives no interval for the intercept and no standard uncertainties.',
      pairs: 10,
      interval_kind: kind,
      interval_confidence: about(held),
    });
    expect(theilSenLine(FIVE)).toEqual(record([0.7, 1.4], 'exact', 118 / 120));
    expect(theilSenLine(FIVE, { interval: 'exact', confidence: 0.9 })).toEqual(
      record([0.7, 1.2], 'exact', 110 / 120, 0.9),
    );
    // 0.8416·4.0825 = 3.436: ranks round(3.28) = 3 and round(6.72) + 1 = 8
    expect(theilSenLine(FIVE, { interval: 'normal', confidence: 0.6 })).toEqual(
      record([0.9333333333, 1.1], 'normal', 0.6, 0.6),
    );
    const separate = theilSenLine(FIVE, { intercept: 'separate' });
    near(separate.intercept.value, 2.9 - 1.025 * 3, 1e-12);
    near(separate.residuals[1], 2.2 - 2.05 + 0.175, 1e-12);
  });

  test('of four points 22 of 24 orders are the most that can be held', () => {
    const four = { x: FIVE.x.slice(0, 4), y: FIVE.y.slice(0, 4) };
    expect(theilSenLine(four)).toMatchObject({
      slope: { interval: null },
      interval_kind: 'none',
      interval_confidence: null,
      pairs: 6,
    });
    expect(theilSenLine(four, { interval: 'normal' }).interval_kind).toBe('none');
    const at90 = theilSenLine(four, { confidence: 0.9 });
    expect(at90.slope.interval).toEqual(span(0.7, 1.4));
    near(at90.interval_confidence, 22 / 24, 1e-12);
    expect(passingBablokLine(four).slope.interval).toBeNull();
    expect(passingBablokLine(four).intercept.interval).toBeNull();
    expect(passingBablokLine(four).residual_sd).not.toBeNull();
  });

  test('two points: one slope, and no scatter', () => {
    const two = theilSenLine({ x: [1, 3], y: [2, 8] });
    expect([two.slope.value, two.intercept.value, two.residual_sd, two.dof]).toEqual([
      3,
      -1,
      null,
      0,
    ]);
    expect(theilSenLine({ x: [1, 2, 3], y: [1, 2, 4] }).residual_sd).not.toBeNull();
    expect(() => passingBablokLine({ x: [1, 3], y: [2, 8] })).toThrow(
      expect.objectContaining({ code: 'too-few-values' }),
    );
  });

  test('the exact distribution serves up to sixty points without ties in x or y', () => {
    const of = (n: number, y = (i: number) => i * i) => {
      const x = Array.from({ length: n }, (_, i) => i);
      return theilSenLine({ x, y: x.map(y) }).interval_kind;
    };
    expect([of(60), of(61)]).toEqual(['exact', 'normal']);
    expect(of(8, (i) => Math.max(1, i))).toBe('normal');
    expect(of(8, () => 4)).toBe('none');
    expect(() => theilSenLine({ x: [1, 2, 3, 4], y: [1, 2, 2, 3] }, { interval: 'exact' })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('the order of Passing and Bablok, by hand', () => {
  const line = { x: [1, 2, 3, 4], y: [1, 2, 3, 4] };
  const with5 = (x: number, y: number) =>
    passingBablokLine({ x: [...line.x, x], y: [...line.y, y] });

  test('a steep fall counts behind all others, so the slope has no upper bound', () => {
    // To the fifth point 0.806, 0.714, 0.455 and −5: the tenth in order is −5
    const found = with5(4.1, 3.5);
    expect([found.pairs, found.shift]).toEqual([10, 1]);
    near(found.slope.value, 1, 1e-12);
    expect([found.slope.interval, found.intercept.interval]).toEqual([null, null]);
  });

  test('an upright pair does so too, and is no fall', () => {
    const found = with5(4, 3.5);
    expect([found.pairs, found.shift]).toEqual([10, 0]);
    expect(found.slope.interval).toBeNull();
    expect(with5(5, 4.5).slope.interval).toEqual(span(0.5, 1));
  });

  test.each([
    ['most pairs upright', [1, 1, 1, 2], [1, 2, 3, 5]],
    ['a flat relation', [1, 2, 3], [2, 2, 2]],
  ])('%s is no line of two meters', (_, x, y) => {
    expect(() => passingBablokLine({ x, y })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('the cusum, by hand', () => {
  const x = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];

  test('two below, then four above, and five on the line', () => {
    // Slope 1 and intercept 0. Two steps of −√(4/2), four of √(2/4): 2√2, and 2√2/√3 = 1.633; Kolmogorov's
    // 1.63 is 1 %; SciPy 1.17.1: stats.kstwobign.sf((8 / 3)**0.5)
    const y = [0, 1, 3, 4.25, 5.75, 6.25, 7, 8, 9, 10, 11.25];
    const turned = [...x.keys()].map((i) => (i * 7) % 11);
    for (const order of [[...x.keys()], turned, [...turned].reverse()]) {
      const found = passingBablokLine({ x: order.map((i) => x[i]), y: order.map((i) => y[i]) });
      near(found.slope.value, 1, 1e-12);
      expect(found.linearity).toEqual({
        largest: about(Math.sqrt(8)),
        statistic: about(Math.sqrt(8 / 3)),
        p: about(0.00965589890103449, 9),
        why: '',
      });
    }
  });

  test('six above, between three and three below', () => {
    // Steps of 1: three down, six up, three down
    const points = {
      x: [...x, 12],
      y: [0.4, 1.9, 3.4, 4.6, 5.9, 7.1, 7.9, 8.6, 9.2, 9.7, 10.1, 10.3],
    };
    expect(passingBablokLine(points).linearity).toMatchObject({
      largest: about(3),
      statistic: about(3 / Math.sqrt(7)),
      p: about(0.15278434012680464, 9),
    });
  });

  test.each([
    ['all on a line that rounding bends', [1, 3, 7, 20, 45], (v: number) => 0.1 + 0.3 * v],
    ['all but one, which lies above', [1, 2, 3, 4, 5], (v: number) => (v === 5 ? 6 : v)],
    ['all but one, which lies below', [1, 2, 3, 4, 5], (v: number) => (v === 5 ? 4.5 : v)],
  ])('nothing to judge by: %s', (_, at, of) => {
    expect(passingBablokLine({ x: at, y: at.map(of) }).linearity).toEqual({
      largest: 0,
      statistic: null,
      p: null,
      why: expect.stringMatching(/both sides/),
    });
  });
});

test.each([
  [[], []],
  [[5], []],
  [[3, 1, 2], []],
  [
    [3, 1, 3, 2, 1, 3],
    [2, 3],
  ],
  [[10, 9, 10, 100], [2]],
  [[4, 4, 4], [3]],
])('groups of equal values in %j: %j', (values, groups) => {
  expect(tieGroups(values)).toEqual(groups);
});

test('the middle of an odd and of an even number', () => {
  const at = (rank: number) => [2, 3, 5, 9][rank - 1]!;
  expect([1, 2, 3, 4].map((total) => middleSlope(at, total))).toEqual([2, 2.5, 3, 4]);
});
