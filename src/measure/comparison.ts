/** The comparison at the end, one at a time, while the page goes on asking. */
import type { Comparison } from './messages.js';

export interface Comparing {
  /** Where it stands; `null`: none was started. */
  readonly now: () => Comparison | null;
  /** Goes up with everything that it says. */
  readonly news: () => number;
  /** Whether it was started: not while one is running. */
  readonly start: () => boolean;
}

/** Lines that are kept of what it says. */
const KEPT = 40;

/** @param compare compares; gives line after line to `tell`, and `true` when it went well */
export function comparing(compare: (tell: (line: string) => void) => Promise<boolean>): Comparing {
  let now: Comparison | null = null;
  let news = 0;
  const set = (state: Comparison['state'], lines: readonly string[]) => {
    now = { state, lines };
    news += 1;
  };
  return {
    now: () => now,
    news: () => news,
    start: () => {
      if (now?.state === 'running') return false;
      let lines: readonly string[] = [];
      const tell = (line: string) => {
        lines = [...lines, line].slice(-KEPT);
        set('running', lines);
      };
      set('running', lines);
      compare(tell)
        .then((good) => set(good ? 'done' : 'failed', lines))
        .catch((error: unknown) => {
          tell(String(error));
          set('failed', lines);
        });
      return true;
    },
  };
}
