import { describe, expect, test } from 'vitest';
import { codesOf, errorOf, studyOf } from './support.js';

const timesOf = (started: readonly string[], meters = ['reference', 'candidate']) => {
  const rows = started.map((at, index) => `${meters[index % 2]},5,"${at}"`);
  return studyOf(`meter,reading_mW,started_at\n${rows.join('\n')}`).series[0];
};
const lapTimes = (started: readonly string[]) =>
  studyOf(`reference_mW,candidate_mW,started_at\n${started.map((at) => `5,4,${at}`).join('\n')}`)
    .series[0];

describe('started_at', () => {
  test.each([
    ['seconds from any origin', ['1000.5', '1030.5', '1061'], [0, 30, 60.5]],
    [
      'date and time',
      ['2024-05-01T10:31:20', '2024-05-01 10:31:50.5', '2024-05-01T10:33'],
      [0, 30.5, 100],
    ],
    [
      'date and time with zone',
      ['2024-05-01T10:31:20Z', '2024-05-01T12:31:50+02:00', '2024-05-01T05:02:20-0530'],
      [0, 30, 60],
    ],
    ['time of day', ['9:59:50', '10:00:20', '10:01:00,5'], [0, 30, 70.5]],
    [
      'a night that passes midnight',
      ['2024-02-28T23:59:50', '2024-02-29T00:00:20', '2024-03-01T00:00:20'],
      [0, 30, 86_430],
    ],
  ])('%s counts from the first run of the series', (_, started, expected) => {
    const series = timesOf(started);
    expect(series?.timed).toBe(true);
    expect(series?.runs.map((run) => run.time_s)).toEqual(expected);
  });

  test('every series counts from its own first run', () => {
    const study = studyOf(
      'series,meter,reading_mW,started_at\na,reference,5,100\na,candidate,4,130\nb,reference,5,700\nb,candidate,4,740',
    );
    expect(study.series.map((series) => series.runs.map((run) => run.time_s))).toEqual([
      [0, 30],
      [0, 40],
    ]);
  });

  test('one series may be timed and another not', () => {
    const study = studyOf(
      'series,meter,reading_mW,started_at\na,reference,5,100\na,candidate,4,130\nb,reference,5,\nb,candidate,4,',
    );
    expect(study.series.map((series) => series.timed)).toEqual([true, false]);
    expect(study.series[1]?.runs.map((run) => run.time_s)).toEqual([0, 1]);
  });

  test('side by side, the second run starts half-way to the next lap', () => {
    const series = lapTimes(['0', '60', '100']);
    expect(series?.timed).toBe(true);
    expect(series?.runs.map((run) => run.time_s)).toEqual([0, 30, 60, 80, 100, 120]);
  });

  test('side by side, a single lap has no spacing and counts as not timed', () => {
    const series = lapTimes(['500']);
    expect(series?.timed).toBe(false);
    expect(series?.runs.map((run) => run.time_s)).toEqual([0, 1]);
  });

  test('times that are all equal are taken as evenly spaced, with a warning', () => {
    const study = studyOf('meter,reading_mW,started_at\nreference,5,7\ncandidate,4,7');
    expect(study.series[0]?.timed).toBe(false);
    expect(codesOf(study)).toContain('times-all-equal');
  });

  test('two runs within one minute of a clock without seconds are no fault', () => {
    const series = timesOf(['2024-05-01T10:31', '2024-05-01T10:31', '2024-05-01T10:32']);
    expect(series?.runs.map((run) => run.time_s)).toEqual([0, 0, 60]);
  });

  test('time that runs backwards is refused with the row', () => {
    expect(errorOf(() => timesOf(['0', '30', '20', '60']))).toMatchObject({
      code: 'row-inconsistent',
      row: 4,
      column: 'started_at',
    });
    expect(errorOf(() => timesOf(['23:59:50', '00:00:20'])).expected).toContain('midnight');
  });

  test('a time missing in part of a series is refused with the row', () => {
    expect(errorOf(() => timesOf(['0', '', '20']))).toMatchObject({
      code: 'cell-missing',
      row: 3,
      column: 'started_at',
    });
  });

  test('two ways of writing the time in one series are refused', () => {
    const error = errorOf(() => timesOf(['2024-05-01T10:31:20', '2024-05-01T10:31:50Z']));
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 3 });
    expect(error.found).toBe('date and time or date and time with zone');
    expect(errorOf(() => timesOf(['10:00:00', '30'])).code).toBe('row-inconsistent');
  });

  test.each([
    '01.05.2024 10:31',
    '5/1/2024 10:31',
    '10:31',
    '2024-05-01',
    '2024-13-01T10:00',
    '2023-02-29T10:00',
    '2024-05-01T24:30',
    '25:00:00',
    '2024-05-01T10:00+99:00',
    'noon',
  ])('"%s" is refused', (typed) => {
    const error = errorOf(() => timesOf([typed, typed]));
    expect(error).toMatchObject({ code: 'cell-not-a-number', row: 2, column: 'started_at' });
    expect(error.expected).toContain('ISO 8601');
  });
});
