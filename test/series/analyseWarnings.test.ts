import { describe, expect, test } from 'vitest';
import {
  seriesWarnings,
  stepWarnings,
  unisolatedWarnings,
} from '../../src/series/analyseWarnings.js';
import type { SeriesResult } from '../../src/vocabulary.js';
import { resultOf } from '../analysed.js';

const base = resultOf({ id: 'b' });
const said = (changes: Partial<SeriesResult>) => seriesWarnings([{ ...base, ...changes }]);
const codesOf = (changes: Partial<SeriesResult>) => said(changes).map(({ code }) => code);

test('a plain series gives cause for nothing', () => {
  expect(seriesWarnings([base])).toEqual([]);
});

describe('a display step that nobody stated', () => {
  test('is named with its meter: taken from the readings, or missing', () => {
    const found = stepWarnings({
      reference: { step_mW: 0.5, stated: false },
      candidate: { step_mW: null, stated: false },
    });
    expect(found.map(({ code }) => code)).toEqual([
      'resolution-not-stated',
      'resolution-not-stated',
    ]);
    expect(found[0].message).toMatch(/of the reference .* 0.5 mW is taken/);
    expect(found[1].message).toMatch(/of the candidate .* is not in the uncertainty/);
  });

  test('is no matter where it is stated', () => {
    const stated = { step_mW: 0.1, stated: true };
    expect(stepWarnings({ reference: stated, candidate: stated })).toEqual([]);
  });
});

describe('odd runs', () => {
  const flag = { run: 3, meter: 'candidate', test: 'grubbs', message: 'Run 3 is odd' } as const;
  const out = { run: 3, meter: 'candidate', reason: 'odd' } as const;

  test('are kept, unless the protocol left out that very run as an outlier', () => {
    const [kept] = said({ flagged: [flag] });
    expect(kept).toMatchObject({ code: 'odd-run', series: 'b' });
    expect(kept.message).toMatch(/^Run 3 is odd\. Flagged, and kept\./);
    const [left] = said({ flagged: [flag], excluded: [{ ...out, kind: 'outlier' }] });
    expect(left.message).toContain('Left out, as the protocol asks.');
  });

  test('left out for another reason, or another run left out, is no outlier left out', () => {
    for (const excluded of [
      { ...out, kind: 'declared' } as const,
      { ...out, kind: 'outlier', run: 4 } as const,
    ]) {
      expect(said({ flagged: [flag], excluded: [excluded] })[0].message).toContain('and kept');
    }
  });
});

describe('the order of the runs', () => {
  const biased = (order_bias_percent: number | null) => ({
    drift: { ...base.drift, order_bias_percent },
  });

  test('that is worth a word is said of its series, and of no other', () => {
    const other = resultOf({ id: 'c' });
    const found = seriesWarnings([other, { ...base, ...biased(-0.1) }, other]);
    expect(found).toEqual([
      { code: 'order-bias', series: 'b', message: expect.stringContaining('by −0.10 %') },
    ]);
  });

  test('is worth a word from a tenth of a percent on, either way', () => {
    expect(codesOf(biased(0.1))).toEqual(['order-bias']);
    expect(codesOf(biased(-0.25))).toEqual(['order-bias']);
    expect(said(biased(-0.25))[0].message).toContain('by −0.25 %');
    expect(codesOf(biased(0.099))).toEqual([]);
    expect(codesOf(biased(null))).toEqual([]);
  });
});

describe('drift model and bracketing', () => {
  const interval = (low: number, high: number) => ({ ...base.factor, low, high });
  const beside = (low: number, high: number) =>
    codesOf({ factor: interval(1, 1.1), factor_bracketed: interval(low, high) });

  test('differ where one interval lies wholly beside the other', () => {
    expect(beside(1.11, 1.2)).toEqual(['estimates-differ']);
    expect(beside(0.9, 0.99)).toEqual(['estimates-differ']);
  });

  test('of which one has no interval are not compared', () => {
    // Each with one end taken away; the ends that are left lie beside each other.
    const ends = { low: 1, high: 1.1 };
    for (const [factor, factor_bracketed] of [
      [{ low: null }, { low: 1.2, high: 1.3 }],
      [{ high: null }, { low: 0.7, high: 0.8 }],
      [{}, { low: null, high: 0.8 }],
      [{}, { low: 1.2, high: null }],
      [{ low: null, high: null }, ends],
      [{}, { low: null, high: null }],
    ]) {
      expect(
        codesOf({
          factor: { ...base.factor, ...ends, ...factor },
          factor_bracketed: { ...base.factor, ...ends, ...factor_bracketed },
        }),
      ).toEqual([]);
    }
  });

  test('do not where they overlap or touch', () => {
    expect(beside(1.05, 1.2)).toEqual([]);
    expect(beside(0.9, 1.05)).toEqual([]);
    expect(beside(1.1, 1.2)).toEqual([]);
    expect(beside(0.9, 1)).toEqual([]);
  });
});

describe('too few', () => {
  test('one run of a meter is named, as long as there is a factor', () => {
    const [found] = said({ used: { reference: 1, candidate: 4 } });
    expect(found.code).toBe('one-run-of-a-meter');
    expect(found.message).toMatch(/only one run of the reference:/);
    expect(said({ used: { reference: 1, candidate: 1 } })[0].message).toContain(
      'one run of the reference and one of the candidate',
    );
    expect(codesOf({ used: { reference: 2, candidate: 2 } })).toEqual([]);
    const factor = { ...base.factor, value: null };
    expect(codesOf({ factor, used: { reference: 1, candidate: 4 } })).toEqual([]);
  });

  test('one to four laps are few, and five are enough', () => {
    expect(said({ laps: 1 })[0].message).toMatch(/^1 lap: /);
    expect(said({ laps: 4 })[0].message).toMatch(/^4 laps: .* at least 5/);
    expect(codesOf({ laps: 5 })).toEqual([]);
    expect(codesOf({ laps: 0 })).toEqual([]);
  });
});

test('series that hold other light are named one by one', () => {
  const found = unisolatedWarnings(new Set(['x', 'y']));
  expect(found.map(({ code, series }) => [code, series])).toEqual([
    ['infrared-in-the-beam', 'x'],
    ['infrared-in-the-beam', 'y'],
  ]);
});
