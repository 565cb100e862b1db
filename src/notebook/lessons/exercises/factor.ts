import { formatNumber } from '../../../findings/formatNumber.js';
import { factorOf } from '../pairs.js';
import type { Exercise } from '../pose.js';

/** By how many percent must the candidate's readings be changed? */
export function factorExercise({ difference }: { readonly difference: number }): Exercise {
  const K = factorOf(difference);
  const more = difference > 0;
  return {
    question: [
      `Over many laps a candidate shows ${Math.abs(difference)} % ${more ? 'more' : 'less'} than the reference.`,
      'By how many percent do its readings have to be changed? With the sign: plus for more, minus for less. Two decimals.',
    ],
    right: 100 * (K - 1),
    unit: '%',
    within: 0.005,
    why: `K = 1 ÷ ${formatNumber(1 + difference / 100)} = ${formatNumber(K)}, and the percents of the change are of the candidate's reading, not of the reference's.`,
    hints: [
      'take a beam of a hundred mW: what does the candidate show, and what has to be done to that number?',
      'K is reference ÷ candidate; the change is K less one.',
    ],
    slips: [
      [
        -difference,
        `${Math.abs(difference)} % of the reference was taken for ${Math.abs(difference)} % of the candidate's reading.`,
      ],
      [difference, 'that is the difference itself; the readings have to go the other way.'],
      [100 * K, 'that is the factor in percent; how much is the change?'],
      [K, 'that is the factor; how much is the change, in percent?'],
      [100 * Math.log(K), 'that is the logarithm of the factor; the question asks for percent.'],
    ],
  };
}
