import type { CompleteWishes } from './comparisonWishes.js';
import { exactU, type PlannedU, roughU } from './plannedReading.js';
import { plannedSpread, type SizeOfDesign } from './plannedSpread.js';

/** What a design gives, as far as it can be said before the measurement. Fractions. */
export interface PlannedOutlook extends SizeOfDesign {
  /** Of meeting the wished U of a corrected reading. */
  readonly probability: number;
  /** U of a corrected reading that half of all comparisons come out below. */
  readonly reading_U: number;
  /**
   * The U of a corrected reading that is met with the wanted probability, one standard error of the
   * draws to spare: what this design promises.
   */
  readonly reading_U_promised: number;
  /** U of K that half of all comparisons come out below. */
  readonly factor_U: number;
}

/** Comparisons that are drawn for each design; more where these do not tell whether it keeps the promise. */
const DRAWS = 2000;
const MORE_DRAWS = 10_000;

/**
 * @param draws how many comparisons; left out: 2000, and 10 000 where those come within three standard
 *   errors of the wanted probability
 * @returns `null` when so few runs leave no degree of freedom
 */
export function plannedOutlook(
  wishes: CompleteWishes,
  size: SizeOfDesign,
  draws?: number,
): PlannedOutlook | null {
  if (draws !== undefined) return outlookOf(wishes, size, draws);
  const { probability: p } = wishes;
  const first = outlookOf(wishes, size, DRAWS);
  return first === null || Math.abs(first.probability - p) > 3 * errorOf(p, DRAWS)
    ? first
    : outlookOf(wishes, size, MORE_DRAWS);
}

function outlookOf(
  wishes: CompleteWishes,
  size: SizeOfDesign,
  draws: number,
): PlannedOutlook | null {
  const all = plannedSpread(wishes, size, draws);
  if (all === null) return null;
  const { confidence, wanted } = wishes;
  // Ordered by the quick formula, so that the exact U is needed of a dozen draws and not of all.
  const rough = all.map((parts) => {
    const { factor, reading } = parts();
    return { parts, factor: roughU(factor, confidence), reading: roughU(reading, confidence) };
  });
  const ordered = (what: keyof PlannedU) => {
    const order = rough.toSorted((a, b) => a[what] - b[what]);
    return (place: number) => exactU(order[place].parts(), confidence)[what];
  };
  const reading = ordered('reading');
  const at = (U: (place: number) => number, p: number) => U(Math.ceil(p * draws) - 1);
  return {
    ...size,
    probability: countUpTo(draws, (place) => reading(place) <= wanted) / draws,
    reading_U: at(reading, 0.5),
    reading_U_promised: at(reading, surely(wishes.probability, draws)),
    factor_U: at(ordered('factor'), 0.5),
  };
}

/** How many of `n` places in order pass, when none passes after one that does not. */
function countUpTo(n: number, passes: (place: number) => boolean): number {
  let [low, high] = [0, n];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (passes(middle)) low = middle + 1;
    else high = middle;
  }
  return low;
}

const surely = (p: number, draws: number): number => Math.min(1, p + errorOf(p, draws));

const errorOf = (p: number, draws: number): number => Math.sqrt((p * (1 - p)) / draws);
