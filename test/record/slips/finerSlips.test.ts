/** Readings that a display of the stated step cannot have shown. */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../../src/analyse.js';
import { findSlips } from '../../../src/record/slips/findSlips.js';
import { finerWarnings } from '../../../src/record/slips/finerSlips.js';
import { withLikely } from '../../../src/record/slips/withLikely.js';
import { PLAIN, studyOf } from '../support.js';

/** Six laps of 46.2 and 41.8 mW, in turn-about, as typed by `cell`. */
const LAPS = [46.2, 41.8, 46.1, 41.6, 46.3, 41.9, 46.0, 41.7, 46.2, 41.8, 46.1, 41.7];
const table = (cell: (mW: number, i: number) => string, more: (i: number) => string = () => '') =>
  [
    'series,meter,reading_mW,peak_mW,zero_mW,checked',
    ...LAPS.map((mW, i) => `a,${['reference', 'candidate'][i % 2]},${cell(mW, i)},,0.0,${more(i)}`),
  ].join('\n');
const study = (text: string, steps: readonly [number | null, number | null], more: object = {}) =>
  studyOf(text, {
    ...PLAIN,
    protocol: { order: 'reference-first' },
    reference: { ...PLAIN.reference, resolution_mW: steps[0] },
    candidate: { ...PLAIN.candidate, resolution_mW: steps[1] },
    ...more,
  });
const brief = (...of: Parameters<typeof study>) =>
  findSlips(study(...of)).map(({ meter, kind, found, likely }) => [meter, kind, found, likely]);
const watts = (mW: number) => (mW / 1000).toFixed(4);
const plain = (mW: number) => mW.toFixed(1);

describe('a whole table in W, with steps of 0.1 mW', () => {
  const typed = study(table(watts), [0.1, 0.1]);

  test('is a unit, of each meter, and put right exactly', () => {
    const suspects = findSlips(typed);
    expect(suspects.map(({ meter, kind, rows }) => [meter, kind, rows])).toEqual([
      ['reference', 'unit', [2, 4, 6, 8, 10, 12]],
      ['candidate', 'unit', [3, 5, 7, 9, 11, 13]],
    ]);
    expect(suspects.map(({ found, likely }) => [found, likely])).toEqual([
      [0.0462, 46.2],
      [0.0418, 41.8],
    ]);
    expect(suspects[0]?.message).toBe(
      'runs.csv, rows 2 to 12: the readings of the reference in the series "a" are finer than its display, 0.0462 mW at a step of 0.1 mW: they look typed in another unit, the first for 46.2 mW; mend it in runs.csv, give a reason in the column exclude, mark it in the column checked, or state the right resolution_mW in study.json.',
    );
    const mended = withLikely(typed, suspects);
    expect(mended.series[0]?.runs.map((run) => run.reading_mW)).toEqual(LAPS);
    expect(findSlips(mended)).toEqual([]);
  });

  test('decides nothing, and the hazard is that of the milliwatts', () => {
    const sources = [{ ...PLAIN.sources[0], emission: 'continuous' }];
    const [hazard] = analyse(study(table(watts), [0.1, 0.1], { sources })).hazard;
    expect(hazard).toMatchObject({ class: '3B', decided: false });
    expect(hazard?.upper_mW as number).toBeGreaterThan(46);
  });
});

const warned = (...of: Parameters<typeof study>) =>
  finerWarnings(study(...of)).map(({ message }) =>
    message.match(/of the (.*?) are.*: (.*?) mW/)?.slice(1),
  );

test('finer by a digit or two is said of each meter and no slip: means, or another range of the display', () => {
  expect(brief(table(plain), [1, 1])).toEqual([]);
  expect(warned(table(plain), [1, 1])).toEqual([
    ['reference', '46.2'],
    ['candidate', '41.8'],
  ]);
  expect(warned(table(plain), [0.1, 1])).toEqual([['candidate', '41.8']]);
  const { warnings, wavelengths } = analyse(study(table(plain), [1, 1]));
  expect(warnings.filter(({ code }) => code === 'finer-than-step')).toHaveLength(2);
  expect(wavelengths[0]?.factor).not.toBeNull();
});

test('finer by three digits, where a thousand times as much is more than the meter takes: no slip', () => {
  const text = table((mW) => `${mW.toFixed(1)}12`);
  const rated = (rated_max_mW: number) => ({
    reference: { ...PLAIN.reference, resolution_mW: 1, rated_max_mW },
  });
  expect(brief(text, [1, null], rated(46_000))).toEqual([]);
  expect(warned(text, [1, null], rated(46_000))).toEqual([['reference', '46.212']]);
  expect(brief(text, [1, null], rated(50_000))).toEqual([['reference', 'unit', 46.212, 46212]]);
});

test('a few averaged readings, a finer step, or none stated are no slip', () => {
  expect(warned(table(plain), [0.1, 0.1])).toEqual([]);
  expect(warned(table(plain), [0.01, 0.001])).toEqual([]);
  expect(warned(table(plain), [null, null])).toEqual([]);
  // Half of the readings of each meter, and not more.
  expect(
    warned(
      table((mW, i) => (i < 6 ? `${mW.toFixed(1)}3` : plain(mW))),
      [0.1, 0.1],
    ),
  ).toEqual([]);
  expect(
    warned(
      table((mW, i) => (i < 8 ? `${mW.toFixed(1)}3` : plain(mW))),
      [0.1, 0.1],
    ),
  ).toHaveLength(2);
});

test('numbers of more than seven digits are means, and tell no step', () => {
  const third = (mW: number, digits: number) => (mW + 0.0333333).toFixed(digits);
  expect(
    warned(
      table((mW) => third(mW, 6)),
      [0.1, 0.1],
    ),
  ).toEqual([]);
  expect(
    warned(
      table((mW) => third(mW, 5)),
      [0.1, 0.1],
    ),
  ).toHaveLength(2);
});

test('a reading that was compared with the display again speaks for its meter', () => {
  expect(
    warned(
      table(plain, (i) => (i === 2 ? 'yes' : '')),
      [1, 1],
    ),
  ).toEqual([['candidate', '41.8']]);
});
