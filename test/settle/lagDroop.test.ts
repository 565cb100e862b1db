import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lagDroop } from '../../src/settle/lagDroop.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near, nearly } from '../near.js';
import { simulatedTrace } from './bench.js';

test('0.5 % per s and 2 s between the time constants make 1 %', () => {
  // β (τ_A − τ_B): 0.5 %/s × 2 s = 1 % (arithmetic of the step response); the slower meter reads high
  const found = lagDroop({
    relativeDroop_per_s: 0.005,
    timeConstantReference_s: 1,
    timeConstantCandidate_s: 3,
  });
  near(found.relative_bias, 0.01, 1e-15);
  near(found.factor_multiplier, 1.01, 1e-15);
  expect(found.status).toBe('corrected');
});

describe('properties', () => {
  test('two simulated meters on a falling source differ by it, and the multiplier removes it', () => {
    const at = (tau_s: number) =>
      simulatedTrace({ seed: 1, tau_s, drift_per_s: -0.003, sd_mW: 0, length_s: 60 }).reading_mW;
    const reference = at(1).at(-1) ?? 0;
    const candidate = at(4).at(-1) ?? 0;
    // At 60 s the source has fallen to 82 %: droop relative to the power now is 0.003/0.82
    const found = lagDroop({
      relativeDroop_per_s: 0.003 / 0.82,
      timeConstantReference_s: 1,
      timeConstantCandidate_s: 4,
    });
    // First order; the next order is β² τ_reference (τ_candidate − τ_reference) = 4e-5
    near(candidate / reference - 1, found.relative_bias ?? 0, 5e-5);
    near((reference / candidate) * found.factor_multiplier, 1, 2e-4);
  });

  test('exchanging the meters turns the sign', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.02, max: 0.02, noNaN: true }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        (relativeDroop_per_s, a, b) => {
          const one = lagDroop({
            relativeDroop_per_s,
            timeConstantReference_s: a,
            timeConstantCandidate_s: b,
          });
          const other = lagDroop({
            relativeDroop_per_s,
            timeConstantReference_s: b,
            timeConstantCandidate_s: a,
          });
          near(other.relative_bias, -(one.relative_bias ?? 0), 1e-15);
        },
      ),
      { seed: 51 },
    );
  });

  test('the uncertainty is the scatter of the bias, equal time constants included', () => {
    const random = seededRandom(52);
    for (const [reference, candidate] of [
      [1, 4],
      [2, 2],
    ]) {
      const found = lagDroop({
        relativeDroop_per_s: 0.004,
        relativeDroopStandardUncertainty_per_s: 0.001,
        timeConstantReference_s: reference,
        timeConstantReferenceStandardUncertainty_s: 0.2,
        timeConstantCandidate_s: candidate,
        timeConstantCandidateStandardUncertainty_s: 0.5,
      });
      let squares = 0;
      const trials = 40_000;
      for (let k = 0; k < trials; k++) {
        const bias =
          (0.004 + 0.001 * random.normal()) *
          (candidate + 0.5 * random.normal() - reference - 0.2 * random.normal());
        squares += (bias - (found.relative_bias ?? 0)) ** 2;
      }
      // The standard deviation of 40 000 draws is good to 0.4 %; four times that
      nearly(Math.sqrt(squares / trials), found.relative_standard_uncertainty, 0.016);
    }
  });

  test('the bounds hold whatever the unknown time constants are', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.01, max: 0.01, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.boolean(),
        (relativeDroop_per_s, reference, candidate, referenceKnown) => {
          const { bounds } = lagDroop({
            relativeDroop_per_s,
            timeConstantReference_s: referenceKnown && reference > 0 ? reference : null,
            timeConstantCandidate_s: null,
          });
          const bias = relativeDroop_per_s * (candidate - reference);
          expect(bias).toBeGreaterThanOrEqual(bounds[0] - 1e-15);
          expect(bias).toBeLessThanOrEqual(bounds[1] + 1e-15);
        },
      ),
      { seed: 53 },
    );
  });
});

describe('the whole record by hand', () => {
  const about = (value: number) => expect.closeTo(value, 12);

  test('both time constants known', () => {
    // 0.004·(4 − 1); of the difference u = √(0.2² + 0.5²)
    const apart = Math.hypot(0.2, 0.5);
    const u = Math.hypot(3 * 0.001, 0.004 * apart, 0.001 * apart);
    expect(
      lagDroop({
        relativeDroop_per_s: 0.004,
        relativeDroopStandardUncertainty_per_s: 0.001,
        timeConstantReference_s: 1,
        timeConstantReferenceStandardUncertainty_s: 0.2,
        timeConstantCandidate_s: 4,
        timeConstantCandidateStandardUncertainty_s: 0.5,
      }),
    ).toEqual({
      status: 'corrected',
      relative_bias: about(0.012),
      relative_standard_uncertainty: about(u),
      bounds: [about(0.012 - 2 * u), about(0.012 + 2 * u)],
      factor_multiplier: about(1.012),
      why: 'Droop × difference of the time constants (3 s).',
    });
    expect(
      lagDroop({
        relativeDroop_per_s: 0.01,
        timeConstantReference_s: 3,
        timeConstantCandidate_s: 1,
      }),
    ).toMatchObject({
      relative_bias: about(-0.02),
      relative_standard_uncertainty: 0,
      bounds: [about(-0.02), about(-0.02)],
    });
  });

  // Droop 0.002 ∓ 2·0.0005. τ of the candidate 3 ∓ 2, so 1 − 10 to 5 − 0; or 1 ∓ 2, not below 0: −10 to 3
  test.each([
    [3, 1, 1, 0.001, 0.003, -0.027, 0.015],
    [1, 1, 1, 0.001, 0.003, -0.03, 0.009],
    [3, 1, -1, -0.003, -0.001, -0.015, 0.027],
  ])(
    'a candidate of %d ± %d s beside an unknown reference, sign %d',
    (tau, u, sign, _, __, low, high) => {
      const found = lagDroop({
        relativeDroop_per_s: sign * 0.002,
        relativeDroopStandardUncertainty_per_s: 0.0005,
        timeConstantReference_s: null,
        timeConstantCandidate_s: tau,
        timeConstantCandidateStandardUncertainty_s: u,
      });
      expect(found).toEqual({
        status: 'bounded',
        relative_bias: null,
        // Mean square of the rectangle about 0
        relative_standard_uncertainty: about(
          Math.sqrt((high ** 3 - low ** 3) / (3 * (high - low))),
        ),
        bounds: [about(low), about(high)],
        factor_multiplier: 1,
        why: expect.stringMatching(/^The reference's time constant is not known \(0 to 10 s/),
      });
      expect(found.why).toContain('changing by up to 0.3 % per s');
    },
  );

  test('a reference with an uncertainty beside an unknown candidate', () => {
    // 0 − (3 + 2) to 10 − (3 − 2)
    const found = lagDroop({
      relativeDroop_per_s: 0.001,
      timeConstantReference_s: 3,
      timeConstantReferenceStandardUncertainty_s: 1,
      timeConstantCandidate_s: null,
    });
    expect(found.bounds).toEqual([about(-0.005), about(0.009)]);
    expect(found.why).toMatch(/^The candidate's/);
    const neither = lagDroop({
      relativeDroop_per_s: 0.001,
      timeConstantReference_s: null,
      timeConstantCandidate_s: null,
    });
    expect(neither.why).toMatch(/^Neither/);
    expect(neither.bounds).toEqual([about(-0.01), about(0.01)]);
  });

  test.each([
    { relativeDroopStandardUncertainty_per_s: -1 },
    { timeConstantReference_s: -1 },
    { timeConstantCandidate_s: 0 },
    { timeConstantReferenceStandardUncertainty_s: -1 },
    { timeConstantCandidateStandardUncertainty_s: -1 },
    { largestTimeConstant_s: 0 },
    { relativeDroop_per_s: Number.POSITIVE_INFINITY },
  ])('%j is refused', (change) => {
    const base = {
      relativeDroop_per_s: 0.1,
      timeConstantReference_s: 1,
      timeConstantCandidate_s: 1,
    };
    expect(() => lagDroop({ ...base, ...change })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('awkward input', () => {
  test('unknown time constants give a bound, a rectangular uncertainty and no correction', () => {
    const found = lagDroop({
      relativeDroop_per_s: 0.001,
      timeConstantReference_s: null,
      timeConstantCandidate_s: null,
      largestTimeConstant_s: 20,
    });
    expect(found).toMatchObject({ status: 'bounded', relative_bias: null, factor_multiplier: 1 });
    near(found.bounds[0], -0.02, 1e-15);
    near(found.bounds[1], 0.02, 1e-15);
    // JCGM 100:2008, 4.3.7: half-width over √3
    near(found.relative_standard_uncertainty, 0.02 / Math.sqrt(3), 1e-15);
    expect(found.why).toMatch(/0 to 20 s assumed/);
  });

  test('one known time constant makes the bounds lopsided', () => {
    const found = lagDroop({
      relativeDroop_per_s: 0.001,
      timeConstantReference_s: 2,
      timeConstantCandidate_s: null,
    });
    near(found.bounds[0], -0.002, 1e-15);
    near(found.bounds[1], 0.008, 1e-15);
    // Of a bias taken as 0: mean square of the rectangle, (0.008³ + 0.002³)/(3 · 0.01)
    near(found.relative_standard_uncertainty ** 2, (0.008 ** 3 + 0.002 ** 3) / 0.03, 1e-12);
    expect(found.why).toMatch(/candidate's/);
  });

  test('a steady source gives no bias and no minus zero', () => {
    const found = lagDroop({
      relativeDroop_per_s: 0,
      timeConstantReference_s: null,
      timeConstantCandidate_s: 3,
    });
    expect(found.bounds).toEqual([0, 0]);
    expect(found.relative_standard_uncertainty).toBe(0);
  });

  test('a time constant of 0 and a droop that is no number are refused', () => {
    const wrong = expect.objectContaining({ code: 'argument-wrong' });
    const base = { timeConstantReference_s: 1, timeConstantCandidate_s: 1 };
    expect(() => lagDroop({ ...base, relativeDroop_per_s: Number.NaN })).toThrow(wrong);
    expect(() =>
      lagDroop({ ...base, relativeDroop_per_s: 0.1, timeConstantReference_s: 0 }),
    ).toThrow(wrong);
  });
});
