import { describe, expect, test } from 'vitest';
import { analyseSeries, suspectWords } from '../../src/series/analyseSeries.js';
import { seededRandom } from '../../src/statistics/random.js';
import type { Study } from '../../src/vocabulary.js';
import { studyWith } from '../analyse/studies.js';
import { suspectIn } from '../analysed.js';
import { near } from '../near.js';
import { studyOf } from '../seriesStudy.js';
import { coldLaps } from './coldLaps.js';

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
    const { result } = of(studyWith([{ id: 'a', laps, exclude: { 9: 'a cloud' } }]));
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
