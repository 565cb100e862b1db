import { describe, expect, test } from 'vitest';
import { headOf } from '../../src/findings/finding.js';
import {
  beforeAndAfter,
  differences,
  drift,
  leftOut,
  seriesFactors,
} from '../../src/findings/seriesFindings.js';
import type { Exclusion, Result, SeriesResult } from '../../src/vocabulary.js';
import { only } from './only.js';

const of = (...series: object[]): Result => only<Result>({ confidence: 0.95, series });
const columnsOf = ({ columns }: ReturnType<typeof drift>) =>
  columns.map((column) => [headOf(column), column.kind]);

const SERIES = {
  id: 'a',
  wavelength_nm: 520,
  used: { reference: 6, candidate: 5 },
  laps: 8,
  factor: { value: 1.25, low: 1, high: 1.5, relative_standard_uncertainty: 0.01, dof: 7 },
  factor_bracketed: { value: 1.5, low: 1.25, high: 2.25 },
  verdict: 'usable',
  why: 'Nothing odd.',
};

describe('the factor of each series', () => {
  const open = {
    ...SERIES,
    id: 'b',
    used: { reference: 2, candidate: 4 },
    factor: { value: null, low: null, high: null, relative_standard_uncertainty: null, dof: null },
    factor_bracketed: { value: null, low: null, high: null },
    verdict: 'inconclusive',
    why: 'Too few laps.',
  };
  const found = seriesFactors(of(SERIES, open));

  test('has the laps of the meter with fewer, half of each interval, and nothing where there is none', () => {
    expect(found.rows).toEqual([
      [
        'a',
        520,
        '5 of 8',
        { value: 1.25, U: 0.25, both: false },
        [1, 1.5],
        0.01,
        7,
        { value: 1.5, U: 0.5, both: false },
        'usable',
      ],
      [
        'b',
        520,
        '2 of 8',
        { value: null, U: null, both: false },
        [null, null],
        null,
        null,
        { value: null, U: null, both: false },
        'inconclusive',
      ],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Series', 'text'],
      ['At / nm', 'number'],
      ['Laps used', 'text'],
      ['K', 'value'],
      ['Interval', 'number'],
      ['u / %', 'fraction'],
      ['ν', 'dof'],
      ['K by bracketing', 'value'],
      ['Verdict', 'text'],
    ]);
  });

  test('has a sentence for each series without one, and one note', () => {
    expect(found.sentences).toEqual(['b: Too few laps.']);
    expect(found.notes).toHaveLength(1);
    expect(found.title).toContain('95 %');
  });
});

const limits = (low: number) => ({
  low,
  high: low + 4,
  low_interval: [low - 1, low + 1],
  high_interval: [low + 3, low + 5],
});
const summary = (mean: number, sd: number) => ({ mean, sd, low: mean - 0.5, high: mean + 0.5 });

describe('differences', () => {
  const agreement = {
    series: 2,
    laps: 11,
    difference_mW: summary(-3, 0.5),
    difference_percent: summary(-6, 1.5),
    limits_percent: limits(-8),
    corrected_difference_percent: summary(0, 0.25),
    corrected_limits_percent: limits(-2),
    why: 'By series.',
  };
  const one = {
    id: 'a',
    difference_mW: summary(-2, 0.25),
    difference_percent: summary(-4, 1),
    limits_percent: limits(-5),
  };
  const result = only<Result>({ confidence: 0.9, series: [one], agreement });
  const whole = (mean: number) => ({ value: mean, U: 0.5, both: true });
  const ends = [
    ['Limits of agreement / %', 'percent'],
    ['Interval of the lower / %', 'percent'],
    ['Interval of the upper / %', 'percent'],
  ];

  test('series by series and at the end over the study', () => {
    const found = differences(result);
    expect(found.rows).toEqual([
      ['a', whole(-2), whole(-4), 1, [-5, -1], [-6, -4], [-2, 0]],
      ['Whole study', whole(-3), whole(-6), 1.5, [-8, -4], [-9, -7], [-5, -3]],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Series', 'text'],
      ['Mean / mW', 'value'],
      ['Mean / %', 'value'],
      ['sd / %', 'percent'],
      ...ends,
    ]);
    expect(found.sentences).toEqual(['By series. Counted: 2 series, 11 laps.']);
    expect(found.notes).toHaveLength(1);
  });

  test('before and after the correction', () => {
    const found = beforeAndAfter(result);
    expect(found.rows).toEqual([
      ['as read', whole(-6), [-8, -4], [-9, -7], [-5, -3]],
      ['corrected', whole(0), [-2, 2], [-3, -1], [1, 3]],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Readings', 'text'],
      ['Mean difference / %', 'value'],
      ...ends,
    ]);
    expect(found.notes).toHaveLength(1);
  });
});

test('drift: its degree in a word, its size, and a wander of 0 as none seen', () => {
  const drifting = (
    evident_degree: number | null,
    degree: number | null,
    wander: number | null,
  ) => ({
    id: `to ${degree}`,
    drift: {
      evident_degree,
      degree,
      percent_per_run: -0.25,
      percent_per_run_interval: [-0.5, 0],
      wander_percent_per_run: wander,
      order_bias_percent: 0.125,
    },
  });
  const found = drift(
    of(drifting(0, 1, 0), drifting(1, 2, 0.5), drifting(null, null, null), drifting(2, 3, 1)),
  );
  const rest = [-0.25, [-0.5, 0]];
  expect(found.rows).toEqual([
    ['to 1', 'none', 'straight', ...rest, 'none seen', 0.125],
    ['to 2', 'straight', 'parabola', ...rest, 0.5, 0.125],
    ['to null', null, null, ...rest, null, 0.125],
    ['to 3', 'parabola', 'degree 3', ...rest, 1, 0.125],
  ]);
  expect(columnsOf(found)).toEqual([
    ['Series', 'text'],
    ['Drift seen', 'text'],
    ['Drift allowed for', 'text'],
    ['Change per run / %', 'percent'],
    ['Interval / %', 'percent'],
    ['Wander per run / %', 'percent'],
    ['Order bias of plain laps / %', 'percent'],
  ]);
  expect(found.notes).toHaveLength(1);
});

describe('what was left out', () => {
  const run = (n: number, kind: Exclusion['kind'], reason: string, meter = 'candidate') => ({
    run: n,
    meter,
    kind,
    reason,
  });
  const leaving = (
    excluded: readonly object[],
    exclusion_effects: readonly object[] = [],
    flagged: readonly object[] = [],
  ) => ({ id: 'a', excluded, exclusion_effects, flagged });
  const rowsOf = (...excluded: object[]) => leftOut(of(leaving(excluded))).rows;

  test('columns, and K with and without those of that kind', () => {
    const effects: readonly Partial<SeriesResult['exclusion_effects'][number]>[] = [
      { kind: 'outlier', factor_with: 1.5, factor_without: 1.25 },
      { kind: 'declared', factor_with: 1.125, factor_without: null },
    ];
    const found = leftOut(
      of(
        leaving([run(3, 'declared', 'bumped'), run(5, 'outlier', 'far off')], effects, [
          { message: 'lap 2 stands out' },
        ]),
        { ...leaving([run(1, 'cold-start', 'cold', 'reference')]), id: 'b' },
      ),
    );
    expect(found.rows).toEqual([
      ['a', '3 (candidate)', 'declared by the user', 'bumped', 1.125, null],
      ['a', '5 (candidate)', 'statistical outlier', 'far off', 1.5, 1.25],
      ['b', '1 (reference)', 'cold start', 'cold', null, null],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Series', 'text'],
      ['Runs', 'text'],
      ['Kind', 'text'],
      ['Reason', 'text'],
      ['K with them', 'value'],
      ['K without', 'value'],
    ]);
    expect(found.sentences).toEqual(['Flagged: a, lap 2 stands out.']);
    expect(found.notes).toHaveLength(1);
  });

  test('runs of one kind and one reason stand together, in their order', () => {
    expect(rowsOf(run(7, 'declared', 'bumped'), run(2, 'declared', 'bumped', 'reference'))).toEqual(
      [['a', '2 (reference), 7 (candidate)', 'declared by the user', 'bumped', null, null]],
    );
  });

  test('the same reason of another kind, and another reason of the same kind, have their own row', () => {
    expect(
      rowsOf(
        run(1, 'declared', 'cold'),
        run(2, 'cold-start', 'cold'),
        run(3, 'declared', 'bumped'),
      ).map(([, runs, kind]) => [runs, kind]),
    ).toEqual([
      ['1 (candidate)', 'declared by the user'],
      ['2 (candidate)', 'cold start'],
      ['3 (candidate)', 'declared by the user'],
    ]);
  });

  test('a reason that says another in full goes with it, under the shorter one', () => {
    const longer = 'with run 3: far off';
    for (const excluded of [
      [run(4, 'outlier', longer, 'reference'), run(3, 'outlier', 'far off')],
      [run(3, 'outlier', 'far off'), run(4, 'outlier', longer, 'reference')],
    ]) {
      expect(rowsOf(...excluded)).toEqual([
        ['a', '3 (candidate), 4 (reference)', 'statistical outlier', 'far off', null, null],
      ]);
    }
    // Of another kind it does not.
    expect(rowsOf(run(3, 'outlier', 'far off'), run(4, 'declared', longer))).toHaveLength(2);
  });

  test('none at all is no row and no sentence', () => {
    const found = leftOut(of(leaving([])));
    expect([found.rows, found.sentences]).toEqual([[], []]);
  });
});
