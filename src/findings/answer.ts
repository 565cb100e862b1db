/** The answer: what to multiply by at each wavelength and power, how sure that is, what it means. */
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import { type Cell, type Finding, finding, numbers, WAVELENGTH, words } from './finding.js';
import { confidenceWords, direction, isSettled, rangeWords, VERDICT_WORDS } from './words.js';

/** One row a level of power, and one for each wavelength that the data cannot tell. */
export function answer(result: Result, study?: Study): Finding {
  return finding({
    id: 'answer',
    title: `Multiply a reading of ${result.candidate} by`,
    columns: [
      WAVELENGTH,
      numbers('power', 'It shows', 'mW'),
      numbers('value', 'Multiply by'),
      numbers('fraction', '± U', '%'),
      numbers('fraction', 'Reading ±', '%'),
      words('Verdict'),
    ],
    rows: result.wavelengths.flatMap(rows),
    notes: [
      `${direction(result, study)} U is that of the factor, for ${confidenceWords(result.confidence)} confidence; reading: that of one corrected reading with the head put up again on another day, its own scatter and display step aside.`,
    ],
    empty: 'There is no wavelength with a comparison.',
  });
}

function rows(one: WavelengthResult): readonly (readonly Cell[])[] {
  const verdict = VERDICT_WORDS[one.verdict];
  if (!isSettled(one)) return [[one.wavelength_nm, null, null, null, null, verdict]];
  return one.levels.map(({ factor, high, candidate_mW }): readonly Cell[] => [
    one.wavelength_nm,
    rangeWords(candidate_mW),
    { value: factor, U: high - factor },
    // The larger distance of both ends of the interval, so that ± promises no more than it.
    high / factor - 1,
    one.corrected_reading_relative_U,
    verdict,
  ]);
}
