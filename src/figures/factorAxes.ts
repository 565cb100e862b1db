/** Ranges and ticks of the figure of factors. */
import { formatNumber } from '../findings/formatNumber.js';
import type { Result, Study } from '../vocabulary.js';
import { sharedRange } from './sharedScale.js';

/** Room in nm beside the first and the last wavelength. */
export function padding(range: number): number {
  return Math.max(20, 0.08 * range);
}

/**
 * Shows the tolerance and all settled intervals in full; an interval that decides nothing may run
 * out of the picture, because it would flatten everything else.
 */
export function valueRange(study: Study, result: Result): [number, number] {
  const settled = result.wavelengths.filter((one) => one.verdict !== 'inconclusive');
  const usable = result.series.filter((one) => one.verdict === 'usable');
  const values = [
    1 / (1 + study.tolerance),
    1 / (1 - study.tolerance),
    ...[...settled, ...usable.map((one) => one.factor)].flatMap(({ low, high }) => [low, high]),
    ...result.wavelengths.map((one) => one.factor),
    ...result.series.map((one) => one.factor.value),
  ].filter((value) => value !== null);
  const ends = result.wavelengths.flatMap((one) => [one.low, one.high]);
  return sharedRange(
    values,
    ends.filter((value) => value !== null),
    0.5,
  );
}

/** A tick at every measured wavelength when there is room for all; otherwise round numbers. */
export function ticksFor(wavelengths: readonly number[]) {
  const sorted = [...wavelengths].sort((a, b) => a - b);
  if (sorted.length === 0) return {};
  const range = sorted[sorted.length - 1] - sorted[0];
  const pad = padding(range);
  const ends = { range: [sorted[0] - pad, sorted[sorted.length - 1] + pad] };
  const crowded = sorted.some((nm, i) => i > 0 && nm - sorted[i - 1] < 0.14 * (range + 2 * pad));
  return crowded
    ? { ...ends, nticks: 7 }
    : { ...ends, tickvals: sorted, ticktext: sorted.map((nm) => formatNumber(nm)) };
}
