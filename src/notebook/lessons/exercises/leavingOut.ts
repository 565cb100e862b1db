import { formatNumber } from '../../../findings/formatNumber.js';
import type { Exercise } from '../pose.js';

/** On how many days does at least one lap stick out? */
export function leavingOutExercise({
  laps,
  inside,
}: {
  readonly laps: number;
  readonly inside: number;
}): Exercise {
  const none = inside ** laps;
  const out = 100 * (1 - inside);
  return {
    question: [
      `Days without any fault, ${laps} laps each. Each lap lies within 1.96 standard deviations of the truth with a chance of ${100 * inside} %.`,
      'On how many of a hundred such days does at least one lap lie further off?',
    ],
    right: 100 * (1 - none),
    unit: 'of 100',
    within: 0.02,
    why: `all ${laps} lie within on ${formatNumber(100 * none, { digits: 3 })} of a hundred days, because the chances of laps that know nothing of each other multiply.`,
    hints: [
      'first the chance that all of them lie within.',
      'chances of independent laps multiply.',
    ],
    slips: [
      [out, 'that is the chance of a single lap.'],
      [out * laps, 'the chances were added; that counts days with two such laps twice.'],
      [100 * none, 'those are the days without any.'],
      [
        100 * laps * (1 - inside) * inside ** (laps - 1),
        'those are the days with exactly one such lap.',
      ],
    ],
  };
}
