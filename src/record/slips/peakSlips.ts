/** Peaks that cannot be right beside the reading of their run. */
import { median } from 'simple-statistics';
import { extremes } from '../../statistics/summary.js';
import type { Entry } from './entries.js';
import { exchangedDigits, kindOfMove, movePoint, shownValue } from './typedNumber.js';

export interface PeakSlip {
  readonly index: number;
  /** Which of the two is the slip. */
  readonly quantity: 'peak' | 'reading';
  readonly kind: 'decimal-place' | 'unit' | 'digits';
  readonly found: number;
  readonly likely: number;
}

/** Above its reading by more, a peak is no overshoot. */
const FAR = Math.log(3);
/** A peak that equals its reading can differ from it by the noise of the arithmetic. */
const LEAST = -1e-9;
/**
 * How far a mended peak lies above its reading: above the highest of the other peaks by `margin`, or
 * up to `usual` where there are no two. Exchanged digits would explain too much otherwise.
 */
const POINT = { usual: Math.log(1.6), margin: Math.log(1.15) } as const;
const DIGITS = { usual: Math.log(1.2), margin: Math.log(1.04) } as const;

/**
 * Peaks below their reading, or far above it, that one slip explains: beside the mended reading, and
 * held against the other peaks of the group. A reading above its peak may be the slip itself, where
 * undoing it brings the reading nearer to its group. `mended`: ln of the readings, `null` where
 * unknown.
 */
export function peakSlips(
  entries: readonly Entry[],
  mended: readonly (number | null)[],
): PeakSlip[] {
  const overs = entries.map(({ run }, i) => {
    const y = mended[i] ?? null;
    return run.peak_mW === null || y === null ? null : logOf(run.peak_mW) - y;
  });
  return entries.flatMap(({ run, group }, index) => {
    const over = overs[index] ?? null;
    const isOdd = over !== null && (over < LEAST || over > FAR);
    if (!isOdd || run.checked || run.peak_mW === null) return [];
    const usual = (i: number) => {
      const other = overs[i] ?? null;
      const inGroup = i !== index && entries[i]!.group === group;
      return inGroup && other !== null && other >= LEAST && other <= FAR ? [other] : [];
    };
    const others = entries.flatMap((_, i) => usual(i));
    const middle = others.length > 0 ? median(others) : 0;
    const most = ({ usual: alone, margin }: typeof POINT | typeof DIGITS) =>
      others.length > 1 ? extremes(others)[1] + margin : alone;
    const best = candidates(entries, mended, index, over < 0)
      .filter((one) => one.over >= LEAST)
      .filter((one) => one.over <= most(one.kind === 'digits' ? DIGITS : POINT))
      .sort((a, b) => Math.abs(a.over - middle) - Math.abs(b.over - middle))[0];
    if (best === undefined) return [];
    const { over: _, ...slip } = best;
    return [{ index, ...slip }];
  });
}

/** Every slip of the peak or, where the peak is below it, of the reading; `over` once it is undone. */
function candidates(
  entries: readonly Entry[],
  mended: readonly (number | null)[],
  index: number,
  below: boolean,
): (Omit<PeakSlip, 'index'> & { readonly over: number })[] {
  const { run, shown, places, group, y: typed } = entries[index]!;
  const y = mended[index]!;
  const zero = run.zero_mW ?? 0;
  const peak = shownValue(run.peak_mW!, run.zero_mW);
  const ofPeak = (kind: PeakSlip['kind'], likely: number) => ({
    quantity: 'peak' as const,
    kind,
    found: peak,
    likely,
    over: logOf(likely - zero) - y,
  });
  const moved = [-3, -2, -1, 1, 2, 3].map((move) =>
    ofPeak(kindOfMove(move), movePoint(peak, move)),
  );
  if (!below || peak <= 0) return moved;
  const turned = exchangedDigits(peak, places).map((likely) => ofPeak('digits', likely));
  if (y !== typed) return [...moved, ...turned];
  const level = median(
    entries.flatMap((entry, i) => (entry.group === group ? (mended[i] ?? []) : [])),
  );
  const readings = exchangedDigits(shown, places)
    .filter((likely) => Math.abs(logOf(likely - zero) - level) < Math.abs(typed - level))
    .map((likely) => ({
      quantity: 'reading' as const,
      kind: 'digits' as const,
      found: shown,
      likely,
      over: logOf(run.peak_mW!) - logOf(likely - zero),
    }));
  return [...moved, ...turned, ...readings];
}

function logOf(value: number): number {
  return value > 0 ? Math.log(value) : Number.NEGATIVE_INFINITY;
}
