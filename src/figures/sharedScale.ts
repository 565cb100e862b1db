/** One scale for several things of which a few may reach far beyond the others. */
import { formatNumber } from '../findings/formatNumber.js';

/**
 * Range that shows every value of `core` in full and gives way to the others as far as that does not
 * flatten the core. What lies beyond is drawn at the edge and says so.
 *
 * @param givesWay how far it gives way on either side, in widths of the core
 */
export function sharedRange(
  core: readonly number[],
  others: readonly number[] = [],
  givesWay = 1.5,
): [low: number, high: number] {
  const must = core.length > 0 ? core : others;
  if (must.length === 0) return [-1, 1];
  const [low, high] = [Math.min(...must), Math.max(...must)];
  const span = high - low || Math.abs(high) || 1;
  const from = Math.max(low - givesWay * span, Math.min(low, ...others));
  const to = Math.min(high + givesWay * span, Math.max(high, ...others));
  const pad = 0.05 * (to - from || span);
  return [from - pad, to + pad];
}

export interface Placed {
  /** Where it is drawn. */
  readonly at: number;
  /** On which side it lies beyond the scale; `null`: it is on it. */
  readonly beyond: 'low' | 'high' | null;
}

/** A value on a scale, or `inset` of its length from its edge. */
export function placed(
  value: number,
  [low, high]: readonly [number, number],
  inset = 0.05,
): Placed {
  const edge = inset * (high - low);
  if (value < low) return { at: low + edge, beyond: 'low' };
  if (value > high) return { at: high - edge, beyond: 'high' };
  return { at: value, beyond: null };
}

/** Points to where a value lies beyond an upright scale. */
export const upOrDown = ({ beyond }: Pick<Placed, 'beyond'>) =>
  beyond === 'low' ? 'triangle-down' : 'triangle-up';

/** Ticks of a logarithmic axis in `unit`-less numbers, at round values that fit. */
export function logAxis(low: number, high: number) {
  const decades = Math.log10(high / low);
  const steps = decades > 3 ? [1] : decades > 1.2 ? [1, 3] : [1, 2, 5];
  const from = Math.floor(Math.log10(low));
  const count = Math.ceil(Math.log10(high)) - from + 1;
  const ticks = Array.from({ length: count }, (_, i) => from + i)
    .flatMap((power) => steps.map((step) => Number(`${step}e${power}`)))
    .filter((tick) => tick >= low && tick <= high);
  return {
    type: 'log' as const,
    range: [Math.log10(low), Math.log10(high)],
    tickvals: ticks,
    ticktext: ticks.map((tick) => formatNumber(tick)),
  };
}
