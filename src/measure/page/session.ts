/** What the page knows at this moment, and how it changes. One page, one session. */
import type { View } from '../messages.js';
import type { RunStep } from '../nextRun.js';
import { silence } from './sound.js';
import {
  begun,
  type Draft,
  emptyDraft,
  type Film,
  type Memory,
  type Stage,
  stageOf,
} from './stage.js';

export const session: {
  view: View | null;
  memory: Memory;
  /** What happened last, in a sentence. */
  message: string;
  connected: boolean;
  sound: boolean;
  /** A request is on its way. */
  asking: boolean;
  /** The film that was read last; it is still in the player. */
  filmAside: Film | null;
  /** When the beam went on, on a clock that nobody sets (ms). */
  beamOn: number;
} = {
  view: null,
  memory: {
    draft: emptyDraft(0),
    question: null,
    takingBack: null,
    film: null,
    cautioned: new Set(),
    ready: new Set(),
  },
  message: '',
  connected: true,
  sound: true,
  asking: false,
  filmAside: null,
  beamOn: 0,
};

export const stage = (): Stage => stageOf(session.view, session.memory);

/** The run that is next; `null` where something else is. */
export function nextRun(): RunStep | null {
  const step = session.view?.state?.step;
  return step?.do === 'run' ? step : null;
}

export function remember(more: Partial<Memory>): void {
  session.memory = { ...session.memory, ...more };
}

export function draftWith(more: Partial<Draft>): void {
  remember({ draft: { ...session.memory.draft, ...more } });
}

/** Seconds since the beam went on. */
export const elapsed = (): number => (performance.now() - session.beamOn) / 1000;

/** A view of the server in the place of the one before; what was typed for another row goes. */
export function take(view: View): void {
  const { draft } = session.memory;
  session.view = view;
  // A file that is being edited is not lost, and neither is what is being typed.
  if (view.state === null) return;
  const row = nextRun()?.row ?? 0;
  if (row === draft.row) return;
  if (begun(draft) && !session.asking) {
    session.message = `Row ${draft.row} was filled from elsewhere; what was typed here is not written.`;
  }
  remember({ draft: emptyDraft(row), question: null });
  silence();
}
