import { describe, expect, test } from 'vitest';
import { answerOf } from '../../src/measure/answer.js';
import { filmRun } from '../../src/measure/filmRun.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { SHEET, STUDY, shownRuns } from './evening.js';
import { play } from './playing.js';

const RUNS = play(SHEET, shownRuns().slice(0, 4));
const POINTS = [
  { elapsed_s: 4, reading: '60.1' },
  { elapsed_s: 0, reading: '0,4' },
  { elapsed_s: 2.00049, reading: '45.0' },
];
const film = (row: number, more: object = {}, points = POINTS) =>
  filmRun({ study: STUDY, runs: RUNS, ...more }, { row, points });

function traces(answer: ReturnType<typeof film>): string {
  if (answer.kind !== 'written') throw new Error(answer.message);
  expect(answer.file).toBe('traces.csv');
  return answer.text;
}

describe('a film', () => {
  test('becomes the trace of its run, in the order of time', () => {
    const text = traces(film(4));
    expect(text.split('\n').slice(0, 3)).toEqual([
      'series,run,meter,elapsed_s,reading_mW',
      'green bench diode,3,candidate,0,0.4',
      'green bench diode,3,candidate,2,45',
    ]);
    const study = parseStudy(STUDY, { runs: RUNS, traces: text });
    expect(study.traces).toEqual([
      {
        series: 'green bench diode',
        run: 3,
        meter: 'candidate',
        elapsed_s: [0, 2, 4],
        reading_mW: [0.4, 45, 60.1],
      },
    ]);
  });

  test('is added below what stands there, which keeps its bytes', () => {
    const before =
      'run,note,meter,series,elapsed_s,reading_mW\r\n1,"a, b",reference,green bench diode,0,1\r\n1,,reference,green bench diode,1,5';
    const text = traces(film(3, { traces: before }));
    expect(text.startsWith(`${before}\r\n`)).toBe(true);
    expect(text.split('\r\n')[3]).toBe('2,,candidate,green bench diode,0,0.4');
  });

  test('in watts is turned into milliwatts on the digits', () => {
    const runs = 'meter,reading_W,wavelength_nm\nreference,1.85,520\ncandidate,1.7,520\n';
    const study = { reference: { name: 'R' }, candidate: { name: 'C' } };
    const text = traces(
      filmRun(
        { study, runs },
        { row: 2, points: POINTS.map((point) => ({ ...point, reading: '1.847' })) },
      ),
    );
    expect(text.split('\n')[1]).toBe('series 1,1,reference,0,1847');
  });

  test('of a run of the second series is a trace there', () => {
    const both = play(SHEET, shownRuns().slice(0, 10));
    const text = traces(film(11, { runs: both }));
    expect(text.split('\n')[1]).toBe('near-infrared module,2,candidate,0,0.4');
    const again = answerOf(() => film(11, { runs: both, traces: text }));
    expect(again).toMatchObject({
      message: expect.stringContaining('a trace of this run already'),
    });
  });

  test.each([
    ['of a run that is not written yet', () => film(6)],
    ['of no row', () => film(99)],
    ['of two numbers', () => film(4, {}, POINTS.slice(1))],
    ['with a word in it', () => film(4, {}, [...POINTS, { elapsed_s: 5, reading: '=1' }])],
    ['of a run that has a trace', () => film(4, { traces: traces(film(4)) })],
    [
      'beside a table with other headings',
      () =>
        film(4, {
          traces: 'series,run,meter,elapsed_s,reading_W\ngreen bench diode,1,reference,0,1\n',
        }),
    ],
  ])('%s is refused', (_, answer) => {
    expect(answerOf(answer).kind).toBe('refused');
  });
});
