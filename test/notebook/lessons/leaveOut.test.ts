import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../../src/error.js';
import { lapLogs } from '../../../src/notebook/lessons/estimates.js';
import {
  type DecidedLap,
  decidedLaps,
  keepAll,
  ruleCoverage,
  withoutBeyond,
  withoutFirst,
  withoutFurthest,
  withoutNoted,
} from '../../../src/notebook/lessons/leaveOut.js';
import { repeatSeries } from '../../../src/notebook/lessons/repeat.js';
import { grubbs } from '../../../src/statistics/grubbs.js';
import { mean, standardDeviation } from '../../../src/statistics/summary.js';

const lapsOf = (logs: readonly number[], noted: readonly number[] = []): readonly DecidedLap[] =>
  logs.map((log, i) => ({ log, note: noted.includes(i) ? 'head knocked' : null }));
const logs = (laps: readonly DecidedLap[]) => laps.map((lap) => lap.log);

const bench = {
  laps: 10,
  level_mW: 50,
  factor: 1.1,
  noise: { reference: 0.004, candidate: 0.006 },
} as const;
const list = repeatSeries({ bench, times: 1500, seed: 5 });

describe('rules', () => {
  test('leave out what they say, in the order of the laps', () => {
    const laps = lapsOf([1, 2, 9, 3, 2, 7], [1]);
    expect(logs(keepAll(laps))).toEqual([1, 2, 9, 3, 2, 7]);
    expect(logs(withoutFurthest(1)(laps))).toEqual([1, 2, 3, 2, 7]);
    expect(logs(withoutFurthest(2)(laps))).toEqual([1, 2, 3, 2]);
    expect(logs(withoutNoted(laps))).toEqual([1, 9, 3, 2, 7]);
    expect(logs(withoutFirst(1)(laps))).toEqual([2, 9, 3, 2, 7]);
  });

  test('look for the furthest where the outlier test looks', () => {
    // NIST/SEMATECH e-Handbook 1.3.5.17.1: eight mass spectrometer readings, 245.57 the outlier.
    const uranium = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    expect(grubbs(uranium).index).toBe(7);
    expect(logs(withoutFurthest(1)(lapsOf(uranium)))).toEqual(uranium.slice(0, 7));
    expect(logs(withoutBeyond(2)(lapsOf(uranium)))).toEqual(uranium.slice(0, 7));
  });

  test('beyond so many deviations end with none beyond, and are not fond of a number', () => {
    const log = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(log, { minLength: 2, maxLength: 12 }), (values) => {
        const kept = logs(withoutBeyond(2)(lapsOf(values)));
        expect(kept.length).toBeGreaterThanOrEqual(2);
        if (kept.length === 2) return;
        const centre = mean(kept);
        const reach = 2 * standardDeviation(kept);
        expect(kept.filter((one) => Math.abs(one - centre) > reach)).toEqual([]);
      }),
      { seed: 1, numRuns: 100 },
    );
    expect(() => withoutBeyond(0)).toThrow(MeterpairError);
  });

  test('never leave fewer than two laps', () => {
    const two = lapsOf([1, 5], [0, 1]);
    for (const rule of [withoutFurthest(5), withoutBeyond(0.1), withoutNoted, withoutFirst(3)]) {
      expect(rule(two)).toHaveLength(2);
    }
  });
});

describe('decidedLaps', () => {
  test('are the laps of the series where nothing happens', () => {
    const laps = decidedLaps(list);
    expect(laps.map(logs)).toEqual(list.map((series) => lapLogs(series)));
    expect(laps.flat().filter((lap) => lap.note !== null)).toEqual([]);
  });

  test('carry a note exactly where the head was knocked', () => {
    const knocked = decidedLaps(list, { knock: { probability: 0.1, change: -0.03 }, seed: 2 });
    const pairs = knocked.flatMap((laps, i) =>
      laps.map((lap, j) => ({ lap, before: lapLogs(list[i]!)[j]! })),
    );
    for (const { lap, before } of pairs) {
      // The candidate reads 3 % low: reference ÷ candidate is 1/0.97 times as large.
      const change = lap.note === null ? 0 : -Math.log(0.97);
      expect(lap.log - before).toBeCloseTo(change, 12);
    }
    const share = pairs.filter(({ lap }) => lap.note !== null).length / pairs.length;
    expect(Math.abs(share - 0.1)).toBeLessThan(4 * Math.sqrt((0.1 * 0.9) / pairs.length));
  });
});

test('leaving out by looks breaks the promise, by a rule that does not look keeps it', () => {
  const rules = [
    keepAll,
    withoutFirst(1),
    withoutFurthest(1),
    withoutBeyond(2),
    withoutFurthest(2),
  ];
  const found = ruleCoverage({
    name: 'nothing happened',
    series: decidedLaps(list),
    rules: rules.map((rule, i) => ({ name: String(i), rule })),
    truth: bench.factor,
  }).rules.map((one) => one.coverage);
  const error = Math.sqrt((0.95 * 0.05) / list.length);
  for (const honest of found.slice(0, 2)) {
    expect(Math.abs(honest.fraction - 0.95)).toBeLessThan(4 * error);
  }
  for (const looked of found.slice(2)) {
    expect(looked.fraction).toBeLessThan(0.95 - 6 * error);
    expect(looked.halfWidth).toBeLessThan(found[0]?.halfWidth ?? 0);
  }
  expect(found[4]?.fraction).toBeLessThan(found[2]?.fraction ?? 0);
});
