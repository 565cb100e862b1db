import { element } from './dom.js';
import { screen } from './screen.js';
import { elapsed, nextRun, session, stage } from './session.js';

/** The one field to type into: always the same, so that no key is lost while the page changes. */
export const input = element('input', {
  type: 'text',
  inputmode: 'decimal',
  autocomplete: 'off',
  spellcheck: 'false',
  'aria-labelledby': 'do',
});
const clock = element('p', { class: 'clock', role: 'timer' });

/** The player of a film, and what the browser opens a file with. */
export const video = element('video', { muted: '', playsinline: '', preload: 'auto' });
export const picker = element('input', { type: 'file', accept: 'video/*', hidden: '' });

/** Seconds for which the clock says READ. */
const READ_FOR_S = 2;

/** Which run and question the field was last shown for. */
let asked = '';

/** Draws the page as it stands. The field is emptied where another question is asked than before. */
export function render(): void {
  const { memory, message, connected, sound, view } = session;
  const wide = document.body.clientWidth > 900;
  const room = Math.round(document.body.clientWidth * (wide ? 0.38 : 0.92));
  const width = Math.max(280, Math.min(640, room));
  const at = stage();
  const now = `${memory.draft.row} ${at} ${memory.takingBack?.choose ?? ''} ${memory.film?.when ?? ''}`;
  const typed = now === asked ? input.value : '';
  asked = now;
  document.body.replaceChildren(
    ...screen(
      { view, memory, stage: at, message, connected, sound, width },
      {
        input,
        clock,
        video,
      },
    ),
    picker,
  );
  input.value = typed;
  input.placeholder = at === 'setting' ? String(nextRun()?.wavelength_nm ?? '') : '';
  input.focus();
  tick();
}

/** The clock of the run: down to the reading time, then up. */
export function tick(): void {
  if (session.memory.draft.started_ms === null) return;
  const text = clockText(elapsed(), nextRun()?.read_at_s ?? null);
  if (clock.textContent !== text) clock.textContent = text;
}

function clockText(seconds: number, at: number | null): string {
  if (at === null) return `${Math.floor(seconds)} s`;
  if (seconds < at) return `in ${Math.ceil(at - seconds)} s`;
  return seconds < at + READ_FOR_S ? 'READ' : `+${Math.floor(seconds - at)} s`;
}
