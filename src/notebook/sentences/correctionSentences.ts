import { MeterpairError } from '../../error.js';
import { correct } from '../../factors/correct.js';
import type { NewReading } from '../../factors/newReading.js';
import type { Factors } from '../../vocabulary.js';

/** Whoever holds a corrected reading stands next to a laser. */
const BEFORE_ACTING: readonly string[] = [
  'Never lower a class, remove a label or choose weaker eyewear because of a corrected reading: cold starts, other units and infrared that no filter separated are not in it unless they were measured.',
  'Never look into the beam or at its reflection; end it on a matt beam stop.',
];

/** What has to be read before corrected readings are used; each caution once, with its readings. */
export function correctionSentences(
  factors: Factors,
  readings: readonly NewReading[],
): readonly string[] {
  const about = new Map<string, string[]>();
  for (const reading of readings) {
    for (const message of messages(factors, reading)) {
      const name = `${reading.reading_mW} mW at ${reading.wavelength_nm} nm`;
      about.set(message, [...(about.get(message) ?? []), name]);
    }
  }
  return [
    ...[...about].map(([message, names]) =>
      names.length === readings.length && names.length > 1
        ? message
        : `${names.join(', ')}: ${message}`,
    ),
    ...factors.cautions,
    ...BEFORE_ACTING,
  ];
}

function messages(factors: Factors, reading: NewReading): readonly string[] {
  try {
    return correct(factors, reading).cautions.map((caution) => caution.message);
  } catch (error) {
    if (error instanceof MeterpairError) return [`Refused. ${error.message}`];
    throw error;
  }
}
