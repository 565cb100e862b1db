/** What mending a suspect changes, and what it leaves alone, by hand. */
import { describe, expect, test } from 'vitest';
import { withLikely } from '../../../src/record/slips/withLikely.js';
import { withoutSuspects } from '../../../src/record/slips/withoutSuspects.js';
import type { Run, Study, Suspect } from '../../../src/vocabulary.js';
import { runsOf, seriesOf } from '../../series/runs.js';
import { studyOf, TIDY } from '../support.js';

/** Four runs of two laps; side by side both runs of a lap stand in one row. */
function study(layout: Study['layout'], changes: Readonly<Record<number, Partial<Run>>> = {}) {
  const runs = runsOf('RCRC', ({ place }) => [46, 41, 47, 42][place]!).map((run) => ({
    ...run,
    row: layout === 'tidy' ? run.row : 1 + run.lap!,
    ...changes[run.run],
  }));
  return { ...studyOf(TIDY), layout, series: [seriesOf(runs), { ...seriesOf(runs), id: 'other' }] };
}
const suspect = (parts: Partial<Suspect>): Suspect => ({
  row: 2,
  rows: [2],
  series: 's',
  meter: 'reference',
  kind: 'decimal-place',
  found: 46,
  likely: 4.6,
  message: '',
  ...parts,
});
const numbers = ({ series: [one] }: Study) =>
  one!.runs.map(({ reading_mW, peak_mW, zero_mW }) => [reading_mW, peak_mW, zero_mW]);
const excludes = ({ series: [one] }: Study) => one!.runs.map(({ exclude }) => exclude);
const OPEN = 'open suspect';

test('only the series of the suspect is mended', () => {
  const before = study('tidy');
  const [one, other] = withLikely(before, [suspect({})]).series;
  expect(one!.runs.map(({ reading_mW }) => reading_mW)).toEqual([4.6, 41, 47, 42]);
  expect(other).toEqual(before.series[1]);
});

test('a number of a series that is in another unit altogether is mended in the unit that was typed', () => {
  const zero = { zero_mW: 0.5 };
  const before = study('tidy', { 1: { ...zero, reading_mW: 45.5 }, 3: { ...zero, reading_mW: 4.2 } });
  const mended = withLikely(before, [
    suspect({ rows: [2, 4], kind: 'unit', likely: 0.046 }),
    suspect({ row: 4, rows: [4], found: 4.7, likely: 47 }),
  ]);
  expect(numbers(mended)).toEqual([
    [0.0455, null, 0.0005],
    [41, null, null],
    [0.0465, null, 0.0005],
    [42, null, null],
  ]);
});

describe('without a likely value, what is left out is', () => {
  test.each([
    ['other', 'reference', [OPEN, null, null, null]],
    ['other', 'candidate', [null, OPEN, null, null]],
    ['unit', 'candidate', [null, OPEN, null, null]],
    ['repeated', 'reference', [OPEN, OPEN, null, null]],
    ['exchanged', 'reference', [OPEN, OPEN, null, null]],
  ] as const)('%s of the %s in row 2, side by side: %j', (kind, meter, expected) => {
    const mended = withLikely(study('side-by-side'), [suspect({ kind, meter, likely: null })]);
    expect(excludes(mended)).toEqual(expected);
  });

  test('and a reason that stands there stays', () => {
    const before = study('tidy', { 1: { exclude: 'knocked' } });
    expect(excludes(withLikely(before, [suspect({ kind: 'other', likely: null })]))).toEqual([
      'knocked',
      null,
      null,
      null,
    ]);
  });
});

describe('meters exchanged', () => {
  const all = [2, 3, 4, 5];
  const meters = ({ series: [one] }: Study) => one!.runs.map(({ meter }) => meter[0]).join('');

  test('in a whole series, one row a run: the names change, the numbers stay', () => {
    const mended = withLikely(study('tidy'), [suspect({ kind: 'exchanged', rows: all })]);
    expect(meters(mended)).toBe('crcr');
    expect(numbers(mended).map(([reading]) => reading)).toEqual([46, 41, 47, 42]);
  });

  test('in one lap of it: the numbers of the two runs, with peaks and zeros', () => {
    const before = study('tidy', {
      1: { peak_mW: 48, zero_mW: 0.5 },
      2: { peak_mW: 43, zero_mW: 0.25 },
    });
    const mended = withLikely(before, [suspect({ kind: 'exchanged', rows: [2, 3] })]);
    expect(meters(mended)).toBe('rcrc');
    expect(numbers(mended)).toEqual([
      [41, 43, 0.25],
      [46, 48, 0.5],
      [47, null, null],
      [42, null, null],
    ]);
  });

  test('in a whole series, one row a lap: the numbers of every lap', () => {
    const mended = withLikely(study('side-by-side'), [
      suspect({ kind: 'exchanged', rows: [2, 3] }),
    ]);
    expect(meters(mended)).toBe('rcrc');
    expect(numbers(mended).map(([reading]) => reading)).toEqual([41, 46, 42, 47]);
  });

  test('a run without a partner stays', () => {
    const before = study('tidy', { 2: { lap: 7 } });
    const mended = withLikely(before, [suspect({ kind: 'exchanged', rows: [2, 3] })]);
    expect(numbers(mended)).toEqual(numbers(before));
  });
});

describe('one number of the run in row 2', () => {
  // Shown 46.5, peak 48.5, zero 0.5
  const before = study('side-by-side', { 1: { peak_mW: 48, zero_mW: 0.5 } });
  test.each([
    ['reading', 4.5, [4, 48, 0.5]],
    ['peak', 50.5, [46, 50, 0.5]],
    ['zero', 0.25, [46.25, 48.25, 0.25]],
  ] as const)('the %s is %d: %j', (quantity, likely, expected) => {
    const mended = withLikely(before, [suspect({ quantity, likely })]);
    expect(numbers(mended)).toEqual([expected, ...numbers(before).slice(1)]);
  });

  test('a suspect that names no quantity is about the reading; without zero and peak there is none', () => {
    const mended = withLikely(study('tidy'), [suspect({ likely: 4.5 })]);
    expect(numbers(mended)[0]).toEqual([4.5, null, null]);
  });

  test('of a run whose zero is mended to the zero of the others', () => {
    const bare = study('tidy', { 1: { zero_mW: 5 } });
    // Shown 51 less 0.5
    const mended = withLikely(bare, [suspect({ quantity: 'zero', likely: 0.5 })]);
    expect(numbers(mended)[0]).toEqual([50.5, null, 0.5]);
  });
});

test('all entries of a meter: the point moves in readings, peaks and zeros alike', () => {
  const before = study('tidy', { 1: { peak_mW: 48, zero_mW: 0.5 } });
  const mended = withLikely(before, [suspect({ rows: [2, 4], found: 46, likely: 0.046 })]);
  expect(numbers(mended)).toEqual([
    [0.046, 0.048, 0.0005],
    [41, null, null],
    [0.047, null, null],
    [42, null, null],
  ]);
});

test('without suspects: each run of their rows has a reason, in their series alone', () => {
  const before = study('tidy', { 2: { exclude: 'knocked' } });
  const left = withoutSuspects(before, [suspect({ rows: [2, 3] }), suspect({ row: 5, rows: [5] })]);
  expect(excludes(left)).toEqual([OPEN, 'knocked', null, OPEN]);
  expect(left.series[1]).toBe(before.series[1]);
  expect(left.series[0]!.runs.map(({ reading_mW }) => reading_mW)).toEqual([46, 41, 47, 42]);
});
