import { formatNumber } from '../../findings/formatNumber.js';
import { timeToSettle } from '../../settle/missingFraction.js';
import type { Exercise } from '../lessons/pose.js';

/**
 * How long to wait until a thousandth is missing?
 *
 * @param constants_s time constants of the meters, s
 */
export function waitingExercise(constants_s: readonly number[]): Exercise {
  const sorted = [...constants_s].sort((a, b) => a - b);
  const [quick = 1, slow = quick] = [sorted[0], sorted.at(-1)];
  const right = timeToSettle(0.001, slow);
  const named = sorted.map((tau) => `${formatNumber(tau, { digits: 3 })} s`).join(' and ');
  const slips: readonly (readonly [value: number, say: string])[] = [
    [timeToSettle(0.001, quick), 'the slower one decides.'],
    [5 * slow, 'five time constants leave about seven thousandths.'],
    [timeToSettle(0.01, slow), 'that is for a hundredth.'],
    [slow * Math.log10(1000), 'that is the logarithm to ten; it takes the natural one.'],
  ];
  return {
    question: [
      `For a careful comparison no more than a thousandth of the reading may be missing, on either meter, and both are read at the same time after switch-on. Time constants: ${named}.`,
      'After how many seconds at the earliest?',
    ],
    right,
    unit: 's',
    within: 0.03,
    why: `what is missing after t is exp(−t/τ), and a thousandth is left after τ times ln 1000, about ${formatNumber(Math.log(1000), { digits: 2 })} τ, of the slower meter.`,
    hints: ['which of the two decides?', 'what is left after t is exp(−t/τ); solve it for t.'],
    slips: slips.filter(([value]) => Math.abs(value / right - 1) > 0.03),
  };
}
