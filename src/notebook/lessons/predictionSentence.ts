import { formatNumber } from '../../findings/formatNumber.js';

/**
 * What the reader expected beside what came out. A missing prediction is asked for and never
 * blamed; a wrong one is worth more than a right one, so its distance is said.
 *
 * @param options.within how far off still counts as close, in the same unit
 */
export function predictionSentence(options: {
  readonly predicted: number | null;
  readonly was: number;
  readonly within: number;
  /** Written after the numbers: "%", "of 100". */
  readonly unit: string;
  /** Significant digits of what came out (default 3). */
  readonly digits?: number;
}): string {
  const { predicted, was, within, unit, digits = 3 } = options;
  const text = (value: number) => formatNumber(value, { digits, unit });
  if (predicted === null || !Number.isFinite(predicted)) {
    return `No prediction yet, so there is nothing to be surprised at. It is ${text(was)}.`;
  }
  const off = predicted - was;
  const close = Math.abs(off) <= within;
  const distance = formatNumber(Math.abs(off), { digits: 2 });
  return `You predicted ${text(predicted)}; it is ${text(was)}: ${close ? 'close' : `${distance} too ${off > 0 ? 'high' : 'low'}`}.`;
}
