import { formatNumber } from '../../../findings/formatNumber.js';
import { riskOutside } from '../decision.js';
import type { Exercise } from '../pose.js';

/** The risk of saying "within the tolerance". */
export function coloursExercise(task: {
  readonly difference: number;
  readonly U: number;
  readonly k: number;
  readonly tolerance: number;
}): Exercise {
  const { difference, U, k, tolerance } = task;
  const outside = (u: number) =>
    100 * riskOutside({ value: difference, u, limits: [-tolerance, tolerance] });
  const right = outside(U / k);
  return {
    question: [
      `A meter was found to differ by ${difference} %, with U = ${U} % and k = ${k} (normal distribution). The tolerance is ${tolerance} % to either side.`,
      'Somebody says "within the tolerance". How large is the risk that this is wrong, of 100? One decimal.',
    ],
    right,
    unit: 'of 100',
    within: 0.03,
    why: `the limit is ${formatNumber((tolerance - difference) / (U / k), { digits: 3 })} standard uncertainties away, and that much of a normal distribution lies beyond.`,
    hints: [
      'how many standard uncertainties is it from what was found to the limit?',
      'beyond one standard deviation on one side lie about 16 of 100, beyond two about 2.3.',
    ],
    slips: [
      [100 - right, 'that is how often the statement is right.'],
      [outside(U), 'U was taken for one standard uncertainty; it is k of them.'],
      [2 * right, 'both sides were counted; the other limit is far away.'],
      [5, 'five of a hundred is about the interval; the limit is not where the interval ends.'],
      [2.5, 'that would be if the interval ended at the limit.'],
      [50, 'that would be if what was found lay on the limit.'],
    ],
  };
}
