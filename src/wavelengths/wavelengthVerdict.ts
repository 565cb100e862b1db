/** What follows for a wavelength: level by level, and for a single reading. */

import { formatNumber, percent } from '../findings/formatNumber.js';
import { sentences } from '../statistics/sentences.js';
import { type WavelengthJudgement, wavelengthVerdict } from '../verdict/tolerance.js';
import type { FactorLevel, WavelengthVerdict } from '../vocabulary.js';
import type { Answer } from './wavelengthLevels.js';

export interface Deciding {
  readonly tolerance: number;
  /** Half-width of the interval of ln K for one reading, computed where it decides: placement and scatter of its own included. */
  readonly oneReading: () => number;
  /** U of a reading corrected on another day, its own scatter and display step aside, a fraction. */
  readonly onAnotherDay: number;
  /** Whether the study says how much re-seating a head moves K. */
  readonly placementStated: boolean;
}

/** The worst comes first: one level that cannot be told leaves the wavelength open. */
const WORST_FIRST: readonly WavelengthVerdict[] = [
  'inconclusive',
  'correct-it',
  'not-shown',
  'within-tolerance',
];

/**
 * Every level of power is judged by its own factor; the wavelength takes the worst. `within-tolerance`
 * is decided for a single reading, whose placement and scatter are its own, and not for the mean K.
 */
export function verdictOf(answer: Answer, deciding: Deciding): WavelengthJudgement {
  const { tolerance, oneReading } = deciding;
  const wider = () => Math.max(1, oneReading() / Math.max(answer.leastKnown.half, 1e-12));
  const judged = answer.levels.map((level) => {
    const { factor, low, high } = level;
    const input = { factor, low, high, tolerance, spread: answer.contradiction };
    const byMean = wavelengthVerdict(input);
    const found =
      byMean.verdict === 'within-tolerance'
        ? wavelengthVerdict({ ...input, ...readingInterval(level, wider()) })
        : byMean;
    return { level, ...found };
  });
  const verdict = WORST_FIRST.find((one) => judged.some((found) => found.verdict === one));
  if (verdict === undefined) return { verdict: 'inconclusive', why: 'There is no level.' };
  const worst = judged.filter((found) => found.verdict === verdict);
  const where = ({ level }: (typeof judged)[number]) =>
    judged.length === 1 ? '' : `Where the candidate shows ${powers(level.candidate_mW)}: `;
  const rest =
    worst.length === judged.length
      ? ''
      : ' The other levels stand in the table by power, each with its own K.';
  return {
    verdict,
    why: sentences([
      `${worst.map((one) => `${where(one)}${one.why}`).join(' ')}${rest}`,
      useWords(verdict, deciding),
      placementWords(answer, deciding),
    ]),
  };
}

function readingInterval({ factor, low, high }: FactorLevel, wider: number) {
  const half = (Math.log(high / low) / 2) * wider;
  return { readingLow: factor * Math.exp(-half), readingHigh: factor * Math.exp(half) };
}

/** Indications of the candidate, "55 to 56 mW". */
export function powers(range: FactorLevel['candidate_mW']): string {
  const ends = range.map((end) => formatNumber(end));
  return `${[...new Set(ends)].join(' to ')} mW`;
}

function useWords(verdict: WavelengthVerdict, { onAnotherDay, tolerance }: Deciding): string {
  if (verdict === 'inconclusive' || verdict === 'within-tolerance') return '';
  const known = `A reading corrected on another day, with the head put up again, is known to ± ${percent(onAnotherDay)}, its own scatter and display step aside`;
  return onAnotherDay > tolerance
    ? `${known}: more than the tolerance, so put the head up several times and correct the mean.`
    : `${known}.`;
}

/** One series at a power cannot show what putting the heads up again does, and two hardly can. */
function placementWords(answer: Answer, { placementStated }: Deciding): string {
  const most = Math.max(...answer.levels.map((level) => level.series.length));
  if (placementStated || most > 2) return '';
  if (most === 2) {
    return `Two series show only roughly what putting the heads up again does to K; a standard deviation of ${percent(answer.next.sd)} is reckoned with. If yours move more, U is too small: state it as between_series_percent, or take a third series.`;
  }
  return `What putting the heads up again does to K cannot be seen in one series; a standard deviation of ${percent(answer.next.sd)} is assumed. If yours move more, U is too small: take a second series with both heads taken out and put back.`;
}
