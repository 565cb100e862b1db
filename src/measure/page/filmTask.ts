/** The film and its numbers, side by side. */
import type { FilmableRun } from '../benchState.js';
import { element, lines, para } from './dom.js';
import { litByFile, localText } from './filmTime.js';
import type { Fields, Shown } from './shown.js';
import type { Film } from './stage.js';

export function filmTask({ view, memory }: Shown, fields: Fields): readonly HTMLElement[] {
  const { film } = memory;
  const run = view?.state?.filmable.find(({ row }) => row === film?.row);
  if (film === null || run === undefined) return [];
  const name = `Film of ${run.name}`;
  if (film.when) return [para('told', name), ...whenOf(film, run, fields)];
  const title = element('p', { class: 'do', id: 'do' }, name);
  const goal = para('told', goalOf(run));
  if (film.name === null) {
    return [
      title,
      goal,
      element('p', {}, 'O opens a video file. It stays in this browser and is sent nowhere.'),
    ];
  }
  const from = film.lit_s;
  const time = (at_s: number) => `${(at_s - (from ?? 0)).toFixed(2)} s`.replace('-', '−');
  const { unit } = run;
  const typed = [...film.points].sort((a, b) => b.at_s - a.at_s);
  return [
    title,
    goal,
    element(
      'div',
      { class: 'film' },
      fields.video,
      element(
        'div',
        {},
        para(
          'told',
          from === null
            ? `${time(fields.video.currentTime)} of ${film.name}. L marks the first lit frame.`
            : `${time(fields.video.currentTime)} after the first lit frame`,
        ),
        para('digits', fields.input, element('span', {}, unit)),
        element(
          'ul',
          { class: 'runs' },
          ...lines(
            'li',
            typed.map(({ at_s, reading }) => `${time(at_s)}: ${reading} ${unit}`),
          ),
        ),
      ),
    ),
  ];
}

/** What the numbers become. */
function goalOf({ next, read_at_s }: FilmableRun): string {
  if (next === null) return 'Written down: the numbers become its trace.';
  const at = read_at_s === null ? 'the last number' : `the number at ${read_at_s} s`;
  const zero = next.zero ? ', the last one before the first lit frame its zero' : '';
  return `Not written yet: ${at} becomes its reading${zero}.`;
}

function whenOf(film: Film, { next }: FilmableRun, fields: Fields): readonly HTMLElement[] {
  const at = litByFile(film, fields.video.duration);
  const by =
    at === null
      ? 'The film does not tell.'
      : `By the file it was ${localText(at)}: when it was saved, less the rest of the film. A copy may have another time. Enter takes it.`;
  const none =
    next?.time === 'may'
      ? ' Where nobody knows, type -: the runs of this series then count as evenly spaced.'
      : '';
  return [
    element('p', { class: 'do', id: 'do' }, 'When did the beam go on?'),
    para('told', `${by} Or type the time, as 19:03:50.${none}`),
    para('words', fields.input),
  ];
}
