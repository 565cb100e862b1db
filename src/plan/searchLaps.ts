import { argumentWrong } from '../error.js';
import type { UncertaintyPart } from '../statistics/effectiveDof.js';
import { LEAST_LAPS } from '../vocabulary.js';
import { designUncertainty, type PlannedSeries } from './designUncertainty.js';
import { BLOCK_LAPS, wholeBlocks } from './runOrder.js';

export interface PlanOptions extends PlannedSeries {
  /** As a fraction (default 0.95). */
  readonly confidence?: number;
  /** What laps do not reduce: certificate, display, settling … relative. */
  readonly others?: readonly UncertaintyPart[];
  /** Where to stop looking (default 1000 laps). */
  readonly mostLaps?: number;
}

/** First number of laps, in whole blocks and at least `LEAST_LAPS`, that is enough. */
export function searchLaps<Answer>(
  options: PlanOptions,
  judge: (parts: readonly UncertaintyPart[]) => { answer: Answer; enough: boolean },
): { laps: number | null; tried: number; answer: Answer } {
  const { order, others = [], mostLaps = 1000 } = options;
  const block = BLOCK_LAPS[order];
  const least = wholeBlocks(order, LEAST_LAPS);
  const at = (laps: number) => {
    const own = designUncertainty(options, laps);
    return own === null ? null : judge([own, ...others]);
  };
  const most = Math.floor(mostLaps / block) * block;
  const last = most >= least ? at(most) : null;
  if (last === null) {
    throw argumentWrong('So few laps are no series to plan for.', mostLaps, `${least} or more`);
  }
  if (!last.enough) return { laps: null, tried: most, answer: last.answer };
  // Steps double until it is enough, then halve: more laps never make it worse by whole blocks.
  let low = least - block;
  let high = least;
  for (; high < most && !at(high)?.enough; high = Math.min(2 * high, most)) low = high;
  while (high - low > block) {
    const middle = wholeBlocks(order, Math.floor((low + high) / 2));
    if (at(middle)?.enough) high = middle;
    else low = middle;
  }
  const best = at(high);
  return { laps: high, tried: high, answer: (best ?? last).answer };
}
