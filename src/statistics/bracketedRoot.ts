/** Relative width of the bracket, or size of a step, at which the search ends. */
const CLOSE = 1e-15;
const MOST = 200;

/**
 * The place between `a` and `b` where f is zero, by the secant through both ends; an end that stays
 * put twice counts half, so that both close in.
 *
 * @param f continuous, of different signs at `a` and `b`; where rounding leaves it none, the end nearer
 *   to zero is the answer
 *
 * Source: Dowell and Jarratt, BIT 11 (1971) 168 (the Illinois algorithm).
 */
export function bracketedRoot(f: (x: number) => number, a: number, b: number): number {
  let [from, to] = [a, b];
  let [atFrom, atTo] = [f(a), f(b)];
  if (atFrom * atTo >= 0) return Math.abs(atFrom) < Math.abs(atTo) ? a : b;
  for (let i = 0; i < MOST && atTo !== 0; i++) {
    const next = to - (atTo * (to - from)) / (atTo - atFrom);
    if (Math.abs(next - to) <= CLOSE * Math.abs(to)) break;
    const atNext = f(next);
    if (atNext * atTo > 0) atFrom /= 2;
    else [from, atFrom] = [to, atTo];
    [to, atTo] = [next, atNext];
  }
  return to;
}
