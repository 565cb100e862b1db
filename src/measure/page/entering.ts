/** What Enter and Space do while a run is taken. */
import { TYPED_NUMBER } from '../words.js';
import { input, render } from './render.js';
import { draftWith, elapsed, nextRun, remember, session, stage } from './session.js';
import { silence, tonesUntil } from './sound.js';
import { begun, emptyDraft, type Stage } from './stage.js';
import { ask } from './talk.js';

/** Questions that may be left without an answer. */
const MAY_BE_EMPTY: readonly Stage[] = ['zero', 'peak', 'setting'];

export function beamOn(): void {
  session.beamOn = performance.now();
  draftWith({ started_ms: Date.now() });
  const at = nextRun()?.read_at_s ?? null;
  if (session.sound && at !== null) tonesUntil(at);
  render();
}

/** The answer in the field, if it is one. */
export async function enterNumber(at: Stage): Promise<void> {
  const typed = input.value.trim();
  session.message = '';
  if (!(typed === '' && MAY_BE_EMPTY.includes(at)) && !TYPED_NUMBER.test(typed)) {
    session.message =
      typed === '' ? 'A number is needed.' : `"${typed}" is no plain number such as 46.2.`;
    return render();
  }
  if (at === 'setting') draftWith({ setting: typed || String(nextRun()?.wavelength_nm ?? '') });
  if (at === 'zero') draftWith({ zero: typed });
  if (at === 'peak') draftWith({ peak: typed });
  if (at === 'reading' && !tooEarly()) draftWith({ reading: typed });
  if (at === 'question') return answerQuestion(typed);
  return goOn();
}

/** A reading typed before its time was taken before its time. */
function tooEarly(): boolean {
  const at = nextRun()?.read_at_s ?? null;
  if (at === null || elapsed() >= at) return false;
  session.message = `Too early: the reading is due ${at} s after switch-on. Wait, and type what it shows then.`;
  input.value = '';
  return true;
}

/** The same number again is what the display showed; another one is a new answer. */
async function answerQuestion(typed: string): Promise<void> {
  const { question } = session.memory;
  if (question === null) return;
  remember({ question: null });
  draftWith({ [question.quantity]: typed });
  const value = (text: string) => Number(text.replace(',', '.'));
  await send(value(typed) === value(question.typed));
}

/** The questions that are left, or the entry goes to the file. */
export async function goOn(): Promise<void> {
  if (stage() === 'send') return send(false);
  render();
}

async function send(checked: boolean): Promise<void> {
  const { draft } = session.memory;
  const reply = await ask({
    do: 'enter',
    row: draft.row,
    reading: draft.reading ?? '',
    zero: draft.zero ?? '',
    peak: draft.peak ?? '',
    setting: draft.setting ?? '',
    started_ms: draft.started_ms,
    ahead_min: -new Date(draft.started_ms ?? 0).getTimezoneOffset(),
    checked,
  });
  if (reply?.kind === 'question') {
    remember({ question: { ...reply, typed: draft[reply.quantity] ?? '' } });
  } else if (reply?.kind === 'done') silence();
  // Refused, or no connection: the run has happened, so only its numbers are asked for again;
  // a film can be opened again as it was.
  else if (session.memory.draft.row === draft.row) {
    if (draft.filmed) remember({ draft: emptyDraft(draft.row) });
    else draftWith({ reading: null, peak: null });
  }
  render();
}

export function beginAnew(): void {
  const { draft } = session.memory;
  session.message = begun(draft) ? 'This run begins anew; nothing of it was written.' : '';
  remember({ draft: emptyDraft(draft.row), question: null });
  input.value = '';
  silence();
  render();
}
