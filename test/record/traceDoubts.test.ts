/** Traces whose times or levels cannot be what they are taken for. */
import { describe, expect, test } from 'vitest';
import { settlingFindings } from '../../src/findings/settlingFindings.js';
import { errorOf, PLAIN, studyOf } from './support.js';

const RUNS = 'series,meter,reading_mW,zero_mW\na,reference,46.3,0.1\na,candidate,42.1,0.1';
const HEAD = 'series,run,meter,elapsed_s,reading_mW';
/** Twenty readings of the first run. */
const trace = (time: (i: number) => number, mW = 46) =>
  [HEAD, ...Array.from({ length: 20 }, (_, i) => `a,1,reference,${time(i)},${mW}`)].join('\n');
const read = (traces: string, runs = RUNS) => studyOf(runs, PLAIN, { traces });
const said = (traces: string, runs = RUNS) =>
  read(traces, runs)
    .warnings.filter(({ code }) => code.startsWith('trace-'))
    .map(({ code, series, message }) => `${code} ${series}: ${message}`);

describe('times', () => {
  test.each([
    [1_700_000_000, 1],
    [1_700_000_000_000, 500],
    [86_401, 1],
    [-86_401, 1],
  ])('that begin at %d s are no seconds since switch-on', (first, step) => {
    const error = errorOf(() => read(trace((i) => first + step * i)));
    expect(error).toMatchObject({
      code: 'cell-out-of-range',
      file: 'traces.csv',
      column: 'elapsed_s',
      found: `${first} s`,
      expected: 'the seconds since the source was switched on in this run: subtract that moment',
    });
    expect(error.message).toContain('The trace of run 1 in the series "a" begins more than a day');
  });

  test('that begin within a day, and go on for days, are accepted', () => {
    for (const first of [86_400, -86_400, -5, 0]) {
      expect(said(trace((i) => first + i))).toEqual([]);
    }
  });

  test('that stand minutes apart may be milliseconds', () => {
    expect(said(trace((i) => 500 * i))).toEqual([
      'trace-times a: The readings of the trace of run 1 (reference) stand 500 s apart, too far to show how a sensor settles. elapsed_s counts seconds: are these milliseconds?',
    ]);
    expect(said(trace((i) => 60 * i))).toEqual([]);
  });

  test('one reading alone stands no distance apart', () => {
    expect(said(`${HEAD}\na,1,reference,0,46`)).toEqual([]);
  });
});

describe('levels', () => {
  test('three times above or below what the display showed in the run', () => {
    // Shown: 46.3 mW, zero included
    expect(said(trace((i) => i, 0.046))).toEqual([
      'trace-level a: The trace of run 1 (reference) goes up to 0.046 mW, and runs.csv has 46.3 mW for this run: look at the unit of reading_mW in traces.csv, and whether the trace is of this run.',
    ]);
    expect(said(trace((i) => i, 139))).toHaveLength(1);
    for (const mW of [15.5, 46, 138]) expect(said(trace((i) => i, mW))).toEqual([]);
  });

  test('a run that reads nothing says nothing of its trace', () => {
    const blocked = 'meter,reading_mW,exclude\nreference,0,beam blocked\ncandidate,42.1,';
    expect(said(trace((i) => i, 46).replaceAll('a,1', ',1'), blocked)).toEqual([]);
  });
});

test('who asks how the sensors settle is told, too', () => {
  const [sensors] = settlingFindings(read(trace((i) => 500 * i)), {
    mayLack: 0.01,
    within: 0.01,
    over_s: null,
  });
  expect(sensors?.sentences.at(-1)).toMatch(/^Series "a": The readings of .* milliseconds\?$/);
});
