/** The parts of the stacked bars: which contributions are drawn, in one order for all wavelengths. */
import type { Result, WavelengthResult } from '../vocabulary.js';

/** A contribution below this share at every wavelength has no length that anybody could see. */
const SEEN = 0.03;
/** What is left is drawn from this share on. */
const SEEN_REST = 0.005;

export const REST = 'all others together';

export interface BudgetPart {
  readonly name: string;
  /** Share of the variance at each wavelength of the list, 0 where it plays no part. */
  readonly shares: readonly number[];
}

/**
 * Contributions with a share of 3 % and more at some wavelength, the largest first, then the others
 * together: the parts of each wavelength add up to its variance, what is not drawn aside.
 */
export function budgetParts(shown: readonly WavelengthResult[]): readonly BudgetPart[] {
  const names = [...new Set(shown.flatMap((one) => one.budget.map((part) => part.name)))];
  const shareOf = (one: WavelengthResult, name: string) =>
    one.budget.filter((part) => part.name === name).reduce((sum, part) => sum + part.share, 0);
  const all = names.map((name) => ({ name, shares: shown.map((one) => shareOf(one, name)) }));
  const isSeen = (part: BudgetPart) => Math.max(...part.shares) >= SEEN;
  const total = (part: BudgetPart) => part.shares.reduce((sum, share) => sum + share, 0);
  const seen = all.filter(isSeen).sort((a, b) => total(b) - total(a));
  const small = all.filter((part) => !isSeen(part));
  const rest = shown.map((_, i) => small.reduce((sum, part) => sum + part.shares[i], 0));
  const restPart = { name: REST, shares: rest.map((share) => (share >= SEEN_REST ? share : 0)) };
  return Math.max(0, ...restPart.shares) > 0 ? [...seen, restPart] : seen;
}

export function budgeted(result: Pick<Result, 'wavelengths'>): readonly WavelengthResult[] {
  return result.wavelengths.filter(
    (one) => one.budget.length > 0 && one.relative_expanded_uncertainty !== null,
  );
}
