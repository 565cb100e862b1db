/** The page as it stands at one moment. */
import { WHY_HIDDEN } from '../words.js';
import { element, lines, para } from './dom.js';
import { keysOf } from './keysOf.js';
import { plot } from './plot.js';
import type { Fields, Shown } from './shown.js';
import { task } from './task.js';

export function screen(shown: Shown, fields: Fields): readonly HTMLElement[] {
  const { view } = shown;
  const state = view?.state ?? null;
  return [
    header(shown),
    element('main', {}, task(shown, fields), aside(shown)),
    element('footer', {}, ...lines('p', [...(view?.notes ?? []), ...(state?.notices ?? [])])),
    para('keys', keysOf(shown)),
  ];
}

function header({ view, message, connected }: Shown): HTMLElement {
  const step = view?.state?.step;
  const place =
    step?.do === 'run'
      ? `${step.source}${step.wavelength_nm === null ? '' : `, ${step.wavelength_nm} nm`} · ${step.series === step.source || step.series === '' ? '' : `series ${step.series} · `}lap ${step.lap} of ${step.laps}`
      : '';
  return element(
    'header',
    {},
    element('h1', {}, view?.state?.title ?? 'meterpair measure'),
    place === '' ? null : para('place', place),
    connected
      ? null
      : element(
          'p',
          { class: 'box lost', role: 'alert' },
          'No connection: the program has ended. Start it again; it goes on where the file ends. What is typed here now is not on disk.',
        ),
    ...(view?.state?.alarms ?? []).map((text) =>
      element('p', { class: 'box', role: 'alert' }, text),
    ),
    message === '' ? null : element('p', { class: 'message', role: 'status' }, message),
  );
}

function aside({ view, width, stage }: Shown): HTMLElement {
  const state = view?.state ?? null;
  if (state === null || stage === 'film') return element('aside', {});
  const { step, runs } = state;
  const open = step.do === 'run' && step.run > 1;
  const last = runs.at(-1);
  return element(
    'aside',
    {},
    ...state.questions.map((text) => para('box', `Open question. ${text}`)),
    ...(last !== undefined && (open || step.do === 'close')
      ? [
          element(
            'p',
            {},
            `On disk: row ${last.row}, ${last.meter}, ${last.shown}${last.exclude === null ? '' : `, left out: ${last.exclude}`}`,
          ),
          element('h2', {}, 'Each meter against its own first reading'),
          plot(state.plot, open ? step.runs : runs.length, width),
          element('p', {}, state.repeatability),
          element('p', {}, WHY_HIDDEN),
        ]
      : []),
  );
}
