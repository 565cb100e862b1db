/** Which question stands on the page: from the view of the server and what was typed since. */
import type { Answer } from '../answer.js';
import type { View } from '../messages.js';
import type { RunStep } from '../nextRun.js';

/** A run while it is typed. `null`: not asked yet; empty: not noted. */
export interface Draft {
  readonly row: number;
  readonly setting: string | null;
  readonly zero: string | null;
  /** When the beam went on, ms since 1970. */
  readonly started_ms: number | null;
  /** Reading and switch-on come off a film, so that no beam has to go on for it. */
  readonly filmed: boolean;
  readonly reading: string | null;
  readonly peak: string | null;
}

export interface Question extends Extract<Answer, { readonly kind: 'question' }> {
  /** What was typed and is asked about. */
  readonly typed: string;
}

export interface TakingBack {
  readonly row: number;
  /** `run`: which one; `reason`: why; `words`: in own words. */
  readonly choose: 'run' | 'reason' | 'words';
}

/** A film of one run, while its numbers are typed. */
export interface Film {
  /** Row of runs.csv of the run. */
  readonly row: number;
  /** Name of the file; `null`: none is open yet. It never leaves the browser. */
  readonly name: string | null;
  /** When the file was saved, ms since 1970. */
  readonly saved_ms: number;
  /** It is asked when the beam went on. */
  readonly when: boolean;
  /** Where in the film the first lit frame is, s; `null`: not marked yet. */
  readonly lit_s: number | null;
  readonly points: readonly { readonly at_s: number; readonly reading: string }[];
}

/** What the page keeps for itself: lost with it, and nothing else is. */
export interface Memory {
  readonly draft: Draft;
  readonly question: Question | null;
  readonly takingBack: TakingBack | null;
  readonly film: Film | null;
  /** Sources whose cautions were read since the page was opened. */
  readonly cautioned: ReadonlySet<string>;
  /** Series that were made ready. */
  readonly ready: ReadonlySet<string>;
}

export type Stage =
  | 'wait'
  | 'faults'
  | 'take-back'
  | 'film'
  | 'question'
  | 'cautions'
  | 'before'
  | 'setting'
  | 'zero'
  | 'beam'
  | 'reading'
  | 'peak'
  | 'send'
  | 'close'
  | 'compare';

export const emptyDraft = (row: number): Draft => ({
  row,
  setting: null,
  zero: null,
  started_ms: null,
  filmed: false,
  reading: null,
  peak: null,
});

export const begun = ({ zero, started_ms, setting, filmed }: Draft): boolean =>
  filmed || zero !== null || started_ms !== null || setting !== null;

export const keyOfSeries = ({ series, source }: RunStep): string => `${source}\n${series}`;

export function stageOf(view: View | null, memory: Memory): Stage {
  if (view === null) return 'wait';
  if (view.state === null) return 'faults';
  if (memory.takingBack !== null) return 'take-back';
  if (memory.film !== null) return 'film';
  const { step } = view.state;
  if (step.do !== 'run') return step.do;
  if (memory.question !== null) return 'question';
  if (!memory.cautioned.has(step.source)) return 'cautions';
  if (step.before !== null && !memory.ready.has(keyOfSeries(step))) return 'before';
  return stageOfRun(step, memory.draft);
}

function stageOfRun({ asks }: RunStep, draft: Draft): Stage {
  if (asks.setting && draft.setting === null) return 'setting';
  if (asks.zero && draft.zero === null) return 'zero';
  if (draft.started_ms === null && !draft.filmed) return 'beam';
  if (draft.reading === null) return 'reading';
  if (asks.peak && draft.peak === null) return 'peak';
  return 'send';
}
