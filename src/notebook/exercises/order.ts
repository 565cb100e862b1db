import { residualBias } from '../../plan/residualBias.js';
import type { Drift } from '../lessons/exercises/turns.js';
import type { Exercise } from '../lessons/pose.js';

/** What does the drift leave in the mean difference, with the candidate first in every lap? */
export function orderExercise(task: Drift & { readonly laps: number }): Exercise {
  const { percent_per_run: drift, laps } = task;
  const right = drift * residualBias('candidate-first', laps).linear.value;
  return {
    question: [
      `Somebody turns the order round, candidate first in each of ${laps} laps, and still believes that taking turns cancels the drift. The source ${drift < 0 ? 'loses' : 'gains'} ${Math.abs(drift)} % from each run to the next.`,
      'What does the plain mean of candidate − reference get from the drift, in percent? With its sign.',
    ],
    right,
    unit: '%',
    why: `in every lap the candidate comes one run earlier and sees ${drift < 0 ? 'more' : 'less'} light, by one step.`,
    hints: [
      'which meter sees the stronger light, in every single lap?',
      'by how many runs are the two readings of a lap apart?',
    ],
    slips: [
      [0, 'taking turns does not cancel it, however many laps.'],
      [-right, 'the size is right; mind which meter goes first.'],
      [right * laps, 'a mean does not add up: every lap has the same step.'],
    ],
  };
}
