/** Keys and clocks of the page. */
import { beamOn, beginAnew, enterNumber } from './entering.js';
import { filmKey, showFilm, startFilm } from './filming.js';
import { input, picker, render, tick, video } from './render.js';
import { nextRun, remember, session, stage } from './session.js';
import { openSound, silence } from './sound.js';
import { keyOfSeries, type Stage } from './stage.js';
import { mayTakeBack, startTakingBack, takingBackKey } from './takingBack.js';
import { ask, poll } from './talk.js';

const POLL_MS = 1000;
const TICK_MS = 100;

async function enter(at: Stage): Promise<void> {
  const next = nextRun();
  // These have keys of their own, so that no Enter too many decides anything.
  if (['close', 'cautions', 'beam', 'send', 'wait', 'faults'].includes(at)) return;
  if (at === 'before' && next !== null) {
    remember({ ready: new Set([...session.memory.ready, keyOfSeries(next)]) });
    return render();
  }
  if (at !== 'compare') return enterNumber(at);
  if (session.view?.comparison?.state !== 'running') await ask({ do: 'compare' });
  render();
}

async function letter(key: string, at: Stage): Promise<void> {
  const next = nextRun();
  const step = session.view?.state?.step;
  if (key === 'u' && at === 'cautions' && next !== null) {
    remember({ cautioned: new Set([...session.memory.cautioned, next.source]) });
    openSound();
  } else if (key === 't' && mayTakeBack()) startTakingBack();
  else if (key === 'f' && at !== 'cautions') startFilm();
  else if (key === 's') {
    session.sound = !session.sound;
    if (!session.sound) silence();
  } else if (key === 'c' && at === 'close') await ask({ do: 'close' });
  else if (key === 'm' && step?.do === 'close') {
    await ask({ do: 'more', laps: step.more || step.block });
  } else return;
  render();
}

function onKey(event: KeyboardEvent): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const at = stage();
  const { key } = event;
  const once = !event.repeat;
  if (at === 'take-back') {
    const typing = session.memory.takingBack?.choose === 'words';
    if (typing && !['Enter', 'Escape'].includes(key)) return;
    if (once || key.startsWith('Arrow')) void takingBackKey(key);
  } else if (at === 'film') {
    if ((once || key.startsWith('Arrow')) && !filmKey(key)) return;
  } else if (key === 'Enter') {
    if (once) void enter(at);
  } else if (key === ' ') {
    if (once && at === 'beam') beamOn();
  } else if (key === 'Escape') {
    if (nextRun() !== null) beginAnew();
  } else if (/^[a-z]$/i.test(key)) {
    if (once) void letter(key.toLowerCase(), at);
  } else return;
  event.preventDefault();
}

document.addEventListener('keydown', onKey);
// What was said of the last entry does not stand beside the next one.
input.addEventListener('input', () => {
  if (session.message === '') return;
  session.message = '';
  render();
});
picker.addEventListener('change', showFilm);
video.addEventListener('seeked', render);
video.addEventListener('loadeddata', render);
window.addEventListener('resize', render);
window.addEventListener('focus', () => input.focus());
setInterval(tick, TICK_MS);
setInterval(() => void poll(), POLL_MS);
render();
void poll();
