/** Which known word somebody most likely meant. */

/** Longer texts are no names, and their slips are not counted. */
const LONGEST = 200;

/**
 * The known word that is nearest to what was typed, or `null` if none is near: the same letters
 * with other punctuation, a shortened form of it part by part (`ref_mW` for `reference_mW`,
 * `tolerance` for `tolerance_percent`), or about one slip of the finger in four letters. Among
 * equals the earliest in `known` wins.
 */
export function didYouMean(typed: string, known: readonly string[]): string | null {
  if (typed.length > LONGEST) return null;
  const word = letters(typed);
  if (word.length < 2) return null;
  const same = known.find((name) => letters(name) === word);
  if (same !== undefined) return same;
  const shortened = known.find((name) => shortens(typed, name));
  if (shortened !== undefined) return shortened;
  let best: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const name of known) {
    const target = letters(name);
    const allowed = Math.max(1, Math.floor(Math.max(word.length, target.length) / 4));
    if (Math.min(word.length, target.length) < 3 || target.length > LONGEST) continue;
    const slips = slipsBetween(word, target);
    if (slips <= allowed && slips < least) {
      best = name;
      least = slips;
    }
  }
  return best;
}

/** The end of a message: ` Did you mean "x"?`, or nothing. */
export function suggestion(typed: string, known: readonly string[]): string {
  const meant = didYouMean(typed, known);
  return meant === null ? '' : ` Did you mean "${meant}"?`;
}

function letters(word: string): string {
  return word
    .toLowerCase()
    .replace(/[µμ]/gu, 'u')
    .replace(/[^\p{L}\p{N}]/gu, '');
}

function shortens(typed: string, name: string): boolean {
  const ours = parts(typed);
  const theirs = parts(name);
  if (ours[0].length < 3 || ours.length > theirs.length) return false;
  return ours.every((part, index) => {
    const other = theirs[index];
    return other.startsWith(part) || part.startsWith(other);
  });
}

function parts(word: string): string[] {
  return word
    .toLowerCase()
    .replace(/[µμ]/gu, 'u')
    .split(/[^\p{L}\p{N}]+/u)
    .filter((part) => part !== '');
}

/** Insertions, deletions, replacements and swaps of neighbours between two words. */
function slipsBetween(from: string, to: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const same = from[row - 1] === to[column - 1];
      let slips = Math.min(
        last[column] + 1,
        current[column - 1] + 1,
        last[column - 1] + (same ? 0 : 1),
      );
      const swapped =
        row > 1 &&
        column > 1 &&
        from[row - 1] === to[column - 2] &&
        from[row - 2] === to[column - 1];
      if (swapped) slips = Math.min(slips, beforeLast[column - 2] + 1);
      current.push(slips);
    }
    beforeLast = last;
    last = current;
  }
  return last[to.length];
}
