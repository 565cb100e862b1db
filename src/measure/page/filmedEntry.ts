/** What a film says of the next run: reading and zero. */
import type { FilmableRun } from '../benchState.js';
import type { Film } from './stage.js';

/** A number counts as taken at the reading time within a frame or two of it, s. */
const AT_THE_TIME_S = 0.05;

export type FilmedEntry =
  | { readonly reading: string; readonly zero: string | null }
  | { readonly message: string };

export function filmedEntry(film: Film, run: FilmableRun): FilmedEntry {
  const { lit_s } = film;
  if (lit_s === null) return { message: NOT_LIT };
  const points = film.points
    .map(({ at_s, reading }) => ({ elapsed_s: at_s - lit_s, reading }))
    .sort((a, b) => a.elapsed_s - b.elapsed_s);
  const { read_at_s } = run;
  const reading =
    read_at_s === null
      ? points.findLast(({ elapsed_s }) => elapsed_s > 0)
      : points.find(({ elapsed_s }) => Math.abs(elapsed_s - read_at_s) < AT_THE_TIME_S);
  if (reading === undefined) {
    const where =
      read_at_s === null ? 'after the first lit frame' : `at ${read_at_s} s; G goes there`;
    return { message: `No number is typed ${where}.` };
  }
  const zero = points.findLast(({ elapsed_s }) => elapsed_s < 0)?.reading ?? null;
  return { reading: reading.reading, zero: run.next?.zero === true ? zero : null };
}

export const NOT_LIT =
  'The first lit frame is not marked: without it nobody knows when time begins.';
