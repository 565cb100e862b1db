import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bracketedEffect } from '../../src/series/bracketed.js';
import {
  designOf,
  driftModel,
  effectUncertainty,
  effectWeights,
} from '../../src/series/driftModel.js';
import { keptLaps, lapPairs } from '../../src/series/lapPairs.js';
import { driftPerRun, orderBias } from '../../src/series/orderBias.js';
import { baseDegree } from '../../src/statistics/driftDegree.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';
import { runsOf, seriesOf } from './runs.js';

/** ln of candidate over reference in these tests. */
const EFFECT = -0.1;
const DRIFT = 0.002;
const CURVE = 0.0005;

/** Readings without noise: step `linear` per run, `square`·t² about the middle of the series. */
function quiet(meters: string, linear: number, square: number) {
  const middle = (meters.length - 1) / 2;
  return runsOf(
    meters,
    ({ meter, time_s: t }) =>
      50 * Math.exp(linear * t + square * (t - middle) ** 2 + (meter === 'candidate' ? EFFECT : 0)),
  );
}

describe('bias of plain adjacent pairs (arithmetic of mean(B) − mean(A) over equal steps)', () => {
  // Reference A, candidate B; per step of linear drift δ and per q·t² about the middle.
  test.each([
    ['RCRCRCRC', 1, 0],
    ['RCRCRCRCRCRC', 1, 0],
    ['CRCRCRCR', -1, 0],
    ['RCCRRCCR', 0, -2],
    ['RCCRRCCRRCCR', 0, -2],
    ['RCCRCRRC', 0, 0],
  ])('%s: %i δ and %i q', (meters, linear, square) => {
    const runs = quiet(meters, DRIFT, CURVE);
    const model = driftModel(runs, { leastDegree: 2 });
    const bias = Math.log1p(orderBias(model, lapPairs({ runs }))!);
    near(bias, linear * DRIFT + square * CURVE, 1e-9);
    // What the plain mean of the pairs is really off by.
    const plain = lapPairs({ runs }).map((lap) =>
      Math.log(lap.candidate.reading_mW / lap.reference.reading_mW),
    );
    near(plain.reduce((sum, x) => sum + x, 0) / plain.length - EFFECT, bias, 1e-9);
    near(model.effect, EFFECT, 1e-9);
  });

  test('bracketed differences keep −1 q and no linear drift', () => {
    for (const meters of ['RCRCR', 'RCRCRCRC', 'RCRCRCRCR']) {
      const model = driftModel(quiet(meters, DRIFT, CURVE));
      near(bracketedEffect(model)!.effect, EFFECT - CURVE, 1e-9);
    }
  });

  test('leaving the first lap out leaves the bias of the order that remains', () => {
    const runs = quiet('RCCRRCCR', DRIFT, 0);
    const left = keptLaps({ runs }, [{ run: 1 }, { run: 2 }]);
    expect(left.map((lap) => lap.lap)).toEqual([2, 3, 4]);
    // CR RC CR: −1, +1, −1 steps
    const model = driftModel(runs.slice(2));
    near(Math.log1p(orderBias(model, left)!), -DRIFT / 3, 1e-9);
  });
});

test('the plan’s and the model’s opinion of a linear drift agree with NIST’s X, R, R, X block', () => {
  // NIST/SEMATECH e-Handbook 2.3.3.1.2: D = ½[(Y1 − Y2) − (Y3 − Y4)] for X − R, here in ln; exact
  const y = [3.91, 3.82, 3.805, 3.87];
  const runs = runsOf('RCCR', ({ place }) => Math.exp(y[place]!));
  const model = driftModel(runs);
  expect(model.degree).toBe(1);
  near(-model.effect, 0.5 * (y[0]! - y[1]! - (y[2]! - y[3]!)), 1e-12);
});

describe('the drift model', () => {
  test('the weights of the effect sum to zero over the drift and to ±1 over the meters', () => {
    const runs = runsOf(
      'RCRCRCRCRCRC',
      () => 40,
      (place) => place * 45 + (place % 3) * 11,
    );
    const model = driftModel(runs);
    const weights = effectWeights(model);
    const sum = (value: (i: number) => number) =>
      weights.reduce((total, w, i) => total + w * value(i), 0);
    near(
      sum((i) => (runs[i]!.meter === 'candidate' ? 1 : 0)),
      1,
      1e-12,
    );
    near(
      sum((i) => (runs[i]!.meter === 'reference' ? 1 : 0)),
      -1,
      1e-12,
    );
    near(
      sum((i) => runs[i]!.time_s),
      0,
      1e-9,
    );
    near(
      sum((i) => runs[i]!.time_s ** 2),
      0,
      1e-6,
    );
  });

  test('a drift of the model’s degree does not move the effect or its uncertainty', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 10, maxLength: 16 }),
        fc.integer({ min: -50, max: 50 }).map((x) => x / 1000),
        fc.integer({ min: -20, max: 20 }).map((x) => x / 10_000),
        (noise, slope, curve) => {
          const meters = noise.map((_, i) => (i % 2 === 0 ? 'R' : 'C')).join('');
          const make = (a: number, b: number) =>
            runsOf(
              meters,
              ({ place }) => 30 * Math.exp(noise[place]! / 1e4 + a * place + b * place ** 2),
            );
          const one = driftModel(make(0, 0));
          const other = driftModel(make(slope, curve));
          fc.pre(one.degree === 2 && other.degree === 2);
          near(other.effect, one.effect, 1e-10);
          near(
            effectUncertainty(other).standardUncertainty,
            effectUncertainty(one).standardUncertainty,
            1e-9,
          );
        },
      ),
      { seed: 21, numRuns: 60 },
    );
  });

  test('a straight line from four runs, a parabola from ten, nothing below', () => {
    expect([2, 3, 4, 9, 10, 40].map(baseDegree)).toEqual([0, 0, 1, 1, 2, 2]);
    const flat = (meters: string) =>
      driftModel(runsOf(meters, ({ place }) => 20 + 0.01 * ((place * 7) % 5)));
    expect(flat('RCR').degree).toBe(0);
    expect(flat('RCRCRC').degree).toBe(1);
    expect(flat('RCRCRCRCRC').degree).toBe(2);
  });

  test('its columns are the constant, the meter and Legendre polynomials of the time', () => {
    // Times 0, 10, 20, 40 lie at x = −1, −½, 0, 1 of the range; P₂ = (3x² − 1)/2
    const runs = runsOf(
      'RCCR',
      () => 1,
      (place) => [0, 10, 20, 40][place]!,
    );
    expect(designOf(runs, 2)).toEqual([
      [1, -0.5, -1, 1],
      [1, 0.5, -0.5, -0.125],
      [1, 0.5, 0, -0.5],
      [1, -0.5, 1, 1],
    ]);
  });

  test.each([
    // What is known to be needed, as far as four degrees of freedom are left beside it: n − 2 − 4
    [6, 3, 1],
    [7, 3, 1],
    [8, 3, 2],
    [9, 3, 3],
    [9, 2, 2],
    [9, 0, 1],
    [12, 1, 2],
    [13, 7, 7],
  ])('%i runs, degree %i needed: at least %i is carried', (count, leastDegree, degree) => {
    const runs = runsOf('RC'.repeat(7).slice(0, count), () => 1);
    expect(driftModel(runs, { leastDegree }).degree).toBe(degree);
  });

  test('readings without any residual are of degree 0 by the criterion', () => {
    const model = driftModel(runsOf('RC'.repeat(6), () => 1));
    expect([model.degree, model.evidentDegree, model.effect]).toEqual([2, 0, 0]);
  });

  test('drift between two times has the sign of the way from one to the other', () => {
    // ln(reading) = 0.01 t without noise: 0.03 up from 2 to 5 s, 0.03 down from 5 to 2 s
    const model = driftModel(runsOf('RCCRRC', ({ time_s }) => 50 * Math.exp(0.01 * time_s)));
    near(model.driftBetween(2, 5).value, 0.03, 1e-12);
    near(model.driftBetween(5, 2).value, -0.03, 1e-12);
    near(model.driftAt(5) - model.driftAt(2), 0.03, 1e-12);
  });

  test('a drift that no parabola follows raises the degree', () => {
    const random = seededRandom(4);
    const runs = runsOf(
      'RC'.repeat(12),
      ({ place, meter }) =>
        50 *
        (1 - 0.15 * (1 - Math.exp(-place / 3))) *
        (meter === 'candidate' ? 0.9 : 1) *
        (1 + 0.0005 * random.normal()),
    );
    const model = driftModel(runs);
    expect(model.degree).toBeGreaterThan(2);
    expect(model.evidentDegree).toBeGreaterThan(2);
  });

  test('the noise of the worse meter is not taken for a drift of higher degree', () => {
    // As often as with equal noise: the criterion's own rate of false alarms.
    const higher = (noise: readonly [number, number]) => {
      const random = seededRandom(12);
      let count = 0;
      for (let i = 0; i < 300; i++) {
        const runs = runsOf(
          'RCCR'.repeat(4),
          ({ meter }) => 50 * (1 + noise[meter === 'reference' ? 0 : 1] * random.normal()),
        );
        if (driftModel(runs).degree > 2) count++;
      }
      return count / 300;
    };
    const equal = higher([0.005, 0.005]);
    expect(equal).toBeLessThan(0.06);
    expect(higher([0.01, 0.002])).toBeLessThan(equal + 0.03);
  });

  test('a source that wanders is mostly seen to, and the interval of the effect still holds', () => {
    const random = seededRandom(31);
    const series = (step: number) => {
      let walk = 0;
      return runsOf('RC'.repeat(20), ({ meter }) => {
        walk += step * random.normal();
        return 50 * Math.exp(walk + 0.002 * random.normal() + (meter === 'candidate' ? 0.1 : 0));
      });
    };
    const models = Array.from({ length: 40 }, () => driftModel(series(0.006)));
    const seen = models.filter((model) => model.wanderPerRun > 0);
    expect(seen.length).toBeGreaterThan(24);
    const mean = seen.reduce((sum, model) => sum + model.wanderPerRun, 0) / seen.length;
    // The walk that was put in; the drift polynomial takes a part of it.
    expect(mean).toBeGreaterThan(0.003);
    expect(mean).toBeLessThan(0.009);
    const off = seen.map(
      (model) => (model.effect - 0.1) / effectUncertainty(model).standardUncertainty,
    );
    expect(off.filter((t) => Math.abs(t) > 2).length / seen.length).toBeLessThan(0.2);
    expect(driftModel(series(0)).wanderPerRun).toBe(0);
    // Fewer than ten runs cannot show it.
    expect(driftModel(series(0.02).slice(0, 9)).wanderPerRun).toBe(0);
  });

  test('swapping the meters turns the effect round, wander or not', () => {
    const random = seededRandom(77);
    let walk = 0;
    const runs = runsOf('RC'.repeat(14), () => {
      walk += 0.01 * random.normal();
      return 50 * Math.exp(walk + 0.001 * random.normal());
    });
    const swapped = runs.map((run) => ({
      ...run,
      meter: run.meter === 'reference' ? ('candidate' as const) : ('reference' as const),
    }));
    const [one, other] = [driftModel(runs), driftModel(swapped)];
    expect(one.wanderPerRun).toBeGreaterThan(0);
    near(other.effect, -one.effect, 1e-12);
    near(other.wanderPerRun, one.wanderPerRun, 1e-12);
    near(
      effectUncertainty(other).standardUncertainty,
      effectUncertainty(one).standardUncertainty,
      1e-12,
    );
  });

  test('readings that repeat exactly are described without a number that is not finite', () => {
    const model = driftModel(
      runsOf('RCRCRCRCRCRC', ({ meter }) => (meter === 'reference' ? 50 : 46)),
    );
    near(model.effect, Math.log(46 / 50), 1e-12);
    const { standardUncertainty, dof } = effectUncertainty(model);
    near(standardUncertainty, 0, 1e-9);
    expect(Number.isFinite(dof)).toBe(true);
    expect(model.evidentDegree).toBe(0);
  });

  test('two runs, or one meter alone, cannot be told apart from drift and are refused', () => {
    expect(errorOf(() => driftModel(runsOf('RC', () => 5))).code).toBe('too-few-values');
    expect(errorOf(() => driftModel(runsOf('RRRRR', () => 5))).code).toBe('too-few-values');
  });
});

describe('drift per run', () => {
  test('it is the slope of the readings, whatever the times', () => {
    const runs = runsOf(
      'RCRCRC',
      ({ time_s }) => 50 * Math.exp(1e-4 * time_s),
      (place) => 45 * place,
    );
    const step = driftPerRun(driftModel(runs))!;
    near(step.value, 45e-4, 1e-10);
    near(step.standardUncertainty, 0, 1e-9);
  });
});

describe('bracketing', () => {
  test('unequal times are interpolated, so a linear drift leaves nothing', () => {
    const times = [0, 70, 100, 190, 200, 290, 330];
    const runs = runsOf(
      'RCRCRCR',
      ({ meter, time_s }) => 50 * Math.exp(2e-4 * time_s + (meter === 'candidate' ? EFFECT : 0)),
      (place) => times[place]!,
    );
    const found = bracketedEffect(driftModel(runs))!;
    near(found.effect, EFFECT, 1e-12);
  });

  test('neighbouring brackets share a reference run: u is that of the weighted sum', () => {
    const random = seededRandom(9);
    const runs = runsOf('RCRCRCRCRCRCRCR', () => Math.exp(0.01 * random.normal()));
    const model = driftModel(runs);
    const found = bracketedEffect(model)!;
    const [r, c] = model.fit.variances;
    // Seven brackets: end references weigh ½ · 1/7, inner ones 1/7, candidates 1/7.
    const variance = (c * 7 + r * (6 + 2 / 4)) / 49;
    near(found.standardUncertainty, Math.sqrt(variance), 1e-12);
  });

  test('at one moment the two references count half each', () => {
    // ln R₁ = 0, ln C = 1, ln R₂ = 0.5: 1 − (0 + 0.5)/2; the last three runs of the model only make it solvable
    const times = [0, 0, 0, 10, 20, 30];
    const ln = [0, 1, 0.5, 0.2, 0.3, 0.1];
    const runs = runsOf(
      'RCRRRR',
      ({ place }) => Math.exp(ln[place]!),
      (place) => times[place]!,
    );
    near(bracketedEffect(driftModel(runs))?.effect, 0.75, 1e-12);
  });

  test('no candidate run between two reference runs: no bracket', () => {
    expect(bracketedEffect(driftModel(runsOf('CRRC', ({ place }) => 10 + place)))).toBeNull();
  });
});

test('the order has no bias that could be told without a lap', () => {
  const model = driftModel(quiet('RRCC', DRIFT, 0));
  expect(orderBias(model, [])).toBeNull();
});

test('runs without a neighbour of the other meter are in no lap', () => {
  const series = seriesOf(runsOf('RRCRCC', () => 1));
  expect(lapPairs(series).map((lap) => [lap.reference.run, lap.candidate.run])).toEqual([
    [2, 3],
    [4, 5],
  ]);
  expect(keptLaps(series, [{ run: 3 }]).map((lap) => lap.lap)).toEqual([2]);
});
