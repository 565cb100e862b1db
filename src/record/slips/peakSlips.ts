/** Peaks that cannot be right beside the reading of their run. */
import { median } from 'simple-statistics';
import type { Entry } from './entries.js';
import { exchangedDigits, movePoint, shownValue } from './typedNumber.js';

export interface PeakSlip {
  readonly index: number;
  readonly kind: 'decimal-place' | 'unit' | 'digits';
  readonly found: number;
  readonly likely: number;
}

/** Above its reading by more, a peak is no overshoot. */
const FAR = Math.log(3);
/** The most that a mended peak lies above its reading, where the other peaks do not show more. */
const USUAL = Math.log(1.6);
const MARGIN = Math.log(1.15);
/** The same for exchanged digits, which would explain too much otherwise. */
const CLOSE = { usual: Math.log(1.2), margin: Math.log(1.04) } as const;

/**
 * Peaks below their reading, or far above it, that one slip explains: beside the mended reading, and
 * held against the other peaks of the group. `mended`: ln of the readings, `null` where unknown.
 */
export function peakSlips(
  entries: readonly Entry[],
  mended: readonly (number | null)[],
): PeakSlip[] {
  const overshoot = entries.map(({ run }, index) => {
    const y = mended[index];
    if (run.peak_mW === null || y === null || y === undefined) return null;
    return run.peak_mW <= 0 ? Number.NEGATIVE_INFINITY : Math.log(run.peak_mW) - y;
  });
  return entries.flatMap(({ run, group, places }, index) => {
    const over = overshoot[index];
    const y = mended[index];
    if (over === null || over === undefined || y === null || y === undefined || run.checked)
      return [];
    // A peak that equals its reading can differ from it by the noise of the arithmetic.
    if (over >= -1e-9 && over <= FAR) return [];
    const others = entries.flatMap((entry, i) => {
      const other = overshoot[i];
      const usable = typeof other === 'number' && other >= -1e-9 && other <= FAR;
      return i !== index && entry.group === group && usable ? [other] : [];
    });
    const middle = others.length > 0 ? median(others) : 0;
    const highest = others.length > 1 ? Math.max(...others) : null;
    const most = highest === null ? USUAL : highest + MARGIN;
    const mostDigits = highest === null ? CLOSE.usual : highest + CLOSE.margin;
    const found = shownValue(run.peak_mW!, run.zero_mW);
    const after = (likely: number) => Math.log(Math.max(likely - (run.zero_mW ?? 0), 1e-300)) - y;
    const moved = [-3, -2, -1, 1, 2, 3].map((move) => ({
      likely: movePoint(found, move),
      kind: Math.abs(move) === 3 ? ('unit' as const) : ('decimal-place' as const),
    }));
    const turned =
      over < 0 && found > 0
        ? exchangedDigits(found, places).map((likely) => ({ likely, kind: 'digits' as const }))
        : [];
    const best = [...moved, ...turned]
      .filter(
        ({ likely, kind }) =>
          after(likely) >= -1e-9 && after(likely) <= (kind === 'digits' ? mostDigits : most),
      )
      .sort((a, b) => Math.abs(after(a.likely) - middle) - Math.abs(after(b.likely) - middle))[0];
    return best === undefined ? [] : [{ index, found, ...best }];
  });
}
