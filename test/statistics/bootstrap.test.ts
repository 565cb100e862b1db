import { describe, expect, test } from 'vitest';
import { bootstrap } from '../../src/statistics/bootstrap.js';
import { jackknife } from '../../src/statistics/jackknife.js';
import { seededRandom } from '../../src/statistics/random.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

const random = seededRandom(5);
const sample = Array.from({ length: 30 }, () => random.normal());

test('the jackknife of a mean is its textbook standard error, without bias', () => {
  // Efron and Tibshirani 1993, section 11.2: for the mean the jackknife gives s/√n exactly.
  const found = jackknife(sample, mean);
  near(found.standard_error, standardDeviation(sample) / Math.sqrt(30), 1e-12);
  near(found.bias, 0, 1e-12);
});

test('the same seed gives the same interval, another seed another', () => {
  const first = bootstrap(sample, mean, { seed: 3 });
  expect(bootstrap(sample, mean, { seed: 3 })).toEqual(first);
  expect(bootstrap(sample, mean, { seed: 4 }).low).not.toBe(first.low);
});

test('more confidence makes the interval wider, and scale and shift carry over', () => {
  const usual = bootstrap(sample, mean, { seed: 3 });
  const wide = bootstrap(sample, mean, { seed: 3, confidence: 0.99 });
  expect(wide.low!).toBeLessThan(usual.low!);
  expect(wide.high!).toBeGreaterThan(usual.high!);
  const moved = bootstrap(
    sample.map((value) => 2 * value + 7),
    mean,
    { seed: 3 },
  );
  near(moved.low, 2 * usual.low! + 7, 1e-9);
  near(moved.high, 2 * usual.high! + 7, 1e-9);
});

test('equal items give an interval of no width', () => {
  expect(bootstrap([4, 4, 4], mean)).toMatchObject({ low: 4, high: 4, standard_error: 0 });
});

test('a statistic that resamples cannot have gives null with a reason', () => {
  // Of three items one resample in nine is one item three times; its inverse variance is infinite.
  const found = bootstrap([1, 2, 4], (items) => 1 / standardDeviation(items));
  expect(found.low).toBeNull();
  expect(found.undefined_resamples).toBeGreaterThan(0);
  expect(found.why).toMatch(/too small/);
});

test('bad arguments are refused', () => {
  expect(() => bootstrap([1], mean)).toThrow(/at least 2/);
  expect(() => bootstrap([1, 2], mean, { resamples: 10 })).toThrow(/resamples/);
  expect(() => bootstrap([1, 2], () => Number.NaN)).toThrow(/finite/);
});

/** A statistic that ignores its sample and says these values one after the other. */
const script = (...values: readonly number[]) => {
  const left = [...values];
  return () => left.shift()!;
};
const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);

describe('the jackknife by hand', () => {
  test('each without one, and the record whole', () => {
    // Without one: 4, 1, 1, mean 2; deviations −2, 1, 1: squares 6, cubes −6; bias 2(2 − 5), √(2/3·6)
    expect(jackknife(['a', 'b', 'c'], script(5, 4, 1, 1))).toEqual({
      estimate: 5,
      bias: -6,
      standard_error: 2,
      acceleration: expect.closeTo(-6 / (6 * 6 ** 1.5), 14),
    });
    const seen: string[] = [];
    jackknife(['a', 'b', 'c'], (items) => seen.push(items.join('')));
    expect(seen).toEqual(['abc', 'bc', 'ac', 'ab']);
  });

  test('without any influence there is no acceleration', () => {
    expect(jackknife([1, 2], () => 3)).toEqual({
      estimate: 3,
      bias: 0,
      standard_error: 0,
      acceleration: 0,
    });
  });

  test.each<readonly [() => unknown, string]>([
    [() => jackknife([1], mean), 'too-few-values: The jackknife needs at least 2 items. Found: 1.'],
    [() => jackknife('ab' as never, mean), 'argument-wrong: The sample must be a list.'],
    [() => jackknife([1, 2], 3 as never), 'argument-wrong: The statistic must be a function.'],
    [
      () => jackknife([1, 2], script(Number.NaN, 1, 1)),
      'argument-wrong: The statistic must be finite',
    ],
    [
      () => jackknife([1, 2], script(1, 1, Number.NaN)),
      'argument-wrong: The statistic must be finite',
    ],
  ])('refused: %s', (call, said) => {
    const { code, message } = errorOf(call);
    expect(`${code}: ${message}`.slice(0, said.length)).toBe(said);
  });
});

describe('the interval from resamples that are known', () => {
  // np.quantile(1..100, Φ(z₀ + (z₀ + z)/(1 − a(z₀ + z)))), z₀ = Φ⁻¹(share below), SciPy 1.17.1
  const sd = Math.sqrt((100 * 101) / 12);

  test('no bias, no acceleration: the plain quantiles', () => {
    // 50 of 100 below 50.5; 0.025·99 = 2.475 and 0.975·99 = 96.525 steps above 1
    expect(
      bootstrap([0, 0], script(50.5, 1, -1, ...upTo(100)), { resamples: 100, seed: 4 }),
    ).toEqual({
      estimate: 50.5,
      bias: 0,
      standard_error: expect.closeTo(sd, 12),
      low: expect.closeTo(3.475, 6),
      high: expect.closeTo(97.525, 6),
      bias_correction: expect.closeTo(0, 12),
      acceleration: 0,
      resamples: 100,
      undefined_resamples: 0,
      seed: 4,
      why: '',
    });
  });

  test('bias and acceleration', () => {
    // Without one: 1, 1, −2 about 0: deviations −1, −1, 2, squares 6, cubes 6
    const found = bootstrap([0, 0, 0], script(40.5, 1, 1, -2, ...upTo(100)), { resamples: 100 });
    near(found.bias, 10, 1e-12);
    near(found.acceleration, 6 / (6 * 6 ** 1.5), 1e-12);
    near(found.bias_correction, -0.2533471031357997, 1e-7);
    near(found.low, 2.4594090195717473, 1e-5);
    near(found.high, 95.37427531231715, 1e-5);
    expect(found.seed).toBe(1);
  });

  test('a resample that equals the estimate counts half; 90 %', () => {
    const options = { resamples: 100, confidence: 0.9 };
    const found = bootstrap([0, 0], script(60, 1, -1, ...upTo(100)), options);
    near(found.bias_correction, 0.2404260311423079, 1e-7);
    near(found.low, 13.098957195357315, 1e-5);
    near(found.high, 98.34037523995102, 1e-5);
    near(found.bias, -9.5, 1e-12);
  });

  test.each([
    ['below', 0.5],
    ['above', 100.5],
  ])('an estimate %s all of them has no interval', (_, estimate) => {
    const found = bootstrap([0, 0], script(estimate, 1, -1, ...upTo(100)), { resamples: 100 });
    expect(found).toMatchObject({ low: null, high: null, bias_correction: null });
    expect(found.why).toMatch(/leaves the range/);
  });

  test('beyond the pole of the acceleration there is no interval', () => {
    // One of 200 has all the influence: a = −(n − 2)/(6√(n(n − 1))) = −0.165 or 0.165. z₀ + z is
    // Φ⁻¹(0.99) + Φ⁻¹(0.99995) = 2.33 + 3.89 = 6.22, and 6.22 · 0.1654 = 1.03.
    const many = new Array<number>(200).fill(0);
    const without = (sign: number) => many.map((_, i) => (i === 7 ? -sign : 0));
    const far = (sign: number) =>
      bootstrap(many, script(99.5, ...without(sign), ...upTo(100)), {
        resamples: 100,
        confidence: 0.9999,
      });
    expect(far(1).acceleration).toBeCloseTo(198 / (6 * Math.sqrt(200 * 199)), 12);
    expect(far(1)).toMatchObject({ low: null, high: null });
    expect(far(1).bias_correction).toBeCloseTo(2.326, 3);
    // Just before it the bound is the end of the resampled values: 1 − 0.1654 · 6.0 = 0.0075.
    const near = bootstrap(many, script(99.5, ...without(1), ...upTo(100)), {
      resamples: 100,
      confidence: 0.99976,
    });
    expect(near.high).toBe(100);
    expect(far(-1).low).not.toBeNull();
    expect(far(-1).why).toBe('');
  });

  test('one resample in a hundred may be undefined, two may not', () => {
    const lost = (count: number) =>
      bootstrap(
        [0, 0],
        script(50.5, 1, -1, ...new Array<number>(count).fill(Number.NaN), ...upTo(100 - count)),
        { resamples: 100 },
      );
    expect(lost(1)).toMatchObject({ undefined_resamples: 1, why: '' });
    near(lost(1).bias, 50 - 50.5, 1e-12);
    expect(lost(2)).toMatchObject({ undefined_resamples: 2, low: null, high: null });
    expect(lost(2).why).toMatch(/too small/);
    expect(lost(98)).toMatchObject({ standard_error: Math.SQRT1_2, bias: 1.5 - 50.5 });
    expect(() => lost(99)).toThrow('not finite on the resamples');
  });

  test('items are drawn from the whole sample, as many as it has', () => {
    const drawn = new Map<string, number>();
    bootstrap(['a', 'b', 'c'], (items) => {
      expect(items).toHaveLength(drawn.size === 0 ? 3 : items.length);
      for (const item of items) drawn.set(item, (drawn.get(item) ?? 0) + 1);
      return items.length === 3 ? 1 : 2;
    });
    // 4000·3 draws of three: 4000 each, ± 5·√(12 000·2/9)
    for (const item of 'abc') near(drawn.get(item), 4000, 5 * 52 + 3);
  });

  test.each([99, 1e6 + 1, 100.5, Number.NaN])('%d resamples are refused', (resamples) => {
    expect(errorOf(() => bootstrap([1, 2], mean, { resamples })).code).toBe('argument-wrong');
  });
});
