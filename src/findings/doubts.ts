/** Reasons for doubt, and the one next step worth most: what a reader has to know before acting. */
import { groupedBy } from '../statistics/groupedBy.js';
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import { formatNumber, formatRelative } from './formatNumber.js';
import { factorWarnings, warningTexts } from './warningRank.js';
import { isBeyondTolerance, isSettled, referenceOnly } from './words.js';

const nm = (one: WavelengthResult): string => `${formatNumber(one.wavelength_nm)} nm`;

/** Entries that look like slips, contradictions, what is not in the budget: the worst first. */
export function doubts(result: Result, study?: Study): readonly string[] {
  const relative = study === undefined ? null : referenceOnly(study);
  return [
    ...suspectTexts(result),
    ...untold(result, 'all'),
    ...(relative === null ? [] : [relative]),
    ...warningTexts(factorWarnings(result)),
    ...scattered(result),
    ...notInBudget(result),
  ];
}

/** Entries that look like slips of the pen. */
export function suspectTexts({ suspects }: Result): readonly string[] {
  return suspects.map((one) => `Look at this entry again. ${one.message} ${one.why}`);
}

/**
 * Wavelengths without a factor: their width where that is all, else what has to be settled first.
 *
 * @param which `blocked`: only those that something else keeps open than their width
 */
export function untold(
  { wavelengths, suspects }: Result,
  which: 'all' | 'blocked',
): readonly string[] {
  return wavelengths
    .filter((one) => !isSettled(one))
    .flatMap((one) => {
      const U = one.relative_expanded_uncertainty;
      const head = `${nm(one)}: this data cannot tell you a factor`;
      // The entry itself is told just before, with what to do about it.
      const open = suspects.some(({ series }) => one.series.includes(series));
      if (open) return [`${head} while such an entry is open.`];
      if (one.improvement === null || U === null) return [`${head}. ${one.why}`];
      return which === 'all'
        ? [`${head}, because it is known only to ± ${formatRelative(U)} %.`]
        : [];
    });
}

/** Factors that serve as a mean and not for a single reading. */
export function scattered(result: Result): readonly string[] {
  const wide = result.wavelengths.filter(
    (one) => isSettled(one) && isBeyondTolerance(one, result.tolerance_percent),
  );
  return wide.length === 0
    ? []
    : [
        `${wide.map((one) => `${nm(one)} (± ${formatRelative(one.corrected_reading_relative_U)} %)`).join(', ')}: one corrected reading may be off by more than the tolerance. Put the head up several times and correct the mean.`,
      ];
}

/** What no budget holds, once for all wavelengths that lack the same. */
export function unknownParts({ wavelengths }: Result): readonly string[] {
  const lacking = groupedBy(
    wavelengths.flatMap((one) => one.not_in_budget.map((what) => [what, one] as const)),
  );
  const all = wavelengths.filter((one) => one.budget.length > 0).length;
  return [...lacking].map(([what, at]) =>
    at.length === all ? what : `${what} (${at.map(nm).join(', ')})`,
  );
}

function notInBudget(result: Result): readonly string[] {
  const parts = unknownParts(result);
  return parts.length === 0
    ? []
    : [`In no budget, so every U may be too small: ${parts.join('; ')}.`];
}

/** The one step worth most, in the order in which one thing waits for another. */
export function nextStep(result: Result): string {
  const rows = [...new Set(result.suspects.flatMap((one) => one.rows))];
  if (rows.length > 0) {
    return `Compare ${rows.length === 1 ? 'row' : 'rows'} ${rows.join(', ')} of runs.csv with what was written down at the bench: mend the entry, leave it out with a reason, or mark it checked.`;
  }
  const open = result.wavelengths.filter((one) => !isSettled(one));
  const blocked = open.find((one) => one.improvement === null);
  if (blocked !== undefined) return `${nm(blocked)}: ${blocked.next_step}`;
  const [nearest] = [...open].sort((a, b) => widthOf(a) - widthOf(b));
  if (nearest !== undefined) return `${nm(nearest)}: ${nearest.improvement}`;
  const [widest] = [...result.wavelengths].sort((a, b) => widthOf(b) - widthOf(a));
  return widest === undefined
    ? 'Take a series with both meters.'
    : `${nm(widest)}, the least known: ${widest.improvement}`;
}

const widthOf = (one: WavelengthResult): number => one.relative_expanded_uncertainty ?? Infinity;
