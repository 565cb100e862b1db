import { describe, expect, test } from 'vitest';
import { codesOf, errorOf, PLAIN, studyOf } from './support.js';

const RUNS =
  'series,meter,reading_mW\nwarm,reference,5\nwarm,candidate,4\ncold,candidate,4\ncold,reference,5';
const withTraces = (traces: string, runs = RUNS) => studyOf(runs, PLAIN, { traces });
const HEAD = 'series,run,meter,elapsed_s,reading_mW';

describe('traces.csv', () => {
  test('readings are put together by run, in the order of the file', () => {
    const study = withTraces(
      `${HEAD}\nwarm,2,candidate,0,0.1\nwarm,2,Candidate,0.5,3\ncold,1,candidate,0,-0.1\nwarm,2,candidate,1,4`,
    );
    expect(study.traces).toEqual([
      {
        series: 'warm',
        run: 2,
        meter: 'candidate',
        elapsed_s: [0, 0.5, 1],
        reading_mW: [0.1, 3, 4],
      },
      { series: 'cold', run: 1, meter: 'candidate', elapsed_s: [0], reading_mW: [-0.1] },
    ]);
  });

  test('other units, separators and a missing series column of a single series are accepted', () => {
    const study = withTraces(
      'run;meter;elapsed_s;reading_W\n1;reference;0,5;0,005\n',
      'meter,reading_mW\nreference,5\ncandidate,4',
    );
    expect(study.traces).toEqual([
      { series: 'series 1', run: 1, meter: 'reference', elapsed_s: [0.5], reading_mW: [5] },
    ]);
  });

  test('side by side, the two runs of a lap are counted in the order of the protocol', () => {
    const study = studyOf(
      'reference_mW,candidate_mW\n5,4\n5,4',
      { ...PLAIN, protocol: { order: 'ABBA' } },
      { traces: 'run,meter,elapsed_s,reading_mW\n3,candidate,0,4' },
    );
    expect(study.traces[0]).toMatchObject({ run: 3, meter: 'candidate' });
  });

  test.each([undefined, '', '\n \n'])('%j is no traces at all', (traces) => {
    expect(studyOf(RUNS, PLAIN, { traces }).traces).toEqual([]);
  });

  test.each([
    ['an unknown series', 'wram,1,reference,0,5', 'series', 'cell-unknown-word', '"warm"'],
    ['no series', ',1,reference,0,5', 'series', 'cell-missing', 'more than one series'],
    ['a run that is not there', 'warm,3,reference,0,5', 'run', 'cell-out-of-range', 'no run'],
    ['half a run', 'warm,1.5,reference,0,5', 'run', 'cell-out-of-range', 'no run'],
    ['no run', 'warm,,reference,0,5', 'run', 'cell-missing', 'empty'],
    ['the other meter', 'warm,1,candidate,0,5', 'meter', 'row-inconsistent', 'of the reference'],
    ['no meter', 'warm,1,,0,5', 'meter', 'cell-missing', 'of the reference'],
    ['a word for a meter', 'warm,1,ref,0,5', 'meter', 'cell-unknown-word', 'of the reference'],
    ['no time', 'warm,1,reference,,5', 'elapsed_s', 'cell-missing', 'empty'],
    ['no reading', 'warm,1,reference,0,', 'reading_mW', 'cell-missing', 'empty'],
    [
      'a word for a reading',
      'warm,1,reference,0,high',
      'reading_mW',
      'cell-not-a-number',
      'number',
    ],
  ])('%s is refused with row and column', (_, row, column, code, words) => {
    const error = errorOf(() => withTraces(`${HEAD}\nwarm,1,reference,0,5\n${row}`));
    expect(error).toMatchObject({ file: 'traces.csv', row: 3, column, code });
    expect(error.message).toContain(words);
    expect(error.others).toHaveLength(0);
  });

  test('time that runs backwards within a run is refused', () => {
    const error = errorOf(() => withTraces(`${HEAD}\nwarm,1,reference,1,5\nwarm,1,reference,0,5`));
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 3, column: 'elapsed_s' });
  });

  test('missing columns are all named', () => {
    const error = errorOf(() => withTraces('meter,reading\nreference,5'));
    expect([error, ...error.others].map((fault) => fault.column)).toEqual([
      'series',
      'run',
      'elapsed_s',
      'reading_mW',
    ]);
    expect(error.file).toBe('traces.csv');
  });

  test('an unknown column is warned of', () => {
    expect(codesOf(withTraces(`${HEAD},frame\nwarm,1,reference,0,5,12`))).toContain(
      'unknown-column',
    );
  });
});
