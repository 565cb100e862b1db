/** The film and its numbers, side by side. */
import { element, lines } from './dom.js';
import type { Fields, Shown } from './shown.js';

export function filmTask({ view, memory }: Shown, fields: Fields): readonly HTMLElement[] {
  const { film } = memory;
  const run = view?.state?.filmable.find(({ row }) => row === film?.row);
  if (film === null || run === undefined) return [];
  const title = element('p', { class: 'do' }, `Film of ${run.name}`);
  if (film.name === null) {
    return [
      title,
      element('p', {}, 'O opens a video file. It stays in this browser and is sent nowhere.'),
    ];
  }
  const from = film.lit_s;
  const time = (at_s: number) => `${(at_s - (from ?? 0)).toFixed(2)} s`;
  const { unit } = run;
  const typed = [...film.points].sort((a, b) => b.at_s - a.at_s);
  return [
    title,
    element(
      'div',
      { class: 'film' },
      fields.video,
      element(
        'div',
        {},
        element(
          'p',
          { class: 'told' },
          from === null
            ? `${time(fields.video.currentTime)} of ${film.name}. L marks the first lit frame.`
            : `${time(fields.video.currentTime)} after the first lit frame`,
        ),
        element('p', { class: 'digits' }, fields.input, element('span', {}, unit)),
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
