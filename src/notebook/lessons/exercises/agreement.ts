import { formatNumber } from '../../../findings/formatNumber.js';
import type { Exercise } from '../pose.js';

/** Both limits of agreement from a mean and a standard deviation. */
export function agreementExercise(task: {
  readonly mean: number;
  readonly sd: number;
  readonly pairs: number;
}): Exercise {
  const { mean: centre, sd, pairs } = task;
  const around = (at: number, half: number): readonly [number, number] => [at - half, at + half];
  const sem = sd / Math.sqrt(pairs);
  return {
    question: [
      `${pairs} sources, one pair of readings each. Candidate − reference: mean ${formatNumber(centre)} %, standard deviation ${sd} %.`,
      'From where to where do the limits of agreement reach, in percent? With their signs.',
    ],
    right: around(centre, 1.96 * sd),
    unit: '%',
    within: 0.02,
    why: 'most single differences lie within about two of their standard deviations around their mean, and the number of pairs does not narrow that.',
    hints: [
      'they are about single differences: where do most of them lie?',
      'around the mean, by 1.96 standard deviations to either side.',
    ],
    slips: [
      [
        around(centre, 1.96 * sem),
        'that is where the mean may lie; limits are about single differences.',
      ],
      [around(0, 1.96 * sd), 'that is around zero; the limits lie around the mean difference.'],
      [around(centre, sd), 'one standard deviation to either side holds only about two of three.'],
      [
        around(-centre, 1.96 * sd),
        'the mean was taken with the other sign: candidate − reference.',
      ],
      [centre - 1.96 * sd, 'that is the lower one alone; the question asks for both.'],
      [centre + 1.96 * sd, 'that is the upper one alone; the question asks for both.'],
    ],
  };
}
