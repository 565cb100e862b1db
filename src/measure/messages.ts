/** What page and server say to each other, all of it JSON. */
import type { BenchState } from './benchState.js';
import type { Entry } from './enterRun.js';
import type { FilmedPoint } from './filmRun.js';

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

/** What the page may ask for; each is one POST to the name of `do`. */
export type Request =
  | ({ readonly do: 'enter'; readonly mark: string } & Entry)
  | {
      readonly do: 'take-back';
      readonly mark: string;
      readonly row: number;
      readonly reason: string;
    }
  | {
      readonly do: 'film';
      readonly mark: string;
      readonly row: number;
      readonly points: readonly FilmedPoint[];
    }
  | { readonly do: 'close'; readonly mark: string }
  | { readonly do: 'more'; readonly mark: string; readonly laps: number }
  | { readonly do: 'compare'; readonly mark: string };

export type Reply =
  | { readonly kind: 'done'; readonly view: View }
  | {
      readonly kind: 'question';
      readonly quantity: 'reading' | 'peak' | 'zero';
      readonly message: string;
    }
  | { readonly kind: 'refused'; readonly message: string; readonly view: View };
