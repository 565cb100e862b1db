/** Slips of a whole series from levels written down, each bound from both sides. */
import { describe, expect, test } from 'vitest';
import { type SeriesLevel, wholeSlips } from '../../../src/record/slips/wholeSeries.js';
import type { Meter, MeterRole, Run, Series, Study } from '../../../src/vocabulary.js';
import { runsOf, seriesOf } from '../../series/runs.js';
import { studyOf, TIDY } from '../support.js';

const { log } = Math;

function one(
  id: string,
  k: number,
  more: {
    readonly error?: number;
    readonly level?: Readonly<Record<MeterRole, number>>;
    readonly series?: Partial<Series>;
    readonly readings?: readonly [number, number];
    readonly checked?: MeterRole;
    readonly run?: Partial<Run>;
  } = {},
): SeriesLevel {
  const [reference, candidate] = more.readings ?? [46, 41];
  const runs = runsOf('RCRC', ({ meter }) => (meter === 'reference' ? reference : candidate));
  return {
    series: {
      ...seriesOf(runs.map((run) => ({ ...run, checked: run.meter === more.checked }))),
      id,
      ...more.series,
    },
    k,
    error: more.error ?? 0,
    level: more.level ?? { reference: 0, candidate: 0 },
  };
}

const study = (meters: Partial<Record<MeterRole, Partial<Meter>>> = {}): Study => {
  const plain = studyOf(TIDY);
  return {
    ...plain,
    reference: { ...plain.reference, ...meters.reference },
    candidate: { ...plain.candidate, ...meters.candidate },
  };
};

const found = (levels: readonly SeriesLevel[], of: Study = study()) =>
  wholeSlips(of, levels).map(({ series, kind, meter, move, or }) => [
    series.id,
    kind,
    meter,
    move,
    or.join(),
  ]);

describe('a series alone', () => {
  test.each([
    // ln 30 is absurd
    [29.9, []],
    // 30.1 is 3.01 tens, 47.4 a hundred less 2.11: colours go to 2.1
    [30.1, [['a', 'other', 'candidate', null, '']]],
    [47.4, [['a', 'other', 'candidate', null, '']]],
    [47.9, [['a', 'decimal-place', 'candidate', 2, '']]],
    [208, [['a', 'decimal-place', 'candidate', 2, '']]],
    [212, [['a', 'other', 'candidate', null, '']]],
    [1000, [['a', 'unit', 'candidate', 3, '']]],
    // No pen moves the point by four places
    [10000, [['a', 'other', 'candidate', null, '']]],
    [1 / 29.9, []],
    [1 / 1000, [['a', 'unit', 'reference', 3, '']]],
    [1 / 100, [['a', 'decimal-place', 'reference', 2, '']]],
    [1 / 10000, [['a', 'other', 'reference', null, '']]],
  ])('reference %d times the candidate: %j', (ratio, expected) => {
    expect(found([one('a', log(ratio))])).toEqual(expected);
  });

  test('the meter above its rating is the one that shows too much', () => {
    const at = (mW: number) =>
      found(
        [one('a', log(1000), { level: { reference: log(mW), candidate: log(mW / 1000) } })],
        study({ reference: { rated_max_mW: 1000 } }),
      );
    expect(at(999)).toEqual([['a', 'unit', 'candidate', 3, '']]);
    expect(at(1001)).toEqual([['a', 'unit', 'reference', -3, '']]);
    const less = found(
      [one('a', log(1 / 1000), { level: { reference: log(1), candidate: log(1001) } })],
      study({ candidate: { rated_max_mW: 1000 } }),
    );
    expect(less).toEqual([['a', 'unit', 'candidate', -3, '']]);
  });

  test('an entry of that meter that was checked contradicts it, one of the other does not', () => {
    expect(found([one('a', log(1000), { checked: 'candidate' })])).toEqual([]);
    expect(found([one('a', log(1000), { checked: 'reference' })])).toHaveLength(1);
  });
});

describe('beside others', () => {
  // Each of another source, so that no power of before speaks
  const beside = (k: number, others: readonly number[]) =>
    found([
      one('a', k),
      ...others.map((other, i) => one(`o${i}`, other, { series: { source: `laser ${i}` } })),
    ]);

  test.each([
    [log(4.9), [0], []],
    // 5.1 is ten less 1.96
    [log(5.1), [0], [['a', 'decimal-place', 'candidate', 1, '']]],
    [-log(5.1), [0], [['a', 'decimal-place', 'reference', 1, '']]],
    // 22 is ten times 2.2, and a hundred less 4.5
    [log(22), [0], [['a', 'other', 'candidate', null, '']]],
    // Held against the middle one
    [log(10), [0, log(2.1), log(2.2)], []],
    [log(10), [0, log(1.9), log(2)], [['a', 'decimal-place', 'candidate', 1, '']]],
  ])('K e^%d beside %j: %j', (k, others, expected) => {
    expect(beside(k, others)).toEqual(expected);
  });

  test('what is absurd itself is no measure for others, nor blames them', () => {
    expect(beside(0, [log(1000), 0.01])).toEqual([['o0', 'unit', 'candidate', 3, '']]);
  });

  test('two of three and a third: each far from the other, and none right beyond doubt', () => {
    expect(beside(log(3), [-log(3)])).toEqual([
      ['a', 'decimal-place', 'candidate', 1, ''],
      ['o0', 'decimal-place', 'reference', 1, ''],
    ]);
  });

  test('of the same source: the meter that jumped by the places, while the other stayed', () => {
    const before = (reference: number, candidate: number) => (shown: readonly [number, number]) =>
      found([
        one('a', log(10), { level: { reference: log(shown[0]), candidate: log(shown[1]) } }),
        one('o', 0, { level: { reference: log(reference), candidate: log(candidate) } }),
      ]);
    const high = [['a', 'decimal-place', 'reference', -1, '']];
    const low = [['a', 'decimal-place', 'candidate', 1, '']];
    const of = before(46, 46);
    expect(of([460, 46])).toEqual(high);
    expect(of([46, 4.6])).toEqual(low);
    // Three times is no longer the same power: the jump …
    expect([of([460 * 2.9, 46]), of([460 * 3.1, 46])]).toEqual([high, low]);
    expect([of([460 / 2.9, 46]), of([460 / 3.1, 46])]).toEqual([high, low]);
    // … and the meter that stays
    expect([of([460, 46 * 2.9]), of([460, 46 * 3.1])]).toEqual([high, low]);
    expect([of([460, 46 / 2.9]), of([460, 46 / 3.1])]).toEqual([high, low]);
  });

  test('of several of its source the nearest counts; of another source none', () => {
    const level = { reference: log(460), candidate: log(46) };
    const other = (id: string, mW: number, source = 'laser') =>
      one(id, 0, { level: { reference: log(mW), candidate: log(mW) }, series: { source } });
    const meter = (others: readonly SeriesLevel[]) =>
      found([one('a', log(10), { level }), ...others]).map(([, , who]) => who);
    expect(meter([other('o', 46), other('p', 500)])).toEqual(['candidate']);
    expect(meter([other('o', 46), other('p', 2)])).toEqual(['reference']);
    expect(meter([other('o', 46, 'another')])).toEqual(['candidate']);
  });

  test('a meter that shows finer steps than its display has is off, whatever jumped', () => {
    const of = (candidate: number, resolution_mW: number | null) =>
      found(
        [
          one('a', log(10), {
            level: { reference: log(460), candidate: log(46) },
            readings: [460, candidate],
          }),
          one('o', 0, { level: { reference: log(46), candidate: log(46) } }),
        ],
        study({ candidate: { resolution_mW } }),
      ).map(([, , meter]) => meter);
    expect(of(46.25, 0.1)).toEqual(['candidate']);
    expect(of(46.2, 0.1)).toEqual(['reference']);
    expect(of(46.25, null)).toEqual(['reference']);
  });
});

describe('both meters exchanged in a series', () => {
  const exchanged = (id: string, or = '') => [id, 'exchanged', 'both', or === '' ? 0 : null, or];

  test('the minority is named, and of one against one both', () => {
    expect(found([one('a', 0.1), one('b', 0.1), one('c', -0.1)])).toEqual([exchanged('c')]);
    expect(found([one('a', 0.1), one('c', -0.1)])).toEqual([
      exchanged('a', 'c'),
      exchanged('c', 'a'),
    ]);
    expect(found([one('a', 0.1), one('b', 0.1), one('c', -0.1), one('d', -0.1)])).toEqual([
      exchanged('a', 'c,d'),
      exchanged('b', 'c,d'),
      exchanged('c', 'a,b'),
      exchanged('d', 'a,b'),
    ]);
    expect(found([one('a', 0.1), one('b', 0.1)])).toEqual([]);
  });

  test('only at one wavelength and behind one filter', () => {
    expect(found([one('a', 0.1), one('c', -0.1, { series: { wavelength_nm: 638 } })])).toEqual([]);
    expect(found([one('a', 0.1), one('c', -0.1, { series: { filter: 'grey' } })])).toEqual([]);
  });

  test('not where the meters differ by less than 6 %', () => {
    expect(found([one('a', log(1.059)), one('c', -log(1.059))])).toEqual([]);
    expect(found([one('a', log(1.061)), one('c', -log(1.061))])).toHaveLength(2);
  });

  test('a checked entry of either meter contradicts it', () => {
    const beside = [one('a', 0.1), one('b', 0.1)];
    expect(found([...beside, one('c', -0.1, { checked: 'reference' })])).toEqual([]);
    expect(found([...beside, one('c', -0.1, { checked: 'candidate' })])).toEqual([]);
  });

  test.each([
    // 3 %
    [0.2, -0.171, 0, ['a', 'c']],
    [0.2, -0.169, 0, []],
    // four errors of the difference, 4 √2 0.01 = 0.0566
    [0.2, -0.144, 0.01, ['a', 'c']],
    [0.2, -0.143, 0.01, []],
    // and never more than half of K itself: 0.04 for a, 0.06 for c
    [0.08, -0.119, 0.1, ['a', 'c']],
    [0.08, -0.121, 0.1, ['c']],
  ])('ln K %d and %d with errors of %d are mirror images: %j', (a, c, error, expected) => {
    const ids = found([one('a', a, { error }), one('c', c, { error })]).map(([id]) => id);
    expect(ids).toEqual(expected);
  });

  test('where one is named for certain, what it was judged by is not named beside it', () => {
    // c and d, 0.04 apart, do not agree with one another, and both mirror a
    expect(found([one('a', 0.1), one('c', -0.12), one('d', -0.08)])).toEqual([exchanged('a')]);
  });

  test('one against one, the one with steps that its display does not have is named', () => {
    const coarse = study({ candidate: { resolution_mW: 1 } });
    const fine = { readings: [46, 41.5] } as const;
    expect(found([one('a', 0.1), one('c', -0.1, fine)], coarse)).toEqual([exchanged('c')]);
    expect(found([one('a', 0.1, fine), one('c', -0.1)], coarse)).toEqual([exchanged('a')]);
    // Both: no display tells
    expect(found([one('a', 0.1, fine), one('c', -0.1, fine)], coarse)).toHaveLength(2);
    // The other meter's display tells as well
    const other = study({ reference: { resolution_mW: 1 } });
    expect(found([one('a', 0.1), one('c', -0.1, { readings: [46.5, 41] })], other)).toEqual([
      exchanged('c'),
    ]);
  });

  test('a series in another unit is judged by that alone', () => {
    expect(found([one('a', log(1000)), one('b', 0.1), one('c', 0.1)])).toEqual([
      ['a', 'unit', 'candidate', 3, ''],
    ]);
  });
});

test('more than half of the entries that count have to be finer than the display', () => {
  const coarse = study({ candidate: { resolution_mW: 1 } });
  const of = (readings: readonly number[], exclude: readonly number[] = []) => {
    const runs = runsOf('RC'.repeat(readings.length), ({ meter, place }) =>
      meter === 'reference' ? 46 : readings[(place - 1) / 2]!,
    ).map((run) => ({ ...run, exclude: exclude.includes(run.run) ? 'knocked' : null }));
    return found([one('a', 0.1), one('c', -0.1, { series: { runs } })], coarse).map(([id]) => id);
  };
  expect(of([41.5, 41])).toEqual(['a', 'c']);
  expect(of([41.5, 41.5, 41])).toEqual(['c']);
  // Left out (run 6): two of the four that count
  expect(of([41.5, 41, 41.5, 41, 41.5], [6])).toEqual(['a', 'c']);
  // A zero that stands beside it: shown 41 again
  const runs = runsOf('RC', ({ meter }) => (meter === 'reference' ? 46 : 40.5)).map((run) => ({
    ...run,
    zero_mW: run.meter === 'candidate' ? 0.5 : null,
  }));
  expect(found([one('a', 0.1), one('c', -0.1, { series: { runs } })], coarse)).toHaveLength(2);
});
