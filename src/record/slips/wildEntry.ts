import { costOf } from './courseFit.js';
import type { Entry } from './entries.js';
import type { Repair } from './repairs.js';
import type { Scene } from './scene.js';

/** Beyond every hop and cold start. */
const LEAST = Math.log(1.5);
/** In standard deviations of the other entries. */
const SIGMAS = 8;
/** By how much leaving the entry out has to describe the series better. */
const GAIN = 16;
/** Below, a course follows the entry so closely that it cannot judge it. */
const LEAST_OWN = 0.2;

/** The entry that is most clearly impossible beside its neighbours; `null` for none. */
export function wildEntry(
  entries: readonly Entry[],
  { active, fits, floor, cost: asTyped }: Scene,
  touched: ReadonlySet<number>,
): Repair | null {
  let best: { readonly index: number; readonly cost: number } | null = null;
  for (const [at, index] of active.entries()) {
    if (entries[index]!.run.checked || touched.has(index)) continue;
    for (const fit of fits) {
      const own = fit.course.own[at]!;
      if (own < LEAST_OWN || (at < 2 && fit.course.early)) continue;
      const off = fit.rest[at]! / own;
      const squares = Math.max(0, fit.squares - off ** 2 * own);
      const sigma = Math.sqrt(squares / (fit.free - 1) + floor);
      if (Math.abs(off) < Math.max(LEAST, (SIGMAS * sigma) / Math.sqrt(own))) continue;
      const cost = costOf(fit, squares, floor, 1);
      if (asTyped - cost >= GAIN && (best === null || cost < best.cost)) best = { index, cost };
    }
  }
  if (best === null) return null;
  return wildRepair(entries, best.index);
}

/** An entry that counts no more, because nobody knows what it should be. */
export function wildRepair(entries: readonly Entry[], index: number): Repair {
  const { shown, y } = entries[index]!;
  const changes = [{ index, y }];
  return { kind: 'other', quantity: 'reading', changes, found: shown, likely: null };
}
