import { describe, expect, test } from 'vitest';
import { answerOf } from '../../src/measure/answer.js';
import { readBench } from '../../src/measure/bench.js';
import { enterRun } from '../../src/measure/enterRun.js';
import { startTime } from '../../src/measure/startedText.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { SHEET, STUDY, shownRuns } from './evening.js';
import { entryOf, play, stateOf, written } from './playing.js';

const EVENING = shownRuns();
const SIX = play(SHEET, EVENING.slice(0, 6));
const entry = (more: object = {}, runs = SIX, at = 6) =>
  answerOf(() =>
    enterRun({ study: STUDY, runs }, { ...entryOf(stateOf(runs), EVENING[at]!, at), ...more }),
  );

describe('an entry', () => {
  test('fills the next planned row as the reader of studies takes it', () => {
    const run = parseStudy(STUDY, { runs: written(entry()) }).series[0]!.runs[6]!;
    const { zero, reading, peak, meter } = EVENING[6]!;
    expect(run).toMatchObject({ row: 8, meter, zero_mW: Number(zero), time_s: 6 * 45 });
    expect(run.reading_mW).toBeCloseTo(Number(reading) - Number(zero), 9);
    expect(run.peak_mW).toBeCloseTo(Number(peak) - Number(zero), 9);
    expect(written(entry()).split('\n')[7]).toContain('2026-03-14T19:04:30+01:00');
  });

  test('for a row that is not the next is refused: somebody else wrote meanwhile', () => {
    expect(entry({ row: 7 })).toMatchObject({ kind: 'refused' });
    expect(entry({ row: 9 })).toMatchObject({ kind: 'refused' });
  });

  test.each(['', 'OL', '4 6', '1.234.5', '46.2 mW', '=46', '1e99', '--3', '0x10'])(
    'a reading "%s" is refused',
    (reading) => {
      expect(entry({ reading })).toMatchObject({ kind: 'refused' });
    },
  );

  test('zero or below is refused with the reason', () => {
    const answer = entry({ reading: '0.1', zero: '0.2' });
    expect(answer).toMatchObject({ kind: 'refused' });
    expect(answer.kind === 'refused' && answer.message).toContain('cannot enter a ratio');
  });
});

describe('an unlikely entry', () => {
  test('in another decimal place is asked about, and typed again is kept as checked', () => {
    const reading = (10 * Number(EVENING[6]!.reading)).toFixed(0);
    const asked = entry({ reading, peak: '' });
    expect(asked).toMatchObject({ kind: 'question', quantity: 'reading' });
    expect(asked.kind === 'question' && asked.message).not.toContain('mend it');
    const kept = written(entry({ reading, peak: '', checked: true }));
    expect(parseStudy(STUDY, { runs: kept }).series[0]!.runs[6]).toMatchObject({ checked: true });
    // What was checked is asked about no more; what it makes of the rows around it, is.
    expect(stateOf(kept).questions.filter((text) => text.includes('row 8:'))).toEqual([]);
  });

  test('of a peak is asked about as a peak', () => {
    const peak = (100 * Number(EVENING[6]!.peak)).toFixed(0);
    expect(entry({ peak })).toMatchObject({ kind: 'question', quantity: 'peak' });
  });

  test('with the readings of a lap exchanged is asked about', () => {
    // The two readings of lap 4 in each other's rows.
    const [seventh, eighth] = [EVENING[6]!, EVENING[7]!];
    const first = written(entry({ reading: eighth.reading, peak: '' }));
    const second = entry({ reading: seventh.reading, peak: '' }, first, 7);
    expect(second.kind).toBe('question');
  });

  test('an ordinary one is not', () => {
    expect(entry().kind).toBe('written');
  });
});

describe('times', () => {
  const timed = (started: string) =>
    `meter,reading_mW,started_at,wavelength_nm\nreference,46.2,${started},520\ncandidate,,,520\n`;
  const bare = { reference: STUDY.reference, candidate: { name: 'C', wavelength_setting: false } };
  const BARE_ENTRY = {
    row: 3,
    reading: '41.8',
    zero: '',
    peak: '',
    setting: '',
    started_ms: Date.UTC(2026, 2, 14, 18),
    ahead_min: -210,
    checked: false,
  };
  const answer = (started: string) => {
    const runs = timed(started);
    return answerOf(() => enterRun({ study: bare, runs }, BARE_ENTRY));
  };

  test.each([
    ['2026-03-14T14:29:00', '2026-03-14T14:30:00'],
    ['2026-03-14T17:29:00Z', '2026-03-14T14:30:00-03:30'],
    ['14:29:00', '14:30:00'],
  ])('go on as the rows above have them: %s', (above, here) => {
    expect(written(answer(above)).split('\n')[2]).toBe(`candidate,41.8,${here},520`);
  });

  test('are left out where the rows above have none', () => {
    expect(written(answer('')).split('\n')[2]).toBe('candidate,41.8,,520');
  });

  test('nobody knows are left out of the first run, and of those below a run without one', () => {
    const text = 'meter,reading_mW,started_at,wavelength_nm\nreference,,,520\ncandidate,,,520\n';
    const unknown = (runs: string, row: number) =>
      enterRun({ study: bare, runs }, { ...BARE_ENTRY, row, started_ms: null });
    const first = written(unknown(text, 2));
    expect(first.split('\n')[1]).toBe('reference,41.8,,520');
    expect(startTime(readBench({ study: bare, runs: text }), 2)).toBe('may');
    expect(startTime(readBench({ study: bare, runs: first }), 3)).toBe('no');
    expect(written(unknown(first, 3)).split('\n')[2]).toBe('candidate,41.8,,520');
  });

  test('nobody knows are refused below a run that has one', () => {
    const runs = timed('14:29:00');
    expect(startTime(readBench({ study: bare, runs }), 3)).toBe('must');
    const answer = answerOf(() =>
      enterRun({ study: bare, runs }, { ...BARE_ENTRY, started_ms: null }),
    );
    expect(answer.kind === 'refused' && answer.message).toContain('time of its switch-on');
  });

  test('in seconds from an unknown origin are refused', () => {
    expect(answer('75')).toMatchObject({ kind: 'refused' });
  });
});
