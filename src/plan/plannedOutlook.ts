import type { CompleteWishes } from './comparisonWishes.js';
import { plannedSpread, type SizeOfDesign } from './plannedSpread.js';

/** What a design gives, as far as it can be said before the measurement. Fractions. */
export interface PlannedOutlook extends SizeOfDesign {
  /** Of meeting the wished U of a corrected reading. */
  readonly probability: number;
  /** U of a corrected reading that half of all comparisons come out below. */
  readonly reading_U: number;
  /**
   * The U of a corrected reading that is met with the wanted probability, two standard errors of the
   * draws to spare: what this design promises.
   */
  readonly reading_U_promised: number;
  /** U of K that half of all comparisons come out below. */
  readonly factor_U: number;
}

/** Comparisons that are drawn for each design. */
const DRAWS = 2000;

/** @returns `null` when so few runs leave no degree of freedom */
export function plannedOutlook(
  wishes: CompleteWishes,
  size: SizeOfDesign,
  draws = DRAWS,
): PlannedOutlook | null {
  const all = plannedSpread(wishes, size, draws);
  if (all === null) return null;
  const reading = all.map((one) => one.reading).sort((a, b) => a - b);
  const factor = all.map((one) => one.factor).sort((a, b) => a - b);
  const at = (sorted: readonly number[], p: number) => sorted[Math.ceil(p * draws) - 1];
  return {
    ...size,
    probability: reading.filter((U) => U <= wishes.wanted).length / draws,
    reading_U: at(reading, 0.5),
    reading_U_promised: at(reading, surely(wishes.probability, draws)),
    factor_U: at(factor, 0.5),
  };
}

const surely = (p: number, draws: number): number =>
  Math.min(1, p + 2 * Math.sqrt((p * (1 - p)) / draws));
