import { formatNumber } from '../../findings/formatNumber.js';
import type { Factors } from '../../vocabulary.js';
import type { Exercise } from '../lessons/pose.js';
import { changeParts } from '../rows/changePartsRows.js';

const inPercent = (fraction: number) => `${formatNumber(100 * fraction, { digits: 4 })} %`;

/**
 * How uncertain is the change of a factor?
 *
 * @throws argument-wrong as `changeParts`
 */
export function changeExercise(then: Factors, now: Factors): Exercise {
  const [{ found, u_then, u_now, shared, u_in_full, u_change }] = changeParts(then, now);
  return {
    question: [
      `The two evenings at ${found.wavelength_nm} nm: u then ${inPercent(u_then)}, u now ${inPercent(u_now)}; of each, the reference makes ${inPercent(shared)}.`,
      'How large is the standard uncertainty of the change, in percent? (No sign needed.)',
    ],
    right: 100 * u_change,
    unit: '%',
    sign: 'free',
    why: 'the error of the reference is one error and drops out of both; what is left of each adds as squares.',
    hints: [
      'take the reference out of both, as squares.',
      'then add what is left of both, as squares.',
    ],
    slips: [
      [100 * u_in_full, 'that counts the reference twice, and it cancels.'],
      [
        100 * Math.sqrt(u_then ** 2 + u_now ** 2 - shared ** 2),
        'the reference is in both: out of both.',
      ],
      [100 * (u_then + u_now), 'uncertainties add as squares.'],
      [100 * Math.abs(u_now - u_then), 'uncertainties never subtract to a change.'],
    ],
  };
}
