import { formatNumber } from '../../../findings/formatNumber.js';
import type { Exercise } from '../pose.js';

/** A budget with two lines. */
export function averagesExercise(task: {
  readonly s: number;
  readonly laps: number;
  readonly U: number;
  readonly k: number;
}): Exercise {
  const { s, laps, U, k } = task;
  const root = Math.sqrt(laps);
  const [a, b] = [s / root, U / k];
  const right = Math.hypot(a, b);
  const print = (value: number) => formatNumber(value, { digits: 3 });
  return {
    question: [
      `One lap scatters with s = ${s} %; ${laps} laps were taken. The certificate of the reference states U = ${U} % with k = ${k}.`,
      'How large is the standard uncertainty of K, in percent? (No sign needed.)',
    ],
    right,
    unit: '%',
    sign: 'free',
    why: `the laps leave ${print(a)} %, the certificate ${print(b)} %, and independent contributions add as squares.`,
    hints: [
      'first make a standard uncertainty of each of the two lines.',
      'a square for each of the two, their sum, and the root of it.',
    ],
    slips: [
      [a + b, 'the two were added as they are; independent contributions add as squares.'],
      [Math.hypot(a, U), 'U was taken as it stands; it is k standard uncertainties.'],
      [Math.hypot(s, b), 's is for one lap; the mean of several scatters less.'],
      [
        Math.hypot(s, U) / root,
        'U was taken as it stands, and averaged as if it were new in every lap.',
      ],
      [
        Math.hypot(a, b / root),
        'the certificate was averaged with the laps; it is the same in every one of them.',
      ],
      [a, 'the certificate is missing: its error is in every lap alike.'],
      [b, 'the scatter of the laps is missing.'],
      [right ** 2, 'that is the variance; the root is still to be taken.'],
      [k * right, 'that is expanded already, and the question asks for the standard uncertainty.'],
      [
        Math.hypot(s / laps, b),
        'the scatter of a mean falls with the square root of the number of laps.',
      ],
    ],
  };
}
