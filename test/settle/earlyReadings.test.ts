import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correctEarlyReading } from '../../src/settle/correctEarlyReading.js';
import { missingFraction, timeToSettle } from '../../src/settle/missingFraction.js';
import { threePointExtrapolation } from '../../src/settle/threePointExtrapolation.js';
import { seededRandom } from '../../src/statistics/random.js';
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

  test('an uncertainty of 0 is refused: nothing could be told from noise', () => {
    expect(() =>
      threePointExtrapolation({ readings_mW: [1, 2, 2.5], readingStandardUncertainty_mW: 0 }),
    ).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
  });
});
