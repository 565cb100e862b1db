import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correctEarlyReading } from '../../src/settle/correctEarlyReading.js';
import { missingFraction, timeToSettle } from '../../src/settle/missingFraction.js';
import {
  type ThreePointOptions,
  threePointExtrapolation,
} from '../../src/settle/threePointExtrapolation.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';
import { near, nearly } from '../near.js';
import { fromR } from '../power/lines/fixtures.js';

describe('missing fraction and time to settle', () => {
  test('what is missing after 3, 4.6, 5 and 7 time constants', () => {
    // Common practice: 5.0 %, 1.0 %, 0.67 %, 0.09 %; half a unit of the last digit
    near(100 * missingFraction(9, 3), 5.0, 0.05);
    near(100 * missingFraction(13.8, 3), 1.0, 0.05);
    near(100 * missingFraction(15, 3), 0.67, 0.005);
    near(100 * missingFraction(21, 3), 0.09, 0.005);
    // "0 to 95 % time" is about three time constants (maker's application notes)
    near(timeToSettle(0.05, 1), 3.0, 0.05);
  });

  test('one undoes the other', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (fraction, tau) =>
          nearly(missingFraction(timeToSettle(fraction, tau), tau), fraction, 1e-9),
      ),
      { seed: 41 },
    );
  });

  test('a negative time, a fraction of 0 or 1 and a time constant of 0 are refused', () => {
    const wrong = expect.objectContaining({ code: 'argument-wrong' });
    expect(() => missingFraction(-1, 3)).toThrow(wrong);
    expect(() => missingFraction(1, 0)).toThrow(wrong);
    expect(() => timeToSettle(0, 3)).toThrow(wrong);
    expect(() => timeToSettle(1, 3)).toThrow(wrong);
    expect(() => timeToSettle(-0.1, 3)).toThrow(wrong);
    expect(() => timeToSettle(0.1, 0)).toThrow(wrong);
    expect(() => missingFraction(Number.NaN, 3)).toThrow(wrong);
    expect(() => missingFraction(1, Number.POSITIVE_INFINITY)).toThrow(wrong);
    // ln 100 = 4.60517
    near(timeToSettle(0.01, 3), 3 * 4.605170186, 1e-8);
    expect(missingFraction(0, 3)).toBe(1);
  });
});

describe('early reading', () => {
  test('1 s of timing counts 1.7 % at three time constants and 0.2 % at five', () => {
    // Arithmetic of the step response for τ = 3 s (slope at that moment); half a unit of the digit
    const late = (elapsed_s: number) => {
      const found = correctEarlyReading({
        reading_mW: 95,
        elapsed_s,
        timeConstant_s: 3,
        timeConstantStandardUncertainty_s: 0,
        elapsedStandardUncertainty_s: 1,
      });
      return found.status === 'corrected' ? 100 * found.parts.time : null;
    };
    near(late(9), 1.7, 0.05);
    near(late(15), 0.2, 0.05);
  });

  test('the value is the reading over 1 − e^(−t/τ), with its parts in quadrature', () => {
    const found = correctEarlyReading({
      reading_mW: 95.0213,
      elapsed_s: 9,
      timeConstant_s: 3,
      timeConstantStandardUncertainty_s: 0.3,
      readingStandardUncertainty_mW: 0.95,
      elapsedStandardUncertainty_s: 0.5,
    });
    if (found.status !== 'corrected') throw new Error(found.why);
    // 1 − e^(−3) = 0.950213
    near(found.value_mW, 100, 0.0001);
    // By hand: t/τ · e^(−3)/(1 − e^(−3)) · 10 % = 3 · 0.0523957 · 0.1; 0.0523957 · 0.5/3; 0.95/95.02
    near(found.parts.time_constant, 0.0157187, 1e-7);
    near(found.parts.time, 0.0087326, 1e-7);
    near(found.parts.reading, 0.0099978, 1e-7);
    near(found.standard_uncertainty_mW, 100 * Math.hypot(0.0157187, 0.0087326, 0.0099978), 1e-4);
    near(found.coverage_factor, 1.96, 0.0005);
  });

  const about = (value: number, digits = 9) => expect.closeTo(value, digits);

  test('the whole record, with few degrees of freedom of both', () => {
    // e^(−2) = 0.1353353 is missing: u(τ)/τ = 0.1 counts 2·0.1353353/0.8646647 times
    const missing = Math.exp(-2);
    const value = 80 / (1 - missing);
    const [reading, tau] = [0.02, (2 * missing * 0.1) / (1 - missing)];
    const time = (missing * 0.3) / (1 - missing) / 3;
    const u = Math.hypot(reading, tau, time);
    const dof = u ** 4 / (reading ** 4 / 7 + tau ** 4 / 4);
    const k = coverageFactor(0.9, dof);
    const options = {
      reading_mW: 80,
      elapsed_s: 6,
      timeConstant_s: 3,
      timeConstantStandardUncertainty_s: 0.3,
      timeConstantDof: 4,
      readingStandardUncertainty_mW: 1.6,
      readingDof: 7,
      elapsedStandardUncertainty_s: 0.3,
      confidence: 0.9,
    };
    expect(correctEarlyReading(options)).toEqual({
      status: 'corrected',
      value_mW: about(value),
      multiplier: about(1 / (1 - missing)),
      missing_fraction: about(missing),
      standard_uncertainty_mW: about(u * value),
      dof: about(dof, 6),
      expanded_uncertainty_mW: about(k * u * value, 7),
      coverage_factor: about(k, 7),
      interval_mW: [about(value - k * u * value, 7), about(value + k * u * value, 7)],
      parts: { reading: about(reading), time_constant: about(tau), time: about(time) },
    });
    // Known exactly where nothing is said, and 95 %
    const { timeConstantDof: _, readingDof: __, confidence: ___, ...plain } = options;
    expect(correctEarlyReading(plain)).toMatchObject({
      dof: KNOWN_EXACTLY,
      coverage_factor: about(1.959963985, 6),
    });
    expect(
      correctEarlyReading({
        reading_mW: 80,
        elapsed_s: 6,
        timeConstant_s: 3,
        timeConstantStandardUncertainty_s: 0,
      }),
    ).toMatchObject({
      standard_uncertainty_mW: 0,
      parts: { reading: 0, time_constant: 0, time: 0 },
    });
  });

  test('half of the reading, and a quarter of the time constant, are the most it bears', () => {
    const of = (elapsed_s: number, timeConstantStandardUncertainty_s: number) => {
      const found = correctEarlyReading({
        reading_mW: 50,
        elapsed_s,
        timeConstant_s: 1,
        timeConstantStandardUncertainty_s,
      });
      return found.status === 'corrected' ? found.multiplier : found.why.slice(0, 17);
    };
    expect(of(Math.LN2, 0.25)).toBe(2);
    expect(of(0.69, 0.25)).toBe('At 0.69 s 50 % is');
    expect(of(Math.LN2, 0.251)).toBe('The time constant');
    // Both wrong: what is missing comes first
    expect(of(0.1, 0.5)).toBe('At 0.1 s 90 % is ');
  });

  test.each([
    { reading_mW: -1 },
    { reading_mW: Number.NaN },
    { elapsed_s: -1 },
    { timeConstant_s: 0 },
    { timeConstantStandardUncertainty_s: -1 },
    { timeConstantDof: 0 },
    { readingStandardUncertainty_mW: -1 },
    { readingDof: 0 },
    { elapsedStandardUncertainty_s: -1 },
    { confidence: 1 },
  ])('%j is refused', (change) => {
    expect(() =>
      correctEarlyReading({
        reading_mW: 80,
        elapsed_s: 6,
        timeConstant_s: 3,
        timeConstantStandardUncertainty_s: 0.1,
        ...change,
      }),
    ).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
  });

  test('the interval holds its 95 % over random time constants, times and readings', () => {
    const random = seededRandom(42);
    let hits = 0;
    for (let k = 0; k < 4000; k++) {
      const settled = 100;
      const elapsed = 6;
      const tau = 3;
      const reading = settled * (1 - Math.exp(-(elapsed + 0.2 * random.normal()) / tau));
      const found = correctEarlyReading({
        reading_mW: reading + random.normal(),
        elapsed_s: elapsed,
        timeConstant_s: tau + 0.3 * random.normal(),
        timeConstantStandardUncertainty_s: 0.3,
        readingStandardUncertainty_mW: 1,
        elapsedStandardUncertainty_s: 0.2,
      });
      if (found.status !== 'corrected') throw new Error(found.why);
      if (found.interval_mW[0] <= settled && settled <= found.interval_mW[1]) hits++;
    }
    // Four binomial standard errors
    near(hits / 4000, 0.95, 0.0138);
  });

  test('few degrees of freedom of the time constant widen the interval', () => {
    const of = (timeConstantDof?: number) =>
      correctEarlyReading({
        reading_mW: 80,
        elapsed_s: 6,
        timeConstant_s: 3,
        timeConstantStandardUncertainty_s: 0.1,
        ...(timeConstantDof === undefined ? {} : { timeConstantDof }),
      });
    // JCGM 100:2008, table G.2: t = 4.30 for two degrees of freedom at 95 %
    expect(of(2)).toMatchObject({ status: 'corrected' });
    const two = of(2);
    if (two.status === 'corrected') near(two.coverage_factor, 4.3, 0.005);
    const known = of();
    if (known.status === 'corrected') near(known.coverage_factor, 1.96, 0.0005);
  });

  test('too early a reading, or too vague a time constant, is refused with the reason', () => {
    const base = { reading_mW: 30, timeConstant_s: 3, timeConstantStandardUncertainty_s: 0.1 };
    const early = correctEarlyReading({ ...base, elapsed_s: 1 });
    expect(early).toMatchObject({ status: 'refused' });
    if (early.status === 'refused') expect(early.why).toMatch(/Wait at least 2.1 s/);
    const vague = correctEarlyReading({
      ...base,
      elapsed_s: 9,
      timeConstantStandardUncertainty_s: 1,
    });
    expect(vague).toMatchObject({ status: 'refused' });
    expect(() => correctEarlyReading({ ...base, reading_mW: 0, elapsed_s: 9 })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('three equally spaced readings', () => {
  const at = (t: number) => 100 * (1 - Math.exp(-t / 3));

  test('of a first-order rise give its end and its time constant exactly', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 1, max: 4, noNaN: true }),
        (start, spacing) => {
          const found = threePointExtrapolation({
            readings_mW: [at(start), at(start + spacing), at(start + 2 * spacing)],
            readingStandardUncertainty_mW: 0.01,
            spacing_s: spacing,
          });
          if (found.status !== 'extrapolated') throw new Error(found.why);
          nearly(found.value_mW, 100, 1e-10);
          nearly(found.time_constant_s, 3, 1e-8);
          nearly(found.ratio, Math.exp(-spacing / 3), 1e-8);
        },
      ),
      { seed: 43 },
    );
  });

  test('a worked case: 50, 75, 87.5 go to 100', () => {
    // a + Δ1/(1 − Δ2/Δ1) = 50 + 25/(1 − 0.5); by hand u(P) = u · √(0.5² + 2² + 2²)·… with
    // ∂P/∂a = (P − c)/D = 1, ∂P/∂b = 2(b − P)/D = −4, ∂P/∂c = (P − a)/D = 4, D = Δ1 − Δ2 = 12.5
    const found = threePointExtrapolation({
      readings_mW: [50, 75, 87.5],
      readingStandardUncertainty_mW: 0.1,
    });
    if (found.status !== 'extrapolated') throw new Error(found.why);
    near(found.value_mW, 100, 1e-12);
    near(found.standard_uncertainty_mW, 0.1 * Math.sqrt(1 + 16 + 16), 1e-12);
    expect(found.time_constant_s).toBeNull();
  });

  test('the interval ends where R finds the statistic at its quantile', () => {
    // test/fixtures/lines.R
    const found = threePointExtrapolation({
      readings_mW: [50, 75, 87.5],
      readingStandardUncertainty_mW: 1,
    });
    if (found.status !== 'extrapolated') throw new Error(found.why);
    nearly(found.interval_mW[0], fromR.threePoints[0], 1e-8);
    nearly(found.interval_mW[1], fromR.threePoints[1], 1e-8);
  });

  test('the interval holds its 95 % among those that are answered', () => {
    const random = seededRandom(44);
    let answered = 0;
    let hits = 0;
    for (let k = 0; k < 4000; k++) {
      const u = 0.8;
      const found = threePointExtrapolation({
        readings_mW: [
          at(1) + u * random.normal(),
          at(4) + u * random.normal(),
          at(7) + u * random.normal(),
        ],
        readingStandardUncertainty_mW: u,
      });
      if (found.status !== 'extrapolated') continue;
      answered++;
      if (found.interval_mW[0] <= 100 && 100 <= found.interval_mW[1]) hits++;
    }
    expect(answered).toBeGreaterThan(3990);
    near(hits / answered, 0.95, 0.0138);
  });

  test.each([
    ['steps that do not shrink', [10, 20, 30], 'does-not-converge'],
    ['steps that grow', [10, 20, 40], 'does-not-converge'],
    ['a reading that turns back', [10, 30, 20], 'turns-back'],
    ['no change', [10, 10.05, 10.02], 'no-change'],
    ['steps that shrink less than the noise', [10, 11, 11.9], 'lost-in-noise'],
  ] as const)('%s: refused', (_, readings, reason) => {
    expect(
      threePointExtrapolation({
        readings_mW: readings as unknown as readonly [number, number, number],
        readingStandardUncertainty_mW: 0.1,
      }),
    ).toMatchObject({ status: 'refused', reason });
  });

  test('a reading turns back only where both steps stand out of the noise', () => {
    const of = (...readings_mW: readonly [number, number, number]) => {
      const found = threePointExtrapolation({ readings_mW, readingStandardUncertainty_mW: 0.1 });
      return found.status === 'refused' ? found.reason : found.status;
    };
    // 1.96 · 0.1 · √2 = 0.277
    expect([of(50, 75, 74.5), of(50, 75, 74.9)]).toEqual(['turns-back', 'extrapolated']);
    expect(of(50, 50.1, 45)).toBe('does-not-converge');
  });

  test('a falling reading is extrapolated downwards', () => {
    const found = threePointExtrapolation({
      readings_mW: [50, 25, 12.5],
      readingStandardUncertainty_mW: 0.1,
    });
    if (found.status !== 'extrapolated') throw new Error(found.why);
    near(found.value_mW, 0, 1e-12);
  });

  const of = (
    readings_mW: readonly [number, number, number],
    more: Partial<ThreePointOptions> = {},
  ) => threePointExtrapolation({ readings_mW, readingStandardUncertainty_mW: 0.1, ...more });
  const down = ([a, b, c]: readonly [number, number, number]) => [-a, -b, -c] as const;

  // 1.96·√2·0.1 = 0.2772 is the noise of a step, √6·1.96·0.1 = 0.4801 the least bend
  test.each([
    [[10, 10.277, 10.2], 'no-change'],
    [[10, 10.277, 10.554], 'no-change'],
    [[10, 10.278, 10.278], 'lost-in-noise'],
    [[10, 10.1, 10.38], 'does-not-converge'],
    [[10, 12, 14], 'does-not-converge'],
    [[10, 12, 13.525], 'lost-in-noise'],
    [[10, 12, 13.515], 'extrapolated'],
    [[50, 75, 74.72], 'turns-back'],
    [[50, 75, 74.73], 'extrapolated'],
    [[50, 50.278, 45], 'turns-back'],
    [[50, 50.277, 45], 'does-not-converge'],
  ] as const)('%j: %s, and so on the way down', (readings, reason) => {
    for (const way of [readings, down(readings)]) {
      const found = of(way);
      expect(found.status === 'refused' ? found.reason : found.status).toBe(reason);
    }
  });

  test('the noise grows with few degrees of freedom and shrinks with the confidence', () => {
    // t(5) at 90 %: 2.015048 (table), so a step of 0.285; at 99 % 4.032143, so 0.570
    const reason = (step: number, more: object) => {
      const found = of([10, 10 + step, 10 + step], more);
      return found.status === 'refused' ? found.reason : found.status;
    };
    const [at90, at99] = [0.9, 0.99].map((confidence) => ({ dof: 5, confidence }));
    expect([reason(0.284, at90!), reason(0.286, at90!)]).toEqual(['no-change', 'lost-in-noise']);
    expect([reason(0.569, at99!), reason(0.571, at99!)]).toEqual(['no-change', 'lost-in-noise']);
  });

  test.each([
    [[50, 75, 87.5], {}, 1.959963985],
    [[87, 60, 52], { dof: 5, confidence: 0.9 }, 2.015048373],
    [[-3, 4, 5], { dof: 8 }, 2.306004135],
  ] as const)('%j: both ends are k standard uncertainties away', (readings, more, k) => {
    const [a, b, c] = readings;
    const found = of(readings, { ...more, spacing_s: 2 });
    if (found.status !== 'extrapolated') throw new Error(found.why);
    const bend = 2 * b - a - c;
    const value = (b ** 2 - a * c) / bend;
    const distance = (P: number) =>
      (P * bend - (b ** 2 - a * c)) / Math.hypot(P - c, 2 * (P - b), P - a) / 0.1;
    const [low, high] = found.interval_mW;
    const side = Math.sign(bend);
    near(distance(low), -side * k, 1e-6);
    near(distance(high), side * k, 1e-6);
    expect([low < value, value < high]).toEqual([true, true]);
    near(found.value_mW, value, 1e-9);
    near(
      found.standard_uncertainty_mW,
      (0.1 * Math.hypot(value - c, 2 * (value - b), value - a)) / Math.abs(bend),
      1e-9,
    );
    near(found.ratio, (c - b) / (b - a), 1e-12);
    near(found.time_constant_s, -2 / Math.log((c - b) / (b - a)), 1e-9);
  });

  test('steps that end at once, or turn back within the noise, have no time constant', () => {
    expect(of([50, 75, 75], { spacing_s: 2 })).toMatchObject({
      status: 'extrapolated',
      value_mW: 75,
      ratio: 0,
      time_constant_s: null,
    });
    expect(of([50, 75, 74.9], { spacing_s: 2 })).toMatchObject({ time_constant_s: null });
  });

  test.each([
    [{ readings_mW: [1, 2] as unknown as [number, number, number] }, 'too-few-values'],
    [{ readings_mW: [1, 2, Number.NaN] as [number, number, number] }, 'argument-wrong'],
    [{ readings_mW: [1, 2, 2.5, 2.7] as unknown as [number, number, number] }, 'argument-wrong'],
    [{ dof: 0 }, 'argument-wrong'],
    [{ spacing_s: 0 }, 'argument-wrong'],
    [{ confidence: 0 }, 'argument-wrong'],
    [{ readingStandardUncertainty_mW: Number.NaN }, 'argument-wrong'],
  ])('%j is refused: %s', (change, code) => {
    expect(() => of([50, 75, 87.5], change)).toThrow(expect.objectContaining({ code }));
  });

  test('an uncertainty of 0 is refused: nothing could be told from noise', () => {
    expect(() =>
      threePointExtrapolation({ readings_mW: [1, 2, 2.5], readingStandardUncertainty_mW: 0 }),
    ).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
  });
});
