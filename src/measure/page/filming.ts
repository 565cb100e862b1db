/**
 * A film of a display, stepped by the keys: the number is typed at each stop, with the picture beside it.
 * The file is opened by the browser and stays in it. Of a run that is written down the numbers become its
 * trace; of the next one the number at the reading time becomes its reading.
 */
import type { FilmableRun } from '../benchState.js';
import { TYPED_NUMBER } from '../words.js';
import { goOn } from './entering.js';
import { filmedEntry, NOT_LIT } from './filmedEntry.js';
import { litByFile, localText, typedTime } from './filmTime.js';
import { input, picker, render, video } from './render.js';
import { draftWith, remember, session } from './session.js';
import type { Film } from './stage.js';
import { ask } from './talk.js';

/** The browser does not tell the frame rate of a film; most have 30 frames a second or 25. */
const FRAME_S = 1 / 30;

const filmable = (): readonly FilmableRun[] => session.view?.state?.filmable ?? [];

const runOf = ({ row }: Film): FilmableRun | undefined => filmable().find((run) => run.row === row);

/** The film that was put aside, as it was; or of the run that is most likely meant. */
export function startFilm(): void {
  const { filmAside } = session;
  session.message = '';
  if (filmAside !== null && filmAside.points.length > 0 && runOf(filmAside) !== undefined) {
    remember({ film: filmAside });
  } else {
    const runs = filmable();
    const written = runs.findLast(({ next }) => next === null);
    const planned = runs.find(({ next }) => next !== null);
    const run = filmAside === null ? (written ?? planned) : (planned ?? written);
    if (run === undefined) session.message = 'There is no run whose film could be read.';
    else remember({ film: { ...(filmAside ?? NO_FILM), row: run.row } });
  }
  render();
}

const NO_FILM: Film = { row: 0, name: null, saved_ms: 0, when: false, lit_s: null, points: [] };

/** The file that was chosen, in the player. */
export function showFilm(): void {
  const file = picker.files?.[0];
  const { film } = session.memory;
  if (file === undefined || film === null) return;
  URL.revokeObjectURL(video.src);
  video.src = URL.createObjectURL(file);
  picker.value = '';
  const { name, lastModified: saved_ms } = file;
  remember({ film: { ...NO_FILM, row: film.row, name, saved_ms } });
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
  if (film.when) return whenKey(key, film);
  if (step !== undefined) return stepped(step);
  if (key === 'Escape') putAside(film);
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
  session.message = '';
  if (key === 'o') picker.click();
  if (key === 'l' && film.name !== null) {
    remember({ film: { ...film, lit_s: video.currentTime } });
  }
  if (key === 'd') remember({ film: { ...film, points: film.points.slice(0, -1) } });
  if (key === 'p' || key === 'n') otherRun(film, key === 'p' ? -1 : 1);
  if (key === 'g') goToReadingTime(film);
  if (key === 'w') void write(film);
}

function otherRun(film: Film, by: number): void {
  const runs = filmable();
  const other = runs[runs.findIndex(({ row }) => row === film.row) + by];
  if (film.points.length > 0) {
    session.message = 'These numbers belong to this run; D drops the last one.';
  } else if (other !== undefined) remember({ film: { ...film, row: other.row } });
}

function goToReadingTime(film: Film): void {
  const at = runOf(film)?.read_at_s ?? null;
  if (film.lit_s === null) session.message = NOT_LIT;
  else if (at === null) session.message = 'No reading time is agreed in study.json (read_at_s).';
  else video.currentTime = film.lit_s + at;
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
  const run = runOf(film);
  if (run?.next) return writeNext(film, run);
  const { lit_s } = film;
  if (lit_s === null) {
    session.message = NOT_LIT;
    return render();
  }
  const points = film.points.map(({ at_s, reading }) => ({ elapsed_s: at_s - lit_s, reading }));
  const reply = await ask({ do: 'film', row: film.row, points });
  if (reply?.kind === 'done') {
    session.message = `${points.length} numbers of the film are in traces.csv.`;
    putAside({ ...film, lit_s: null, points: [] });
  }
  render();
}

/** Its time of day is asked for first, unless the rows above have none. */
function writeNext(film: Film, run: FilmableRun): void {
  const entry = filmedEntry(film, run);
  if ('message' in entry) session.message = entry.message;
  else if (run.next?.time === 'no') fillDraft(film, run, null);
  else remember({ film: { ...film, when: true } });
  render();
}

function whenKey(key: string, film: Film): boolean {
  const run = runOf(film);
  if (key === 'Escape') remember({ film: { ...film, when: false } });
  else if (key === 'Enter' && run !== undefined) return answerWhen(film, run);
  else return false;
  render();
  return true;
}

function answerWhen(film: Film, run: FilmableRun): boolean {
  const typed = input.value.trim();
  const unknown = typed === '-' && run.next?.time === 'may';
  const at =
    typed === ''
      ? litByFile(film, video.duration)
      : unknown
        ? null
        : typedTime(typed, film.saved_ms);
  if (at !== null || unknown) {
    fillDraft(film, run, at);
    return true;
  }
  session.message =
    typed === '-'
      ? 'The runs above have their times; without one this run cannot stand beside them.'
      : `A time is needed, such as ${localText(film.saved_ms).slice(11)}.`;
  render();
  return true;
}

/** The rest is asked for as of any run. */
function fillDraft(film: Film, run: FilmableRun, started_ms: number | null): void {
  const entry = filmedEntry(film, run);
  if ('message' in entry) return;
  const { reading, zero } = entry;
  putAside({ ...film, when: false });
  draftWith({ filmed: true, started_ms, reading, ...(zero === null ? {} : { zero }) });
  void goOn();
}

function putAside(film: Film): void {
  session.filmAside = film;
  remember({ film: null });
  input.value = '';
}
