/** What page and server say to each other, all of it JSON. */
import type { Answer } from './answer.js';
import type { BenchState } from './benchState.js';

/** Where the comparison at the end stands. */
export interface Comparison {
  readonly state: 'running' | 'done' | 'failed';
  readonly lines: readonly string[];
}

export interface View {
  /** Of the files; goes back with everything that is to be written. */
  readonly mark: string;
  /** Changes whenever anything of this view does. */
  readonly version: string;
  /** `null`: the files cannot be read as they stand, see `faults`. */
  readonly state: BenchState | null;
  readonly faults: readonly string[];
  /** What is so of the folder and not of the study. */
  readonly notes: readonly string[];
  readonly comparison: Comparison | null;
}

export type Reply =
  | { readonly kind: 'done'; readonly view: View }
  | Extract<Answer, { readonly kind: 'question' }>
  | { readonly kind: 'refused'; readonly message: string; readonly view: View };
