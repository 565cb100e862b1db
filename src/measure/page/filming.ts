/**
 * A film of a display, stepped by the keys: the number is typed at each stop, with the picture beside it.
 * The file is opened by the browser and stays in it.
 */
import { TYPED_NUMBER } from '../words.js';
import { input, picker, render, video } from './render.js';
import { nextRun, remember, session } from './session.js';
import type { Film } from './stage.js';
import { ask } from './talk.js';

/** The browser does not tell the frame rate of a film; most have 30 frames a second or 25. */
const FRAME_S = 1 / 30;

export function startFilm(): void {
  const last = session.view?.state?.filmable.at(-1);
  session.message = last === undefined ? 'No run is written yet whose film could be read.' : '';
  if (last !== undefined)
    remember({ film: { row: last.row, name: null, lit_s: null, points: [] } });
  render();
}

/** The file that was chosen, in the player. */
export function showFilm(): void {
  const file = picker.files?.[0];
  const { film } = session.memory;
  if (file === undefined || film === null) return;
  URL.revokeObjectURL(video.src);
  video.src = URL.createObjectURL(file);
  picker.value = '';
  remember({ film: { ...film, name: file.name, lit_s: null, points: [] } });
  render();
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowRight: FRAME_S,
  ArrowLeft: -FRAME_S,
  ArrowUp: 1,
  ArrowDown: -1,
};

/** @returns whether the key was one of the film's */
export function filmKey(key: string): boolean {
  const { film } = session.memory;
  const step = STEPS[key];
  if (film === null) return false;
  if (step !== undefined) return stepped(step);
  if (key === 'Escape') leave();
  else if (key === 'Enter') enterNumber(film);
  else if (/^[a-z]$/i.test(key)) letter(key.toLowerCase(), film);
  else return false;
  render();
  return true;
}

function stepped(seconds: number): boolean {
  video.currentTime = Math.max(0, video.currentTime + seconds);
  return true;
}

function letter(key: string, film: Film): void {
  if (key === 'o') picker.click();
  if (key === 'l' && film.name !== null) {
    remember({ film: { ...film, lit_s: video.currentTime } });
  }
  if (key === 'd') remember({ film: { ...film, points: film.points.slice(0, -1) } });
  if (key === 'p' || key === 'n') otherRun(film, key === 'p' ? -1 : 1);
  if (key === 'g' && film.lit_s !== null) {
    const at = nextRun()?.read_at_s ?? null;
    if (at !== null) video.currentTime = film.lit_s + at;
  }
  if (key === 'w') void write(film);
}

/** Numbers belong to one run: once some are typed it stays. */
function otherRun(film: Film, by: number): void {
  const runs = session.view?.state?.filmable ?? [];
  const other = runs[runs.findIndex(({ row }) => row === film.row) + by];
  if (other !== undefined && film.points.length === 0)
    remember({ film: { ...film, row: other.row } });
}

function enterNumber(film: Film): void {
  const reading = input.value.trim();
  session.message = '';
  if (film.name === null) session.message = 'No film is open.';
  else if (!TYPED_NUMBER.test(reading)) session.message = 'A plain number is needed, such as 46.2.';
  else {
    const at_s = video.currentTime;
    const others = film.points.filter((point) => point.at_s !== at_s);
    remember({ film: { ...film, points: [...others, { at_s, reading }] } });
    input.value = '';
  }
}

async function write(film: Film): Promise<void> {
  const { lit_s } = film;
  if (lit_s === null) {
    session.message =
      'The first lit frame is not marked: without it nobody knows when time begins.';
    return render();
  }
  const points = film.points.map(({ at_s, reading }) => ({ elapsed_s: at_s - lit_s, reading }));
  const reply = await ask({ do: 'film', row: film.row, points });
  if (reply?.kind === 'done') {
    session.message = `${points.length} numbers of the film are in traces.csv.`;
    leave();
  }
  render();
}

function leave(): void {
  URL.revokeObjectURL(video.src);
  video.removeAttribute('src');
  remember({ film: null });
  input.value = '';
}
