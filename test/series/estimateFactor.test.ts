import { describe, expect, test } from 'vitest';
import { runsWithout } from '../../src/series/balanced.js';
import { doubts, estimateFactor, NO_FACTOR } from '../../src/series/estimateFactor.js';
import { modelOf, screenSeries } from '../../src/series/screenSeries.js';
import { studyWith } from '../analyse/studies.js';
import { near } from '../near.js';
import { coldLaps } from './coldLaps.js';

const steps = { reference: 0.01, candidate: 0.01 };
type Made = Parameters<typeof studyWith>[0][number];
const estimated = (laps: Made['laps'], exclude = {}, more: Partial<Made> = {}) => {
  const study = studyWith([{ id: 'a', laps, exclude, ...more }]);
  const [series] = study.series;
  return { series, study, ...estimateFactor(series, study, steps) };
};
/** The first made series of a kind. */
const firstOf = (
  deficit: number,
  fits: (found: ReturnType<typeof estimated>) => boolean,
  times?: readonly number[],
) => {
  for (let seed = 0; seed < 200; seed++) {
    const laps = coldLaps(deficit, seed).slice(0, (times?.length ?? 16) / 2);
    const found = estimated(laps, {}, times === undefined ? {} : { times });
    if (fits(found)) return found;
  }
  throw new Error('No such series among 200.');
};

describe('a lap that may be cold', () => {
  const { series, factor, parts, screened } = firstOf(
    0.01,
    (found) => found.screened.suspected.length > 0,
  );
  const plain = parts?.factor ?? NO_FACTOR;
  const without = modelOf(
    runsWithout(series, screened.suspected),
    screened.model?.evidentDegree ?? 0,
  );
  const shift = Math.exp(-(without?.effect ?? Number.NaN)) / (plain.value ?? Number.NaN);

  test('moves one end of the interval by what it moves K, and leaves K and the other end', () => {
    // K without the lap is K · shift; the interval is stretched on the side of the shift alone.
    expect(Math.abs(Math.log(shift))).toBeGreaterThan(1e-5);
    expect(factor.value).toBe(plain.value);
    near(factor.low, (plain.low ?? 0) * Math.min(1, shift), 1e-12);
    near(factor.high, (plain.high ?? 0) * Math.max(1, shift), 1e-12);
  });

  test('widens u as the interval of ln K: (w + |ln shift|) ÷ w', () => {
    const w = Math.log((plain.high ?? 0) / (plain.low ?? 1));
    const u = plain.relative_standard_uncertainty ?? 0;
    near(factor.relative_standard_uncertainty, (u * (w + Math.abs(Math.log(shift)))) / w, 1e-12);
    expect(factor.dof).toBe(plain.dof);
  });

  test('is told with its run', () => {
    expect(doubts(screened)).toEqual([
      `Run 1 may be a cold start (${screened.suspected[0].reason}); it is kept, and the interval covers the factor with and without it.`,
    ]);
  });
});

describe('a cold start that may be a curved drift', () => {
  const { factor, parts, screened } = firstOf(
    0.03,
    (found) => found.screened.rivalEffects.length > 0 && found.screened.suspected.length === 0,
  );

  test('leaves both explanations in the interval', () => {
    // A rival effect e stands for K = e^(−e).
    const plain = parts?.factor ?? NO_FACTOR;
    const shifts = screened.rivalEffects.map((e) => Math.exp(-e) / (plain.value ?? 1));
    near(factor.low, (plain.low ?? 0) * Math.min(1, ...shifts), 1e-12);
    near(factor.high, (plain.high ?? 0) * Math.max(1, ...shifts), 1e-12);
  });

  test('is told', () => {
    expect(doubts(screened).join()).toMatch(/^Run 1 is left out as a cold start, but /);
    expect(doubts({ ...screened, excluded: [] })).toEqual([]);
  });
});

test('readings that repeat but for a first one 4·10⁻⁷ off: the interval is stretched and u stays a number', () => {
  // The others repeat exactly (ln 1 = 0), so a drift of 4·10⁻⁷ is as possible as a cold start, and an
  // interval of no width cannot be widened in proportion.
  const laps = Array.from({ length: 8 }, (_, i) => ({
    reference: 1 - (i === 0 ? 4e-7 : 0),
    candidate: 1,
  }));
  const study = studyWith([{ id: 'a', laps }]);
  const unknown = { reference: null, candidate: null };
  const { factor, parts, screened } = estimateFactor(study.series[0], study, unknown);
  expect(screened.excluded.map(({ run }) => run)).toEqual([1, 2]);
  expect(screened.rivalEffects).toHaveLength(1);
  const rival = Math.exp(-screened.rivalEffects[0]!);
  expect(Math.abs(rival - 1)).toBeGreaterThan(1e-9);
  expect(parts?.factor).toMatchObject({ value: 1, low: 1, high: 1 });
  expect([factor.value, factor.low, factor.high]).toEqual([
    1,
    Math.min(1, rival),
    Math.max(1, rival),
  ]);
  expect(factor.relative_standard_uncertainty).toBe(0);
});

test('what has no interval has none that could be stretched', () => {
  const { series, study, screened } = firstOf(0.01, (one) => one.screened.suspected.length > 0);
  // A step of 5000 mW of the candidate leaves no factor; the first run, of the reference, still looks cold.
  const coarse = estimateFactor(series, study, { reference: 0.01, candidate: 5000 });
  expect(coarse.screened.suspected).toEqual(screened.suspected);
  expect([coarse.factor, coarse.parts]).toEqual([NO_FACTOR, null]);
});

test('a lap without which no drift could be told moves nothing', () => {
  // Without the first lap ten runs stand at two moments, and a parabola takes three.
  const times = [0, 0, 60, 60, 60, 60, 60, 60, 120, 120, 120, 120];
  const found = firstOf(0.01, ({ screened }) => screened.suspected.length > 0, times);
  expect(found.factor).toEqual(found.parts?.factor);
  expect(found.factor.value).toBeGreaterThan(1);
});

test('without a doubt the factor is that of the model', () => {
  const { factor, parts, screened } = firstOf(
    0,
    ({ screened: s }) => s.suspected.length + s.rivalEffects.length === 0,
  );
  expect(factor).toBe(parts?.factor);
  expect(doubts(screened)).toEqual([]);
});

test('without a model there is no factor', () => {
  const every = Object.fromEntries(Array.from({ length: 16 }, (_, i) => [i + 1, 'tried']));
  const { factor, parts } = estimated(coldLaps(0, 1), every);
  expect([factor, parts]).toEqual([NO_FACTOR, null]);
});

describe('screening', () => {
  test('a run left out by its owner goes with its partner, and first', () => {
    const { screened } = estimated(coldLaps(0, 1), { 6: 'door opened' });
    expect(screened.excluded.map(({ run, kind }) => [run, kind])).toEqual([
      [5, 'declared'],
      [6, 'declared'],
    ]);
    expect(screened.kept.map(({ run }) => run)).toEqual([
      1, 2, 3, 4, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16,
    ]);
  });

  test('an outlier stays and is flagged, unless the protocol leaves it out with its partner', () => {
    const laps = coldLaps(0, 1).map((lap, i) =>
      i === 4 ? { ...lap, candidate: 1.2 * lap.candidate } : lap,
    );
    const { series, study, screened } = estimated(laps);
    expect(screened.flagged.map(({ run }) => run)).toContain(10);
    expect(screened.excluded).toEqual([]);
    const protocol = { ...study.protocol, exclude_outliers: true };
    const out = screenSeries(series, { ...study, protocol }, steps);
    expect(out.excluded.map(({ run, kind }) => [run, kind])).toEqual([
      [9, 'outlier'],
      [10, 'outlier'],
    ]);
    expect(out.kept).toHaveLength(14);
    expect(out.model?.runs).toHaveLength(14);
    expect(out.flagged).toEqual(screened.flagged);
  });

  test('exclusions of both kinds stand in the order of the runs', () => {
    const laps = coldLaps(0.08, 3);
    const { screened } = estimated(laps, { 8: 'door opened' });
    expect(screened.excluded.map(({ run, kind }) => [run, kind])).toEqual([
      [1, 'cold-start'],
      [2, 'cold-start'],
      [7, 'declared'],
      [8, 'declared'],
    ]);
    const { series, study } = estimated(laps);
    const protocol = { ...study.protocol, exclude_cold_starts: false };
    expect(screenSeries(series, { ...study, protocol }, steps).excluded).toEqual([]);
  });

  test('a coarse display hides a first lap that a fine one shows', () => {
    // 8 % of 50 mW are 4 mW: nothing beside a step of 40 mW (u = 40/√12 = 11.5 mW).
    const { series, study } = estimated(coldLaps(0.08, 3));
    const coarse = screenSeries(series, study, { reference: 40, candidate: 40 });
    expect([coarse.excluded, coarse.suspected]).toEqual([[], []]);
    // A reading that was multiplied by 1000 was shown by a display whose step is 1000 times larger.
    const scaled = { ...series, runs: series.runs.map((run) => ({ ...run, scale: 1000 })) };
    expect(screenSeries(scaled, study, { reference: 0.04, candidate: 0.04 }).excluded).toEqual([]);
  });

  test('no model for a reading that is not positive, or without a run of each meter', () => {
    const { series } = estimated(coldLaps(0, 1));
    const only = (meter: string) => series.runs.filter((run) => run.meter === meter);
    expect(modelOf(series.runs)).not.toBeNull();
    expect(modelOf(only('reference'))).toBeNull();
    expect(modelOf(only('candidate'))).toBeNull();
    expect(modelOf([])).toBeNull();
    const one = series.runs.map((run) => (run.run === 5 ? { ...run, reading_mW: -1 } : run));
    expect(modelOf(one)).toBeNull();
    expect(modelOf(series.runs.map((run) => ({ ...run, reading_mW: 0 })))).toBeNull();
  });
});
