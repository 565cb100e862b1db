import { correct } from '../../factors/correct.js';
import { formatNumber } from '../../findings/formatNumber.js';
import type { Factors } from '../../vocabulary.js';
import type { Exercise } from '../lessons/pose.js';

/**
 * Up to which power does a new reading have to be reckoned with? The reading is the strongest at which the
 * first factor was measured.
 *
 * @throws as `correct`
 */
export function upperEndExercise(factors: Factors): Exercise {
  const [entry] = factors.factors;
  const reading_mW = entry.candidate_range_mW[1];
  const { value, U, low, high, factor } = correct(factors, {
    reading_mW,
    wavelength_nm: entry.wavelength_nm,
  });
  return {
    question: [
      `The candidate shows ${formatNumber(reading_mW)} mW at ${formatNumber(entry.wavelength_nm)} nm.`,
      'Up to which power has to be reckoned with: what is the upper end of the interval, in mW?',
    ],
    right: high,
    unit: 'mW',
    within: 0.005,
    why: 'K times the reading is the middle, and the interval of a reading reaches above it by U.',
    hints: [
      'multiply by K, then go up.',
      'how far up: a neighbouring reading of that wavelength has an interval in the table, and its ends go in proportion.',
    ],
    slips: [
      [value, 'that is the middle; half of the doubt lies above it.'],
      [low, 'that is the lower end, and the wrong one to be safe with.'],
      [value - U, 'that is the lower end, and the wrong one to be safe with.'],
      [reading_mW / factor, 'the reading is multiplied by K, not divided.'],
      [reading_mW, 'that is the reading as the candidate shows it.'],
    ],
  };
}
