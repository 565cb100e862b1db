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
    slips: [
      { value: timeToSettle(0.001, quick), say: 'the slower one decides.' },
      { value: 5 * slow, say: 'five time constants leave about seven thousandths.' },
      { value: timeToSettle(0.01, slow), say: 'that is for a hundredth.' },
      {
        value: slow * Math.log10(1000),
        say: 'that is the logarithm to ten; it takes the natural one.',
      },
    ].filter(({ value }) => Math.abs(value / right - 1) > 0.03),
  };
}
