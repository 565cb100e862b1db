import { describe, expect, test } from 'vitest';
import { errorOf, PLAIN, studyOf } from './support.js';

const readings = (runs: string) => studyOf(runs).series[0]?.runs.map((run) => run.reading_mW);

describe('the column unit', () => {
  test.each([
    ['mW', '46.2'],
    ['MW', '46.2'],
    ['W', '0.0462'],
    ['w', '0.0462'],
    ['uW', '46200'],
    ['UW', '46200'],
    ['\u00B5W', '46200'],
    ['\u03BCw', '46200'],
  ])('a row in %s with %s is 46.2 mW exactly', (unit, typed) => {
    const runs = `meter,reading,unit\nreference,${typed},${unit}\ncandidate,41.8,mW`;
    expect(readings(runs)).toEqual([46.2, 41.8]);
  });

  test('peak and zero of the row are in the same unit', () => {
    const study = studyOf(
      'meter,reading,peak,zero,unit\nreference,1,1.5,0.002,W\ncandidate,998,1400,2,mW',
    );
    expect(study.series[0]?.runs).toMatchObject([
      { reading_mW: 998, peak_mW: 1498, zero_mW: 2 },
      { reading_mW: 996, peak_mW: 1398, zero_mW: 2 },
    ]);
  });

  test('an empty unit and a word that is none are named with their rows, once each', () => {
    const error = errorOf(() =>
      studyOf('meter,reading,peak,unit\nreference,1,2,\ncandidate,998,999,kW'),
    );
    expect([error, ...error.others]).toMatchObject([
      { code: 'cell-missing', row: 2, column: 'unit' },
      { code: 'cell-unknown-word', row: 3, column: 'unit', found: '"kW"' },
    ]);
    expect(error.others).toHaveLength(1);
    expect(error.expected).toBe('mW, W or uW');
  });

  test.each(['reading_mW', 'reading_W', 'Reading_\u00B5W'])(
    'beside %s it is refused, since both state a unit',
    (heading) => {
      const error = errorOf(() => studyOf(`meter,${heading},unit\nreference,1,W\ncandidate,1,W`));
      expect(error).toMatchObject({ code: 'column-unknown', column: heading });
      expect(error.message).toContain('The column unit');
      expect(error.expected).toContain('either reading and unit');
      expect(error.others).toHaveLength(0);
    },
  );

  test('a peak with a unit in its heading is refused beside it as well', () => {
    const error = errorOf(() =>
      studyOf('meter,reading,peak_mW,unit\nreference,1,2,W\ncandidate,1,2,W'),
    );
    expect(error).toMatchObject({ code: 'column-unknown', column: 'peak_mW' });
  });

  test('without it, a reading without a unit stays a missing column', () => {
    expect(errorOf(() => studyOf('meter,reading\nreference,1'))).toMatchObject({
      code: 'column-missing',
      column: 'reading_mW',
    });
    expect(errorOf(() => studyOf('meter,unit\nreference,W'))).toMatchObject({
      code: 'column-missing',
      column: 'reading',
    });
  });

  test('side by side it is misplaced: each heading carries its unit', () => {
    const error = errorOf(() => studyOf('reference_mW,candidate_mW,unit\n5,4,mW'));
    expect(error).toMatchObject({ code: 'column-unknown', column: 'unit' });
    expect(error.message).toContain('each heading carries its unit');
  });

  test('a decimal comma between semicolons is read in every unit', () => {
    const runs = 'meter;reading;unit\nreference;0,0462;W\ncandidate;41,8;mW';
    expect(readings(runs)).toEqual([46.2, 41.8]);
  });
});

describe('one quantity under two units', () => {
  test('each row fills one of them', () => {
    const study = studyOf(
      'meter,reading_W,reading_mW,peak_mW,peak_W,zero_mW,zero_uW\nreference,1,,1500,,,2000\ncandidate,,998,,1.4,2,',
    );
    expect(study.series[0]?.runs).toMatchObject([
      { reading_mW: 998, peak_mW: 1498, zero_mW: 2 },
      { reading_mW: 996, peak_mW: 1398, zero_mW: 2 },
    ]);
  });

  test('side by side likewise', () => {
    const runs = 'reference_W,reference_mW,candidate_uW,candidate_mW\n0.005,,4000,\n,5,,4';
    expect(readings(runs)).toEqual([5, 4, 5, 4]);
  });

  test('both filled is refused with the row and both columns', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,reading_W\nreference,46.2,\ncandidate,41.8,0.0418'),
    );
    expect(error).toMatchObject({
      code: 'row-inconsistent',
      row: 3,
      column: 'reading_mW and reading_W',
      found: 'reading_mW "41.8" and reading_W "0.0418"',
    });
    expect(error.others).toHaveLength(0);
  });

  test('neither filled is a missing cell', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,reading_W\nreference,46.2,\ncandidate,,\nreference,46,'),
    );
    expect(error).toMatchObject({ code: 'cell-missing', row: 3, column: 'reading_mW' });
  });

  test('the heading that a row uses is the one that a fault names', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,reading_W\nreference,46.2,\ncandidate,,many'),
    );
    expect(error).toMatchObject({ code: 'cell-not-a-number', row: 3, column: 'reading_W' });
  });
});

describe('the column checked', () => {
  test('any text marks the entry as compared with the display again', () => {
    const study = studyOf(
      'meter,reading_mW,checked\nreference,46.2,yes\ncandidate,41.8,\nreference,46.2,x\ncandidate,41.8, ',
    );
    expect(study.series[0]?.runs.map((run) => run.checked)).toEqual([true, false, true, false]);
  });

  test('side by side it belongs to both runs of the lap', () => {
    const study = studyOf('reference_mW,candidate_mW,checked\n46,41,ok\n46,41,', PLAIN);
    expect(study.series[0]?.runs.map((run) => run.checked)).toEqual([true, true, false, false]);
  });

  test('without the column nothing is checked', () => {
    const study = studyOf('reference_mW,candidate_mW\n46,41');
    expect(study.series[0]?.runs.map((run) => run.checked)).toEqual([false, false]);
  });
});
