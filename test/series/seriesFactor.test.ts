import { describe, expect, test } from 'vitest';
import { driftModel, effectUncertainty } from '../../src/series/driftModel.js';
import { bracketedFactor, seriesFactor } from '../../src/series/seriesFactor.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { runsOf } from './runs.js';

const NOT_KNOWN = { reference: null, candidate: null };

function noisy(scatter: number, seed = 1, step = 0) {
  const random = seededRandom(seed);
  return driftModel(
    runsOf('RC'.repeat(8), ({ meter }) => {
      const x = (meter === 'candidate' ? 46 : 50) * (1 + scatter * random.normal());
      return step > 0 ? Math.round(x / step) * step : x;
    }),
  );
}

describe('the factor of a series', () => {
  test('it is exp of minus the effect, with Student’s t on the log scale', () => {
    const model = noisy(0.01);
    const { standardUncertainty: u, dof } = effectUncertainty(model);
    const { factor, rounding } = seriesFactor(model, NOT_KNOWN, 0.95)!;
    near(factor.value, Math.exp(-model.effect), 1e-12);
    near(factor.relative_standard_uncertainty, u, 1e-15);
    near(Math.log(factor.high! / factor.value!), coverageFactor(0.95, dof) * u, 1e-12);
    near(factor.low! * factor.high!, factor.value! ** 2, 1e-12);
    expect(rounding).toEqual({ reference: 0, candidate: 0 });
  });

  test('a display that shows one number only leaves step/√12, however many runs', () => {
    // JCGM 100:2008, F.2.2.1: a rectangle of one step has u = step/√12
    const model = noisy(0, 1);
    const { factor, rounding } = seriesFactor(model, { reference: 1, candidate: 1 }, 0.95)!;
    near(rounding.reference, 1 / Math.sqrt(12) / 50, 1e-4);
    near(rounding.candidate, 1 / Math.sqrt(12) / 46, 1e-4);
    near(
      factor.relative_standard_uncertainty,
      Math.hypot(rounding.reference, rounding.candidate),
      1e-9,
    );
    // One reading may hide anything within half a step: the interval stays inside those bounds.
    expect(factor.low).toBeGreaterThan(49.5 / 46.5);
    expect(factor.high).toBeLessThan(50.5 / 45.5);
  });

  describe('a display that shows two neighbouring numbers and no other', () => {
    const steps = { reference: null, candidate: 1 };
    /** Twelve laps; so many of the candidate's readings show 47, the others 46. */
    const twoNumbers = (higher: number) => {
      const random = seededRandom(3);
      return driftModel(
        runsOf('RC'.repeat(12), ({ meter, place }) =>
          meter === 'reference'
            ? 50 * (1 + 0.0005 * random.normal())
            : ((place - 1) / 2) % Math.max(1, Math.floor(12 / higher)) === 1 && place < 24
              ? 47
              : 46,
        ),
      );
    };

    test('the interval reaches from the mean to the edge between them', () => {
      // Elementary: with k of n readings at the next number the edge is ½ − k/n of a step away.
      for (const higher of [1, 2]) {
        const model = twoNumbers(higher);
        const shown = model.runs.filter((run) => run.meter === 'candidate');
        expect(shown.filter((run) => run.reading_mW === 47)).toHaveLength(higher);
        const { factor, rounding } = seriesFactor(model, steps, 0.95)!;
        const mean = shown.reduce((sum, run) => sum + run.reading_mW, 0) / shown.length;
        const half = Math.log(factor.high! / factor.value!);
        expect(half).toBeGreaterThanOrEqual((46.5 - mean) / mean - 1e-12);
        near(rounding.candidate, (46.5 - mean) / mean / Math.sqrt(3), 1e-12);
        near(factor.low! * factor.high!, factor.value! ** 2, 1e-12);
      }
    });

    test('as a meter does that is quiet and stands just below the edge', () => {
      // True power 46.5 less one and a half standard deviations: about one reading in fifteen jumps.
      const random = seededRandom(8);
      let seen = 0;
      let inside = 0;
      while (seen < 60) {
        const sd = 0.04;
        const runs = runsOf('RC'.repeat(12), ({ meter }) =>
          meter === 'reference'
            ? 50 * (1 + 0.0005 * random.normal())
            : Math.round(46.5 - 1.5 * sd + sd * random.normal()),
        );
        if (runs.filter((run) => run.reading_mW === 47).length !== 1) continue;
        seen++;
        const { factor } = seriesFactor(driftModel(runs), steps, 0.95)!;
        const truth = 50 / (46.5 - 1.5 * sd);
        if (factor.low! <= truth && truth <= factor.high!) inside++;
      }
      expect(inside).toBeGreaterThan(54);
    });

    test('three numbers, or a step that nobody knows, have no such edge', () => {
      const random = seededRandom(5);
      const model = driftModel(
        runsOf('RC'.repeat(12), ({ meter, place }) =>
          meter === 'reference'
            ? 50 * (1 + 0.001 * random.normal())
            : 46 + (((place - 1) / 2) % 3) - 1,
        ),
      );
      const { rounding } = seriesFactor(model, steps, 0.95)!;
      expect(rounding.candidate).toBeLessThan(0.1 / 46);
      expect(seriesFactor(twoNumbers(1), NOT_KNOWN, 0.95)!.rounding.candidate).toBe(0);
    });
  });

  test('scatter of several steps averages the rounding out', () => {
    const { rounding } = seriesFactor(
      noisy(0.02, 2, 0.5),
      { reference: 0.5, candidate: 0.5 },
      0.95,
    )!;
    expect(rounding.reference).toBeLessThan(1e-5);
    expect(rounding.candidate).toBeLessThan(1e-5);
  });

  test('more confidence is a wider interval about the same value', () => {
    const model = noisy(0.01);
    const widths = [0.5, 0.8, 0.9, 0.95, 0.99].map((confidence) => {
      const { factor } = seriesFactor(model, { reference: 0.1, candidate: 1 }, confidence)!;
      return factor.high! / factor.low!;
    });
    for (let i = 1; i < widths.length; i++) expect(widths[i]).toBeGreaterThan(widths[i - 1]!);
  });

  test('a display step far above the readings gives no interval at all', () => {
    expect(seriesFactor(noisy(0.01), { reference: 1e6, candidate: 1 }, 0.95)).toBeNull();
    expect(seriesFactor(noisy(0.01), { reference: 50, candidate: 50 }, 0.95)).not.toBeNull();
  });

  test.each([
    // ln 1 = 0 leaves no scatter at all; a step of a tenth leaves 0.1/√12 of a reading of 1, and of
    // what the display showed before a factor of 2 brought it there, twice that.
    [1, 0.1 / Math.sqrt(12)],
    [2, 0.2 / Math.sqrt(12)],
  ])('readings without scatter, scale %i: the rectangle alone, known exactly', (scale, u) => {
    const runs = runsOf('RCCRRCCR', () => 1).map((run) => ({ ...run, scale }));
    const found = seriesFactor(driftModel(runs), { reference: 0.1, candidate: null }, 0.95)!;
    // 95 % of a rectangle reach 0.95·√3·u
    const half = 0.95 * Math.sqrt(3) * u;
    expect(found).toEqual({
      factor: {
        value: 1,
        relative_standard_uncertainty: expect.closeTo(u, 12),
        dof: 1e6,
        low: expect.closeTo(Math.exp(-half), 12),
        high: expect.closeTo(Math.exp(half), 12),
      },
      scatter: { standardUncertainty: 0, dof: expect.any(Number) },
      rounding: { reference: expect.closeTo(u, 12), candidate: 0 },
    });
  });

  test.each([
    // Four runs leave one degree of freedom: t = 12.706. ln(reading): 0, s, −s, 0 and ln 1000 = 6.908.
    // With one scatter for both, u² of the effect and of its only bracket is of the order of s².
    [0.1, true],
    [3, false],
  ])('a scatter of e^±%d: an interval beyond a factor of 1000 is none (told: %s)', (s, told) => {
    const ln = [0, s, -s, s / 2, 0];
    const model = driftModel(runsOf('RCRCR', ({ place }) => Math.exp(ln[place]!)));
    expect(seriesFactor(model, NOT_KNOWN, 0.95) !== null).toBe(told);
    expect(bracketedFactor(model, 0.95) !== null).toBe(told);
  });

  test('bracketing gives the same factor within the uncertainty', () => {
    const model = noisy(0.01, 7);
    const drift = seriesFactor(model, NOT_KNOWN, 0.95)!.factor;
    const bracketed = bracketedFactor(model, 0.95)!;
    expect(bracketed.value).toBeGreaterThan(drift.low!);
    expect(bracketed.value).toBeLessThan(drift.high!);
  });
});
