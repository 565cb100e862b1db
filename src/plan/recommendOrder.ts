import { requireOptions } from '../statistics/options.js';
import { LEAST_LAPS, type RunOrder } from '../vocabulary.js';
import { requireLaps, wholeBlocks } from './runOrder.js';

export interface OrderRecommendation {
  readonly order: RunOrder;
  /** Laps, `LEAST_LAPS` at least, rounded up to whole blocks of that order. */
  readonly laps: number;
  readonly reason: string;
}

/**
 * In which order should the runs go?
 *
 * @param options.laps laps meant to be done
 * @param options.drift what the source is known to do: `none` only where it was seen to hold still
 * @throws argument-wrong for laps that are not a whole number of at least 1
 */
export function recommendOrder(options: {
  readonly laps: number;
  readonly drift: 'none' | 'steady' | 'curving' | 'unknown';
}): OrderRecommendation {
  const drifts = ['none', 'steady', 'curving', 'unknown'];
  const { drift } = requireOptions(options, { laps: true, drift: drifts });
  requireLaps(options.laps);
  const laps = Math.max(LEAST_LAPS, options.laps);
  if (drift === 'none') {
    return {
      order: 'reference-first',
      laps,
      reason:
        'The source holds still, so the simplest order will do: reference, candidate, and so on. Should it drift after all, the plain mean is off by one step of the drift.',
    };
  }
  if (drift === 'steady') {
    const whole = wholeBlocks('ABBA', laps);
    return {
      order: 'ABBA',
      laps: whole,
      reason: `ABBA in ${whole} laps cancels a steady drift; plain alternation would keep one step of it however long it goes on.`,
    };
  }
  const whole = wholeBlocks('ABBA-BAAB', laps);
  return {
    order: 'ABBA-BAAB',
    laps: whole,
    reason: `ABBA BAAB in ${whole} laps cancels a steady drift and a curving one, such as a laser that warms up.`,
  };
}
