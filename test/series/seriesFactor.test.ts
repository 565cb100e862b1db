import { describe, expect, test } from 'vitest';
import { displayStep } from '../../src/readings/displayStep.js';
import { settingRatios } from '../../src/readings/settingRatio.js';
import { driftModel, effectUncertainty } from '../../src/series/driftModel.js';
import { bracketedFactor, seriesFactor } from '../../src/series/seriesFactor.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import type { Meter } from '../../src/vocabulary.js';
import { NOTHING_FURTHER } from '../fullRecords.js';
import { near } from '../near.js';
import { runsOf, seriesOf } from './runs.js';

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

  test('bracketing gives the same factor within the uncertainty', () => {
    const model = noisy(0.01, 7);
    const drift = seriesFactor(model, NOT_KNOWN, 0.95)!.factor;
    const bracketed = bracketedFactor(model, 0.95)!;
    expect(bracketed.value).toBeGreaterThan(drift.low!);
    expect(bracketed.value).toBeLessThan(drift.high!);
  });
});

describe('the step of a display', () => {
  const meter: Meter = {
    role: 'candidate',
    name: 'drawer',
    resolution_mW: null,
    rated_max_mW: null,
    expanded_uncertainty_percent: null,
    coverage_factor: 2,
    wavelength_setting: null,
    time_constant_s: null,
    ...NOTHING_FURTHER,
  };
  const shown = (...readings: number[]) => ({
    series: [seriesOf(runsOf('C'.repeat(readings.length), ({ place }) => readings[place]!))],
  });

  test('stated, it is taken as stated', () => {
    const stated = { ...meter, resolution_mW: 0.5 };
    expect(displayStep(stated, shown(41, 42))).toEqual({ step_mW: 0.5, stated: true });
  });

  test.each([
    [[41, 42, 120], 1],
    [[41.2, 42, 40.9], 0.1],
    [[0.046, 0.0417], 1e-4],
    [[1 / 3, 2 / 3], null],
    [[2e-7, 3e-7], null],
    [[46.2 - 0.1, 0.1 + 0.2], 0.1],
    [[], null],
  ])('the digits of %j show %j', (readings, step_mW) => {
    expect(displayStep(meter, shown(...readings))).toEqual({ step_mW, stated: false });
  });

  test('a subtracted zero does not hide the step that was shown', () => {
    const runs = runsOf('CC', () => 41.7).map((run) => ({ ...run, zero_mW: 0.3 }));
    expect(displayStep(meter, { series: [seriesOf(runs)] }).step_mW).toBe(1);
  });
});

describe('what a wavelength setting is worth', () => {
  const series = (settings: readonly number[], reading: (place: number) => number) => ({
    ...seriesOf(
      runsOf('R'.repeat(settings.length), ({ place }) => reading(place)).map((run, i) => ({
        ...run,
        setting_nm: settings[i]!,
      })),
    ),
    kind: 'setting' as const,
  });

  test('a straight drift does not enter the ratio', () => {
    const settings = [520, 650, 520, 650, 520, 650];
    const [found] = settingRatios(
      series(settings, (i) => 50 * Math.exp(-0.01 * i) * (settings[i] === 650 ? 1.04 : 1)),
      0.95,
    );
    expect(found).toMatchObject({ from_nm: 520, to_nm: 650, meter: 'reference' });
    near(found!.ratio, 1.04, 1e-12);
  });

  test('each further setting has its own ratio to the first', () => {
    const settings = [520, 650, 808, 520, 650, 808, 520, 650, 808];
    const found = settingRatios(
      series(settings, (i) => [50, 55, 60][i % 3]! * (1 + 0.001 * ((i * 5) % 4))),
      0.95,
    );
    expect(found.map((one) => one.to_nm)).toEqual([650, 808]);
    near(found[0]!.ratio, 1.1, 5e-3);
    near(found[1]!.ratio, 1.2, 5e-3);
    for (const one of found) {
      expect(one.low).toBeLessThan(one.ratio!);
      expect(one.high).toBeGreaterThan(one.ratio!);
    }
  });

  test('one run under a setting gives no number and says what is needed', () => {
    const [found] = settingRatios(
      series([520, 650, 520], () => 50),
      0.95,
    );
    expect(found).toMatchObject({ ratio: null, low: null, high: null });
    expect(found!.why).toContain('at least two of each');
  });
});
