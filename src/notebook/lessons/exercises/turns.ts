import { residualBias } from '../../../plan/residualBias.js';
import type { Exercise } from '../pose.js';

/** What the source gains or loses from one run to the next, in percent. */
export interface Drift {
  readonly percent_per_run: number;
}

/** Which factor does the plain mean settle on? */
export function turnsExercise(
  task: Drift & { readonly factor: number; readonly laps: number },
): Exercise {
  const { percent_per_run, factor, laps } = task;
  const steps = residualBias('reference-first', laps).linear.value;
  const off = (steps * percent_per_run) / 100;
  const gains = percent_per_run > 0;
  return {
    question: [
      `Another source ${gains ? 'gains' : 'loses'} ${Math.abs(percent_per_run)} % of its power from each run to the next. ${laps} laps, the reference first in each; the true factor is ${factor}.`,
      'Which factor does the plain mean of the laps settle on? Three decimals.',
    ],
    right: factor * Math.exp(-off),
    within: 0.001,
    why: `the candidate comes one run later in every lap and gets ${gains ? 'more' : 'less'}, so reference ÷ candidate comes out one step ${gains ? 'low' : 'high'}.`,
    hints: [
      'does the candidate get more or less than the reference, in every lap?',
      'the candidate stands below the line in K = reference ÷ candidate.',
    ],
    slips: [
      [
        factor,
        'that is the true factor: taking turns was trusted to cancel the drift, and it does not.',
      ],
      [factor * Math.exp(off), 'the step was put on the wrong side: K is reference ÷ candidate.'],
      [
        factor * (1 - (laps * percent_per_run) / 100),
        'the steps of all laps were added up; a mean does not add them.',
      ],
      [
        factor * (1 + (laps * percent_per_run) / 100),
        'the steps of all laps were added up; a mean does not add them.',
      ],
      [
        factor * Math.exp(-off / 2),
        'half a step: that is what remains where the reference is read before and after.',
      ],
    ],
  };
}
