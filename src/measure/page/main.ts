/** Keys, clock and the way to the server. */
import type { Reply, Request, View } from '../messages.js';
import { REASONS, TYPED_NUMBER } from '../words.js';
import { element } from './dom.js';
import { screen } from './screen.js';
import { openSound, silence, tonesUntil } from './sound.js';
import {
  begun,
  type Draft,
  emptyDraft,
  keyOfSeries,
  type Memory,
  type Stage,
  stageOf,
} from './stage.js';

const POLL_MS = 1000;
const TICK_MS = 100;

let view: View | null = null;
let memory: Memory = {
  draft: emptyDraft(0),
  question: null,
  takingBack: null,
  cautioned: new Set(),
  ready: new Set(),
};
let message = '';
let connected = true;
let sound = true;
let asking = false;
/** Requests so far: a view that was asked for before the last of them is out of date. */
let requests = 0;

const root = document.body;
const input = element('input', {
  type: 'text',
  inputmode: 'decimal',
  autocomplete: 'off',
  spellcheck: 'false',
  'aria-labelledby': 'do',
});
const clock = element('p', { class: 'clock', role: 'timer' });

const stage = (): Stage => stageOf(view, memory);
const step = () => {
  const next = view?.state?.step;
  return next?.do === 'run' ? next : null;
};

function render(): void {
  const width = Math.max(
    280,
    Math.min(640, Math.round(root.clientWidth * (root.clientWidth > 900 ? 0.38 : 0.92))),
  );
  const typed = input.value;
  root.replaceChildren(
    ...screen({ view, memory, stage: stage(), message, connected, sound, width }, { input, clock }),
  );
  input.value = typed;
  input.placeholder = stage() === 'setting' ? String(step()?.wavelength_nm ?? '') : '';
  input.focus();
  tick();
}

/** The clock of the run: down to the reading time, then up. */
function tick(): void {
  const { started_ms } = memory.draft;
  if (started_ms === null) return;
  const elapsed = (Date.now() - started_ms) / 1000;
  const at = step()?.read_at_s ?? null;
  const text =
    at === null
      ? `${Math.floor(elapsed)} s`
      : elapsed < at
        ? `in ${Math.ceil(at - elapsed)} s`
        : elapsed < at + 2
          ? 'READ'
          : `+${Math.floor(elapsed - at)} s`;
  if (clock.textContent !== text) clock.textContent = text;
}

/** A view of the server in the place of the one before; what was typed for another row goes. */
function take(next: View): void {
  const before = memory.draft.row;
  view = next;
  // A file that is being edited is not lost, and neither is what is being typed.
  if (next.state === null) return;
  const row = step()?.row ?? 0;
  if (row === before) return;
  const lost = begun(memory.draft) && !asking;
  memory = { ...memory, draft: emptyDraft(row), question: null };
  silence();
  input.value = '';
  if (lost) {
    message = `Row ${before} was filled from elsewhere; what was typed here is not written.`;
  }
}

async function poll(): Promise<void> {
  const since = requests;
  try {
    const answer = await fetch('state', { cache: 'no-store' });
    const next: View = await answer.json();
    const news = !connected || next.version !== view?.version;
    connected = true;
    if (news && !asking && since === requests) {
      take(next);
      render();
    }
  } catch {
    if (connected) {
      connected = false;
      render();
    }
  }
}

async function ask(request: Request): Promise<Reply | null> {
  if (asking) return null;
  asking = true;
  requests += 1;
  try {
    const answer = await fetch('ask', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(request),
    });
    if (!answer.ok) {
      message = 'Nothing was written: the program answered with a fault of its own.';
      return null;
    }
    const reply: Reply = await answer.json();
    connected = true;
    message = reply.kind === 'refused' ? reply.message : '';
    if (reply.kind !== 'question') take(reply.view);
    return reply;
  } catch {
    connected = false;
    return null;
  } finally {
    asking = false;
  }
}

function draftWith(more: Partial<Draft>): void {
  memory = { ...memory, draft: { ...memory.draft, ...more } };
  input.value = '';
}

async function send(checked: boolean): Promise<void> {
  const { draft } = memory;
  render();
  const reply = await ask({
    do: 'enter',
    mark: view?.mark ?? '',
    row: draft.row,
    reading: draft.reading ?? '',
    zero: draft.zero ?? '',
    peak: draft.peak ?? '',
    setting: draft.setting ?? '',
    started_ms: draft.started_ms ?? 0,
    ahead_min: -new Date(draft.started_ms ?? 0).getTimezoneOffset(),
    checked,
  });
  if (reply?.kind === 'question') {
    const { quantity } = reply;
    memory = { ...memory, question: { ...reply, typed: draft[quantity] ?? '' } };
  } else if (reply?.kind !== 'done') {
    // Refused, or no connection: the numbers are asked for again, the run has happened.
    memory = { ...memory, draft: { ...memory.draft, reading: null, peak: null }, question: null };
  }
  if (reply?.kind === 'done') silence();
  render();
}

async function enter(at: Stage): Promise<void> {
  const typed = input.value.trim();
  const next = step();
  message = '';
  if (at === 'close' || at === 'cautions' || at === 'beam') return;
  if (at === 'before' && next !== null) {
    memory = { ...memory, ready: new Set([...memory.ready, keyOfSeries(next)]) };
    return render();
  }
  if (at === 'compare') {
    if (view?.comparison?.state !== 'running') await ask({ do: 'compare', mark: view?.mark ?? '' });
    return render();
  }
  const may = at === 'zero' || at === 'peak' || at === 'setting';
  if (!(typed === '' && may) && !TYPED_NUMBER.test(typed)) {
    message = typed === '' ? 'A number is needed.' : `"${typed}" is no plain number such as 46.2.`;
    return render();
  }
  if (at === 'setting') draftWith({ setting: typed || String(next?.wavelength_nm ?? '') });
  if (at === 'zero') draftWith({ zero: typed });
  if (at === 'peak') draftWith({ peak: typed });
  if (at === 'reading' && !tooEarly()) draftWith({ reading: typed });
  if (at === 'question') return answerQuestion(typed);
  if (stage() === 'send') return send(false);
  render();
}

/** A reading typed before its time was taken before its time. */
function tooEarly(): boolean {
  const at = step()?.read_at_s ?? null;
  const elapsed = (Date.now() - (memory.draft.started_ms ?? 0)) / 1000;
  if (at === null || elapsed >= at) return false;
  message = `Too early: the reading is due ${at} s after switch-on. Wait, and type what it shows then.`;
  input.value = '';
  return true;
}

async function answerQuestion(typed: string): Promise<void> {
  const { question } = memory;
  if (question === null) return;
  memory = { ...memory, question: null };
  draftWith({ [question.quantity]: typed });
  await send(Number(typed.replace(',', '.')) === Number(question.typed.replace(',', '.')));
}

function beamOn(): void {
  draftWith({ started_ms: Date.now() });
  const at = step()?.read_at_s ?? null;
  if (sound && at !== null) tonesUntil(at);
  render();
}

/** Whether a series is in hand: once K has been seen, no run of it is left out any more. */
function inSeries(): boolean {
  const next = view?.state?.step;
  return stage() !== 'cautions' && (next?.do === 'close' || (next?.do === 'run' && next.run > 1));
}

function startTakeBack(): void {
  const runs = view?.state?.runs ?? [];
  const last = runs.findLast(({ exclude }) => exclude === null);
  message = last === undefined ? 'No run is written that could be taken back.' : '';
  if (last !== undefined) memory = { ...memory, takingBack: { row: last.row, choose: 'run' } };
  input.value = '';
  render();
}

async function takeBackKey(key: string): Promise<void> {
  const { takingBack } = memory;
  const runs = view?.state?.runs ?? [];
  if (takingBack === null) return;
  const choose = (more: Partial<typeof takingBack>) => {
    memory = { ...memory, takingBack: { ...takingBack, ...more } };
  };
  const place = runs.findIndex(({ row }) => row === takingBack.row);
  const give = async (reason: string) => {
    memory = { ...memory, takingBack: null };
    input.value = '';
    await ask({ do: 'take-back', mark: view?.mark ?? '', row: takingBack.row, reason });
  };
  if (key === 'Escape') memory = { ...memory, takingBack: null };
  else if (takingBack.choose === 'run') {
    const moved = runs[place + (key === 'ArrowUp' ? 1 : key === 'ArrowDown' ? -1 : 0)];
    if (moved !== undefined) choose({ row: moved.row });
    if (key === 'Enter' && runs[place]?.exclude === null) choose({ choose: 'reason' });
  } else if (takingBack.choose === 'words') {
    if (key === 'Enter') await give(input.value);
  } else {
    const reason = REASONS[Number(key) - 1];
    if (reason !== undefined) await give(reason);
    if (key === '5') choose({ choose: 'words' });
  }
  render();
}

async function letter(key: string, at: Stage): Promise<boolean> {
  const next = step();
  if (key === 'u' && at === 'cautions' && next !== null) {
    memory = { ...memory, cautioned: new Set([...memory.cautioned, next.source]) };
    openSound();
  } else if (key === 't' && inSeries()) startTakeBack();
  else if (key === 's') {
    sound = !sound;
    if (!sound) silence();
  } else if (key === 'c' && at === 'close') await ask({ do: 'close', mark: view?.mark ?? '' });
  else if (key === 'm' && at === 'close') await addLaps();
  else return false;
  render();
  return true;
}

async function addLaps(): Promise<void> {
  const next = view?.state?.step;
  if (next?.do !== 'close') return;
  await ask({ do: 'more', mark: view?.mark ?? '', laps: next.more || next.block });
}

function onKey(event: KeyboardEvent): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const at = stage();
  const { key } = event;
  const typing = memory.takingBack?.choose === 'words';
  if (at === 'take-back') {
    if (typing && !['Enter', 'Escape'].includes(key)) return;
    event.preventDefault();
    if (!event.repeat || key.startsWith('Arrow')) void takeBackKey(key);
    return;
  }
  const held = event.repeat && (key === 'Enter' || key === ' ');
  if (key === 'Enter' && !held) void enter(at);
  else if (key === ' ' && at === 'beam' && !held) beamOn();
  else if (key === 'Escape' && step() !== null) {
    message = begun(memory.draft) ? 'This run begins anew; nothing of it was written.' : '';
    memory = { ...memory, draft: emptyDraft(memory.draft.row), question: null };
    silence();
    input.value = '';
    render();
  } else if (/^[a-z]$/i.test(key)) void letter(key.toLowerCase(), at);
  else if (key !== ' ' && key !== 'Enter') return;
  event.preventDefault();
}

document.addEventListener('keydown', onKey);
// What was said of the last entry does not stand beside the next one.
input.addEventListener('input', () => {
  if (message === '') return;
  message = '';
  render();
});
window.addEventListener('resize', render);
window.addEventListener('focus', () => input.focus());
setInterval(tick, TICK_MS);
setInterval(() => void poll(), POLL_MS);
render();
void poll();
