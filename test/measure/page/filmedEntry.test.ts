import { describe, expect, test } from 'vitest';
import type { FilmableRun } from '../../../src/measure/benchState.js';
import { filmedEntry } from '../../../src/measure/page/filmedEntry.js';
import type { Film } from '../../../src/measure/page/stage.js';

const RUN: FilmableRun = {
  row: 4,
  name: '"green", run 3, candidate',
  unit: 'mW',
  read_at_s: 20,
  next: { zero: true, time: 'may' },
};
const FILM: Film = {
  row: 4,
  name: 'display.mp4',
  saved_ms: 0,
  when: false,
  lit_s: 3,
  points: [
    { at_s: 23.01, reading: '60.1' },
    { at_s: 1, reading: '0.4' },
    { at_s: 2, reading: '0.3' },
    { at_s: 5, reading: '45' },
    { at_s: 40, reading: '60.3' },
  ],
};

describe('the film of the next run', () => {
  test('gives the number at the reading time, and the last one before the light as zero', () => {
    expect(filmedEntry(FILM, RUN)).toEqual({ reading: '60.1', zero: '0.3' });
  });

  test('gives the last number where no reading time is agreed', () => {
    expect(filmedEntry(FILM, { ...RUN, read_at_s: null })).toMatchObject({ reading: '60.3' });
  });

  test('gives no zero where the table has no column for it', () => {
    const run: FilmableRun = { ...RUN, next: { zero: false, time: 'may' } };
    expect(filmedEntry(FILM, run)).toEqual({ reading: '60.1', zero: null });
  });

  test.each([
    ['without its first lit frame', { ...FILM, lit_s: null }, 'not marked'],
    ['without a number at the time', { ...FILM, lit_s: 3.1 }, 'at 20 s'],
  ])('%s gives nothing, and says why', (_, film, why) => {
    expect(filmedEntry(film, RUN)).toEqual({ message: expect.stringContaining(why) });
  });

  test('with numbers before the light only gives no reading', () => {
    const points = FILM.points.slice(1, 3);
    const answer = filmedEntry({ ...FILM, points }, { ...RUN, read_at_s: null });
    expect(answer).toEqual({ message: expect.stringContaining('after the first lit frame') });
  });
});
