/** The keys by which a run is taken back: which one, and why. */
import { REASONS } from '../words.js';
import { input, render } from './render.js';
import { remember, session, stage } from './session.js';
import type { TakingBack } from './stage.js';
import { ask } from './talk.js';

/** Whether a series is in hand: once K has been seen, no run of it is left out any more. */
export function mayTakeBack(): boolean {
  const step = session.view?.state?.step;
  return stage() !== 'cautions' && (step?.do === 'close' || (step?.do === 'run' && step.run > 1));
}

export function startTakingBack(): void {
  const last = session.view?.state?.runs.findLast(({ exclude }) => exclude === null);
  session.message = last === undefined ? 'No run is written that could be taken back.' : '';
  if (last !== undefined) remember({ takingBack: { row: last.row, choose: 'run' } });
  render();
}

export async function takingBackKey(key: string): Promise<void> {
  const { takingBack } = session.memory;
  if (takingBack === null) return;
  if (key === 'Escape') remember({ takingBack: null });
  else if (takingBack.choose === 'run') chooseRun(key, takingBack);
  else if (takingBack.choose === 'reason') await chooseReason(key, takingBack);
  else if (key === 'Enter') await give(input.value, takingBack);
  render();
}

function chooseRun(key: string, takingBack: TakingBack): void {
  const runs = session.view?.state?.runs ?? [];
  const place = runs.findIndex(({ row }) => row === takingBack.row);
  // The latest run stands on top.
  const moved = runs[place + (key === 'ArrowUp' ? 1 : key === 'ArrowDown' ? -1 : 0)];
  const leave = key === 'Enter' && runs[place]?.exclude === null;
  if (leave) remember({ takingBack: { ...takingBack, choose: 'reason' } });
  else if (moved !== undefined) remember({ takingBack: { ...takingBack, row: moved.row } });
}

async function chooseReason(key: string, takingBack: TakingBack): Promise<void> {
  const reason = REASONS[Number(key) - 1];
  if (reason !== undefined) await give(reason, takingBack);
  if (key === String(REASONS.length + 1)) {
    remember({ takingBack: { ...takingBack, choose: 'words' } });
  }
}

async function give(reason: string, { row }: TakingBack): Promise<void> {
  remember({ takingBack: null });
  await ask({ do: 'take-back', row, reason });
}
