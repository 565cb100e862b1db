import { describe, expect, test } from 'vitest';
import { analyseSeries, suspectWords } from '../../src/series/analyseSeries.js';
import { NO_FACTOR } from '../../src/series/estimateFactor.js';
import { driftPerRun, orderBias } from '../../src/series/orderBias.js';
import { modelOf } from '../../src/series/screenSeries.js';
import { bracketedFactor, seriesFactor } from '../../src/series/seriesFactor.js';
import { studentQuantile } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { seriesVerdict } from '../../src/verdict/tolerance.js';
import type { Study } from '../../src/vocabulary.js';
import { studyWith } from '../analyse/studies.js';
import { suspectIn } from '../analysed.js';
import { near } from '../near.js';
import { studyOf } from '../seriesStudy.js';
import { coldLaps } from './coldLaps.js';
import { runsOf } from './runs.js';

const FINE = { reference: 1e-9, candidate: 1e-9 };
const of = (study: Study, suspects: Parameters<typeof analyseSeries>[3] = []) =>
  analyseSeries(study.series[0], study, FINE, suspects);

describe('a drift of 1 % a run, the reference always first', () => {
  // Runs at 0, 1, 2, … s: reference 100·e^(0.01 t), candidate 90·e^(0.01 t).
  const at = (mW: number, t: number) => mW * Math.exp(0.01 * t);
  const laps = Array.from({ length: 6 }, (_, i) => [at(100, 2 * i), at(90, 2 * i + 1)] as const);
  const study = studyOf([{ id: 'a', nm: 638, laps }], {
    study: { protocol: { order: 'reference-first' } },
  });
  const { result, laps: kept, parts, model } = of(study);

  test('leaves K alone: 100 ÷ 90', () => {
    near(result.factor.value, 10 / 9, 1e-9);
    near(result.factor_bracketed.value, 10 / 9, 1e-9);
    near(parts?.factor.value, 10 / 9, 1e-9);
    expect(model?.runs).toHaveLength(12);
  });

  test('is told, with the bias of the order: one run of drift', () => {
    near(result.drift.percent_per_run, 1, 1e-6);
    near(result.drift.percent_per_run_interval[0], 1, 1e-4);
    near(result.drift.percent_per_run_interval[1], 1, 1e-4);
    near(result.drift.order_bias_percent, 100 * Math.expm1(0.01), 1e-6);
    near(result.drift.wander_percent_per_run, 0, 1e-6);
    expect(result.drift.degree).toBeGreaterThanOrEqual(1);
  });

  test('stays in the plain differences, candidate less reference', () => {
    // 100·(0.9·e^0.01 − 1) % in every lap; in mW the mean over the laps of 90·e^(0.01(2i+1)) − 100·e^(0.02 i)
    near(result.difference_percent.mean, 100 * (0.9 * Math.exp(0.01) - 1), 1e-9);
    near(result.difference_percent.sd, 0, 1e-9);
    const mW = laps.map(([r, c]) => c - r);
    near(result.difference_mW.mean, mW.reduce((a, b) => a + b) / 6, 1e-9);
    near(result.limits_percent.low, result.difference_percent.mean ?? 0, 1e-6);
    expect(result.limits_mW.low).toBeLessThan(result.limits_mW.high ?? 0);
  });

  test('ranges, laps and runs are those of each meter', () => {
    expect(result.reference_range_mW).toEqual([laps[0][0], laps[5][0]]);
    expect(result.candidate_range_mW).toEqual([laps[0][1], laps[5][1]]);
    expect([result.laps, result.used, kept.length]).toEqual([6, { reference: 6, candidate: 6 }, 6]);
    expect([result.verdict, result.further_laps]).toEqual(['usable', null]);
  });
});

test('scatter is told for each meter by itself', () => {
  // The candidate scatters by 1 %, the reference not at all.
  const random = seededRandom(5);
  const laps = Array.from({ length: 40 }, () => [100, 90 * (1 + 0.01 * random.normal())] as const);
  const { result } = of(studyOf([{ id: 'a', nm: 638, laps }]));
  near(result.repeatability.candidate, 0.01, 0.004);
  expect(result.repeatability.reference).toBeLessThan(0.004);
  expect(result.difference_mW.sd).toBeGreaterThan(0.6);
});

test('limits of agreement lie as many standard deviations off as the study says', () => {
  const study = studyWith([{ id: 'a', laps: coldLaps(0, 2) }]);
  const { result } = of({ ...study, limits_multiplier: 3 });
  const { mean, sd } = result.difference_mW;
  near(result.limits_mW.high, (mean ?? 0) + 3 * (sd ?? 0), 1e-9);
  near(
    result.limits_percent.low,
    (result.difference_percent.mean ?? 0) - 3 * (result.difference_percent.sd ?? 0),
    1e-9,
  );
});

describe('a series that scatters, one lap left out', () => {
  const laps = [
    [100, 90],
    [101, 95],
    [99, 89],
    [102, 91],
    [100, 90.5],
    [98, 89.5],
  ].map(([reference, candidate]) => ({ reference: reference!, candidate: candidate! }));
  const study = {
    ...studyWith([{ id: 'a', laps, exclude: { 3: 'a cloud' } }]),
    confidence: 0.8,
    limits_multiplier: 3,
    tolerance: 0.005,
  };
  const [series] = study.series;
  const { result, laps: kept, parts, model } = of(study);
  const without = modelOf(series.runs.filter(({ lap }) => lap !== 2));

  test('its differences and limits are those of the kept laps, as SciPy has them', () => {
    // d = −10, −10, −11, −9.5, −8.5 mW; stats.t.ppf(.9, 4) = 1.533206 times sd/√5 either way;
    // ends of the limits: stats.nct.ppf([.1, .9], 4, 3√5)/√5
    const close = (found: object, expected: Record<string, number | readonly number[]>) => {
      expect(Object.keys(found).sort()).toEqual(Object.keys(expected).sort());
      for (const [key, value] of Object.entries(expected)) {
        const one = [(found as Record<string, number | readonly number[]>)[key]].flat();
        [value].flat().forEach((number, i) => {
          near(one[i], number, 1e-6);
        });
      }
    };
    close(result.difference_mW, { mean: -9.8, sd: 0.908295, low: -10.422791, high: -9.177209 });
    close(result.difference_percent, {
      mean: -9.811759,
      sd: 0.783878,
      low: -10.349241,
      high: -9.274276,
    });
    close(result.limits_mW, {
      low: -12.524885,
      high: -7.075115,
      low_interval: [-15.194997, -11.651673],
      high_interval: [-7.948327, -4.405003],
    });
    close(result.limits_percent, {
      low: -12.163393,
      high: -7.460124,
      low_interval: [-14.467757, -11.409792],
      high_interval: [-8.213725, -5.15576],
    });
    expect(kept.map(({ lap }) => lap)).toEqual([1, 3, 4, 5, 6]);
  });

  test('factor, drift and verdict are those of its runs, its tolerance and its confidence', () => {
    expect(model).toEqual({
      ...without,
      driftAt: expect.any(Function),
      driftBetween: expect.any(Function),
      fit: { ...without!.fit, uncertaintyOf: expect.any(Function) },
    });
    expect(parts).toEqual(seriesFactor(without!, FINE, 0.8));
    const { value, standardUncertainty: u, dof } = driftPerRun(without!);
    // 80 %: two-sided, stats.t.ppf(.9, ν)
    const half = studentQuantile(0.9, dof) * u;
    const repeatability = {
      reference: Math.sqrt(without!.fit.variances[0]),
      candidate: Math.sqrt(without!.fit.variances[1]),
    };
    const judged = seriesVerdict({
      ...parts!.factor,
      laps: 5,
      tolerance: 0.005,
      confidence: 0.8,
      repeatability,
    });
    expect(judged.further_laps).toBeGreaterThan(0);
    const { difference_mW, difference_percent, limits_mW, limits_percent } = result;
    expect(result).toEqual({
      id: 'a',
      source: 'green',
      wavelength_nm: 520,
      laps: 6,
      used: { reference: 5, candidate: 5 },
      excluded: [
        { run: 3, meter: 'reference', kind: 'declared', reason: 'a cloud' },
        {
          run: 4,
          meter: 'candidate',
          kind: 'declared',
          reason: 'the other half of its lap, run 3, was left out: a cloud',
        },
      ],
      exclusion_effects: [
        {
          kind: 'declared',
          runs: [3, 4],
          factor_with: Math.exp(-modelOf(series.runs)!.effect),
          factor_without: Math.exp(-without!.effect),
        },
      ],
      flagged: [],
      ...{ difference_mW, difference_percent, limits_mW, limits_percent },
      drift: {
        degree: without!.degree,
        evident_degree: without!.evidentDegree,
        percent_per_run: 100 * value,
        percent_per_run_interval: [
          expect.closeTo(100 * (value - half), 9),
          expect.closeTo(100 * (value + half), 9),
        ],
        wander_percent_per_run: 0,
        order_bias_percent: 100 * orderBias(without!, kept)!,
      },
      factor: parts!.factor,
      factor_bracketed: bracketedFactor(without!, 0.8),
      repeatability,
      candidate_range_mW: [89, 91],
      reference_range_mW: [98, 102],
      verdict: 'inconclusive',
      further_laps: judged.further_laps,
      why: judged.why,
    });
  });
});

test('a source that wanders is told in percent', () => {
  const random = seededRandom(77);
  let walk = 0;
  const laps = Array.from({ length: 14 }, () => {
    const next = () => {
      walk += 0.01 * random.normal();
      return 50 * Math.exp(walk + 0.001 * random.normal());
    };
    return { reference: next(), candidate: next() };
  });
  const study = studyWith([{ id: 'a', laps }]);
  const { result, model } = of(study);
  expect(model!.wanderPerRun).toBeGreaterThan(0);
  expect(result.drift.wander_percent_per_run).toBe(100 * model!.wanderPerRun);
});

test('without a kept run nothing is told, and without a kept lap no difference', () => {
  const laps = coldLaps(0, 2);
  const every = Object.fromEntries(laps.flatMap((_, i) => [[2 * i + 1, 'tried']]));
  const { result, laps: none, model } = of(studyWith([{ id: 'a', laps, exclude: every }]));
  expect([none, model]).toEqual([[], null]);
  const nothing = { mean: null, sd: null, low: null, high: null };
  expect(result).toMatchObject({
    laps: 8,
    used: { reference: 0, candidate: 0 },
    exclusion_effects: [{ kind: 'declared', factor_without: null }],
    difference_mW: nothing,
    difference_percent: nothing,
    drift: {
      degree: null,
      evident_degree: null,
      percent_per_run: null,
      percent_per_run_interval: [null, null],
      wander_percent_per_run: null,
      order_bias_percent: null,
    },
    factor: NO_FACTOR,
    factor_bracketed: NO_FACTOR,
    candidate_range_mW: null,
    reference_range_mW: null,
    further_laps: null,
  });
  expect(result.exclusion_effects[0]!.factor_with).toBeCloseTo(10 / 9, 2);
});

test('runs that stand in no lap make a model without an order to be biased', () => {
  // R R R C C C: the middle two are the lap, and go; the four that stay stand in none.
  const study = studyWith([{ id: 'a', laps: [{ reference: 50, candidate: 45 }] }]);
  const readings = [50, 50.1, 50.2, 45, 45.2, 45.1];
  const runs = runsOf('RRRCCC', ({ place }) => readings[place]!);
  const series = {
    ...study.series[0]!,
    runs: runs.map((run) => (run.run === 3 ? { ...run, exclude: 'a cloud' } : run)),
  };
  const { result, model } = analyseSeries(series, study, FINE);
  expect(model?.runs.map(({ run }) => run)).toEqual([1, 2, 5, 6]);
  expect(result.drift.order_bias_percent).toBeNull();
  expect(result.drift.percent_per_run).toBeTypeOf('number');
  expect(result.factor_bracketed).toEqual(NO_FACTOR);
});

describe('an open slip', () => {
  const laps = coldLaps(0.08, 3);
  const study = studyWith([{ id: 'a', laps }]);
  const { result } = of(study, [suspectIn('a', { row: 3 }), suspectIn('a', { row: 9 })]);

  test('decides nothing, asks for no laps, and is no cold start', () => {
    expect(of(study).result.excluded).toHaveLength(2);
    expect([result.verdict, result.further_laps, result.excluded]).toEqual([
      'inconclusive',
      null,
      [],
    ]);
    expect(result.why).toMatch(/^Rows 3, 9 of runs\.csv look like slips of the pen/);
    // What the protocol says besides still holds.
    const out = { ...study, protocol: { ...study.protocol, discard_first_laps: 1 } };
    expect(of(out, [suspectIn('a')]).result.excluded.map(({ run, kind }) => [run, kind])).toEqual([
      [1, 'declared'],
      [2, 'declared'],
    ]);
  });

  test('of one row is told as one', () => {
    expect(suspectWords([suspectIn('a', { row: 7 })])).toMatch(
      /^Row 7 of runs\.csv looks like a slip /,
    );
  });
});

describe('what is left out', () => {
  test('its effect is told for each kind: K with these runs, and K as reported', () => {
    // Laps of K = 1.1 but for one of K = 1.2: with it ln K is higher.
    const laps = Array.from({ length: 6 }, (_, i) => ({
      reference: i === 3 ? 60 : 55,
      candidate: 50,
    }));
    const { result, laps: kept } = of(studyWith([{ id: 'a', laps, exclude: { 7: 'a cloud' } }]));
    const [effect] = result.exclusion_effects;
    expect([effect.kind, effect.runs]).toEqual(['declared', [7, 8]]);
    near(effect.factor_without, 1.1, 1e-9);
    expect(effect.factor_with).toBeGreaterThan(1.1);
    expect(effect.factor_with).toBeLessThan(1.2);
    expect([kept.length, result.laps, result.used.reference]).toEqual([5, 6, 5]);
    expect(result.reference_range_mW).toEqual([55, 55]);
  });

  test('runs left out for one reason stay out when another reason is undone', () => {
    const laps = coldLaps(0.08, 3).map((lap, i) => (i === 4 ? { ...lap, reference: 100 } : lap));
    const study = studyWith([{ id: 'a', laps, exclude: { 9: 'a cloud' } }]);
    const { result } = of(study);
    expect(result.exclusion_effects.map(({ kind, runs }) => [kind, runs])).toEqual(
      [
        ['declared', [9, 10]],
        ['cold-start', [1, 2]],
      ].sort((a, b) => Number(a[1][0]) - Number(b[1][0])),
    );
    // A lap of K = 100/45 among eight would move K by about (2.22/1.11)^(1/8) = 9 %.
    const cold = result.exclusion_effects.find(({ kind }) => kind === 'cold-start');
    expect(cold?.factor_with).toBeLessThan(1.12);
    expect(cold?.factor_with).toBeLessThan(cold?.factor_without ?? 0);
    // With the runs of one kind alone left out, the other kind's are back.
    const [series] = study.series;
    const K = (...gone: number[]) =>
      Math.exp(-modelOf(series!.runs.filter(({ run }) => !gone.includes(run)))!.effect);
    expect(cold?.factor_with).toBe(K(9, 10));
    expect(result.exclusion_effects.find(({ kind }) => kind === 'declared')?.factor_with).toBe(
      K(1, 2),
    );
  });
});

test('a display far too coarse gives a model, no interval, and the reason', () => {
  const study = studyOf([
    {
      id: 'a',
      nm: 638,
      laps: [
        [1, 1],
        [1, 1],
      ],
    },
  ]);
  const found = analyseSeries(study.series[0], study, { reference: 500, candidate: 500 });
  expect(found.model).not.toBeNull();
  expect([found.parts, found.result.factor.value]).toEqual([null, null]);
  expect(found.result.why).toContain('reach beyond a factor of 1000 either way');
});

test('one lap gives a difference and nothing else, without a word on steps', () => {
  const { result, model } = of(studyOf([{ id: 'a', nm: 638, laps: [[110, 100]] }]));
  expect(model).toBeNull();
  near(result.difference_mW.mean, -10, 1e-12);
  expect([result.factor.value, result.factor_bracketed.value, result.drift.degree]).toEqual([
    null,
    null,
    null,
  ]);
  expect(result.why).not.toContain('beyond a factor');
  expect(result.repeatability).toEqual({ reference: null, candidate: null });
});
