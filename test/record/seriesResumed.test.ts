import { describe, expect, test } from 'vitest';
import { codesOf, errorOf, PLAIN, studyOf, warningOf } from './support.js';

/** One row a run, turn about, a minute apart from `start` (in s) on. */
const block = (name: string, start: number, runs = 4) =>
  Array.from(
    { length: runs },
    (_, index) =>
      `${name},${index % 2 === 0 ? 'reference,46.2' : 'candidate,41.8'},${start + 60 * index}`,
  );
const read = (...blocks: readonly string[][]) =>
  studyOf(`series,meter,reading_mW,started_at\n${blocks.flat().join('\n')}`);
const idsOf = (...blocks: readonly string[][]) => read(...blocks).series.map(({ id }) => id);
const HOURS = 3600;

describe('a series that is taken up again under its name', () => {
  test('more than six hours later it is a new series, with its own runs and times', () => {
    const study = read(block('a', 0), block('a', 180 + 6 * HOURS + 1));
    expect(study.series.map(({ id }) => id)).toEqual(['a', 'a (2)']);
    expect(study.series[1]?.runs.map((run) => [run.run, run.lap, run.time_s, run.row])).toEqual([
      [1, 1, 0, 6],
      [2, 1, 60, 7],
      [3, 2, 120, 8],
      [4, 2, 180, 9],
    ]);
    const warning = warningOf(study, 'series-resumed');
    expect(warning).toContain('6 h after row 5');
    expect(warning).toContain('"a" and "a (2)"');
  });

  test('up to six hours later it is the same series', () => {
    const study = read(block('a', 0), block('a', 180 + 6 * HOURS));
    expect(study.series.map(({ runs }) => runs.length)).toEqual([8]);
    expect(codesOf(study)).not.toContain('series-resumed');
  });

  test('with rows of another series between as well', () => {
    const study = read(block('a', 0), block('b', 1000), block('a', 180 + 7.5 * HOURS));
    expect(study.series.map(({ id }) => id)).toEqual(['a', 'b', 'a (2)']);
    expect(warningOf(study, 'series-resumed')).toMatch(/row 10 comes 7\.5 h after row 5/);
  });

  test('a third part counts on, and a name that somebody typed is left to them', () => {
    const day = 24 * HOURS;
    expect(idsOf(block('a', 0), block('a', day), block('a', 2 * day))).toEqual([
      'a',
      'a (2)',
      'a (3)',
    ]);
    expect(idsOf(block('a', 0), block('a', day), block('a (2)', 2 * day))).toEqual([
      'a',
      'a (3)',
      'a (2)',
    ]);
  });

  test('dates and side-by-side rows are compared likewise', () => {
    const study = studyOf(
      'series,reference_mW,candidate_mW,started_at\na,5,4,2024-05-01T20:00\na,5,4,2024-05-01T20:02\na,5,4,2024-05-02T09:00\na,5,4,2024-05-02T09:02',
      { ...PLAIN, protocol: { order: 'ABBA' } },
    );
    expect(study.series.map(({ id, runs }) => [id, runs.length])).toEqual([
      ['a', 4],
      ['a (2)', 4],
    ]);
    expect(study.series[1]?.runs.map((run) => run.meter)).toEqual([
      'reference',
      'candidate',
      'candidate',
      'reference',
    ]);
  });

  test('sooner, or without times, after another series it stays a fault', () => {
    expect(
      errorOf(() => read(block('a', 0), block('b', 1000), block('a', 2 * HOURS))),
    ).toMatchObject({ code: 'row-inconsistent', row: 10, column: 'series' });
    const untimed = 'a,5,4\nb,5,4\na,5,4';
    expect(errorOf(() => studyOf(`series,reference_mW,candidate_mW\n${untimed}`))).toMatchObject({
      code: 'row-inconsistent',
      row: 4,
      column: 'series',
    });
  });

  test('times that run backwards or are of two kinds stay faults', () => {
    expect(errorOf(() => read(block('a', 8 * HOURS), block('a', 0))).message).toContain(
      'Time runs backwards',
    );
    const mixed = ['a,reference,5,2024-05-01T20:00', 'a,candidate,4,2024-05-01T20:01'];
    expect(errorOf(() => read(block('a', 0), mixed)).message).toContain('different ways');
  });

  test('rows without any name are one series, whatever the gap', () => {
    const study = studyOf('reference_mW,candidate_mW,started_at\n5,4,0\n5,4,90\n5,4,40000');
    expect(study.series).toHaveLength(1);
  });

  test('traces keep the name and count the runs on through the parts', () => {
    const runs = [...block('a', 0), ...block('b', 1000), ...block('a', 8 * HOURS)].join('\n');
    const traced = (row: string) =>
      studyOf(`series,meter,reading_mW,started_at\n${runs}`, PLAIN, {
        traces: `series,run,meter,elapsed_s,reading_mW\n${row}\n`,
      });
    expect(traced('a,6,candidate,0,1').traces).toMatchObject([
      { series: 'a (2)', run: 2, meter: 'candidate' },
    ]);
    expect(traced('a,4,candidate,0,1').traces).toMatchObject([{ series: 'a', run: 4 }]);
    const error = errorOf(() => traced('a,9,candidate,0,1'));
    expect(error).toMatchObject({ code: 'cell-out-of-range' });
    expect(error.expected).toContain('from 1 to 8');
    expect(errorOf(() => traced('a,6,reference,0,1')).message).toContain('row 11');
  });
});
