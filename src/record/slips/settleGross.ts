import { restMatrix } from './courseFit.js';
import type { Entry } from './entries.js';
import { digitRepairs, pointRepairs, type Repair, zeroRepairsOf } from './repairs.js';
import { bestFits, type Scene } from './scene.js';
import { wildRepair } from './wildEntry.js';

/** Another slip takes the place of a gross one where it describes the series better by this. */
const BETTER = 6;
/** How far a mended entry may stay from its neighbours: a cold start in the first runs, else less. */
const FIRST = Math.log(1.6);
const LATER = Math.log(1.25);
const SIGMAS = 5;

/**
 * The gross slips looked at once more, beside all neighbours: 0.45 for 4.05 is two digits exchanged
 * and not a decimal place of 4.5; and one that stays far off even when mended is explained by no
 * single slip.
 */
export function settleGross(
  entries: readonly Entry[],
  gross: readonly Repair[],
  scene: Scene | null,
): Repair[] {
  if (scene === null) return [...gross];
  const zeroRepairs = zeroRepairsOf(entries);
  return gross.map((repair) => {
    const index = repair.changes[0]!.index;
    const at = scene.active.indexOf(index);
    if (at < 0) return repair;
    const costWith = (one: Repair) =>
      bestFits(scene, scene.fits, [{ index: at, y: one.changes[0]!.y }])[0]?.cost ?? Infinity;
    const other = [
      ...pointRepairs(entries, index),
      ...digitRepairs(entries, index),
      ...zeroRepairs(index),
    ].sort((a, b) => costWith(a) - costWith(b))[0];
    const better = other !== undefined && costWith(other) < costWith(repair) - BETTER;
    const settled = better ? other : repair;
    return isNear(scene, at, settled) ? settled : wildRepair(entries, index);
  });
}

function isNear(scene: Scene, at: number, repair: Repair): boolean {
  const change = { index: at, y: repair.changes[0]!.y };
  const best = bestFits(scene, scene.fits, [change]);
  return best.some(({ fit }) => {
    const own = restMatrix(fit.course, at, at);
    // A course that follows the entry on its own finds nothing wrong with it.
    if (own < 1e-6) return true;
    const alone = fit.rest[at]! / own;
    const off = alone + change.y - scene.y[at]!;
    // The scatter of the others: an entry that is far off would excuse itself.
    const squares = Math.max(0, fit.squares - alone ** 2 * own);
    const sigma = Math.sqrt(squares / Math.max(1, fit.free - 1) + scene.floor);
    const usual = at < 2 ? FIRST : LATER;
    return Math.abs(off) <= Math.max(usual, (SIGMAS * sigma) / Math.sqrt(own));
  });
}
