/**
 * The upper tail Q(x) = P(X > x) of a symmetric distribution, kept as Chebyshev polynomials on
 * pieces of the half-line x ≥ 0. Fast to evaluate and exact to integrate. A piece is made when it is
 * first asked for: an interval needs few of them.
 */

/** Degree of the polynomial on every piece. */
const DEGREE = 10;
const SIZE = DEGREE + 1;
/** The last coefficients of a piece must be below this, or the piece is halved. */
const TOLERANCE = 5e-9;
/** So far beyond the tolerance a piece is halved in a table of nearly the same function as well. */
const CLEARLY = 10;
/** A piece is halved at most so often: a feature narrower than 2⁻⁵⁰ of its piece has no weight. */
const DEEPEST = 50;

export interface ChebyshevTail {
  /** First division of the range, ascending, the first one 0. */
  readonly breaks: readonly number[];
  /** One to each step from break to break. */
  readonly pieces: readonly Piece[];
  /** Beyond the last break Q falls as x to minus this; `Infinity`: Q is zero there. */
  readonly decay: number;
}

/** What is known of a piece: nothing at first, then its polynomial or its halves. */
interface Piece {
  readonly tail: (x: number) => number;
  readonly low: number;
  readonly high: number;
  readonly depth: number;
  /** The same place in a table of nearly the same function. */
  readonly like: Piece | null;
  known: Polynomial | Halves | null;
}

interface Halves {
  readonly left: Piece;
  readonly right: Piece;
  /** What the last coefficients of one polynomial for both came to. */
  readonly rest: number;
}

interface Polynomial {
  /** Coefficients of Q. */
  readonly values: readonly number[];
  /** Coefficients of the integral of Q from the left end of the piece. */
  readonly integral: readonly number[];
  /** Integral of Q over the piece. */
  readonly whole: number;
}

/** Extrema of the Chebyshev polynomial on [−1, 1], from 1 down to −1. */
const points = Float64Array.from({ length: SIZE }, (_, i) => Math.cos((Math.PI * i) / DEGREE));
/** Row k gives coefficient k from the values at `points` (discrete cosine transform). */
const transform = Float64Array.from({ length: SIZE * SIZE }, (_, at) => {
  const [k, i] = [Math.floor(at / SIZE), at % SIZE];
  const ends = (k === 0 || k === DEGREE ? 0.5 : 1) * (i === 0 || i === DEGREE ? 0.5 : 1);
  return (2 / DEGREE) * ends * Math.cos((Math.PI * k * i) / DEGREE);
});

/**
 * Pieces on which `tail` is a polynomial to about 1e-8, found by halving.
 *
 * @param tail Q at x ≥ 0: falling, from at most 1 to 0
 * @param breaks first division of the range, ascending, beginning at 0
 * @param like a table of nearly the same function: where a piece of it had to be halved by far, the piece
 *   here is halved unseen
 *
 * Source: Trefethen, Approximation Theory and Approximation Practice (2013), chapters 3 and 19.
 */
export function chebyshevTail(
  tail: (x: number) => number,
  breaks: readonly number[],
  decay: number,
  like: ChebyshevTail | null = null,
): ChebyshevTail {
  const earlier = like?.breaks.length === breaks.length ? like.pieces : [];
  const pieces = breaks
    .slice(1)
    .map((high, i) => pieceOf(tail, breaks[i], high, 0, earlier[i] ?? null));
  return { breaks, pieces, decay };
}

const pieceOf = (
  tail: (x: number) => number,
  low: number,
  high: number,
  depth: number,
  like: Piece | null,
): Piece => ({ tail, low, high, depth, like, known: null });

/** What a piece is made of, found out where nobody has asked before. */
function opened(piece: Piece): Polynomial | Halves {
  piece.known ??= halvedUnseen(piece) ?? fitted(piece);
  return piece.known;
}

function halvedUnseen(piece: Piece): Halves | null {
  if (piece.like === null) return null;
  const there = opened(piece.like);
  return 'rest' in there && there.rest > CLEARLY * TOLERANCE
    ? halves(piece, there.rest, there)
    : null;
}

function halves(piece: Piece, rest: number, like: Halves | null): Halves {
  const { tail, low, high, depth } = piece;
  const middle = (low + high) / 2;
  return {
    left: pieceOf(tail, low, middle, depth + 1, like?.left ?? null),
    right: pieceOf(tail, middle, high, depth + 1, like?.right ?? null),
    rest,
  };
}

function fitted(piece: Piece): Polynomial | Halves {
  const { tail, low, high, depth } = piece;
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  const values = new Array<number>(SIZE);
  for (let i = 0; i < SIZE; i++) values[i] = tail(middle + half * points[i]);
  const found = new Array<number>(SIZE);
  let rest = 0;
  // The last coefficients decide, so they come first.
  for (let k = DEGREE; k >= 0; k--) {
    let sum = 0;
    for (let i = 0; i < SIZE; i++) sum += transform[k * SIZE + i] * values[i];
    found[k] = sum;
    if (k < DEGREE - 2) continue;
    rest += Math.abs(sum);
    if (rest > TOLERANCE && depth < DEEPEST && k === DEGREE - 2) return halves(piece, rest, null);
  }
  return polynomial(found, half);
}

/** The integral of Σ cₖ Tₖ has the coefficients (cₖ₋₁ − cₖ₊₁) / 2k. */
function polynomial(values: readonly number[], half: number): Polynomial {
  const integral = new Array<number>(SIZE + 1);
  const c = (k: number) => (k > DEGREE ? 0 : values[k]);
  let atLeft = 0;
  let atRight = 0;
  for (let k = 1; k <= SIZE; k++) {
    const b = (half * ((k === 1 ? 2 : 1) * c(k - 1) - c(k + 1))) / (2 * k);
    integral[k] = b;
    atLeft += k % 2 === 0 ? b : -b;
    atRight += b;
  }
  integral[0] = -atLeft;
  return { values, integral, whole: atRight - atLeft };
}

/** Q(x) for any x; Q(−x) = 1 − Q(x). */
export function tailAt(of: ChebyshevTail, x: number): number {
  if (x < 0) return 1 - tailAt(of, -x);
  const { breaks, pieces } = of;
  const end = breaks[breaks.length - 1];
  if (x > end) {
    return Number.isFinite(of.decay) ? tailAt(of, end) * (end / x) ** of.decay : 0;
  }
  let at = 0;
  while (at < pieces.length - 1 && breaks[at + 1] <= x) at++;
  let piece = pieces[at];
  for (;;) {
    const known = opened(piece);
    if ('whole' in known) return clenshaw(known.values, place(piece, x));
    piece = x < known.left.high ? known.left : known.right;
  }
}

/**
 * Integral of Q from `from` to `to`, `from` ≤ `to`, each of any sign. Beyond the last break, where Q
 * is below 1e-9, nothing is added.
 */
export function tailIntegral(of: ChebyshevTail, from: number, to: number): number {
  // Q(−x) = 1 − Q(x): what lies on both sides of zero is 1 altogether.
  if (to < 0) return to - from - tailIntegral(of, -to, -from);
  if (from < 0) {
    return -from <= to ? -from + tailIntegral(of, -from, to) : -from - tailIntegral(of, to, -from);
  }
  let sum = 0;
  for (const piece of of.pieces) sum += within(piece, from, to);
  return sum;
}

function within(piece: Piece, from: number, to: number): number {
  if (piece.high <= from || piece.low >= to) return 0;
  const known = opened(piece);
  if (!('whole' in known)) return within(known.left, from, to) + within(known.right, from, to);
  const upTo = piece.high <= to ? known.whole : clenshaw(known.integral, place(piece, to));
  return piece.low >= from ? upTo : upTo - clenshaw(known.integral, place(piece, from));
}

/** Ends of all pieces, ascending; makes every one of them. */
export function knotsOf(of: ChebyshevTail): readonly number[] {
  const ends = (piece: Piece): readonly number[] => {
    const known = opened(piece);
    return 'whole' in known ? [piece.high] : [...ends(known.left), ...ends(known.right)];
  };
  return [of.breaks[0], ...of.pieces.flatMap(ends)];
}

const place = ({ low, high }: Piece, x: number): number => (2 * (x - low)) / (high - low) - 1;

/** Σ cₖ Tₖ(at) by Clenshaw's recurrence. */
function clenshaw(c: readonly number[], at: number): number {
  let b1 = 0;
  let b2 = 0;
  for (let k = c.length - 1; k > 0; k--) {
    const b = 2 * at * b1 - b2 + c[k];
    b2 = b1;
    b1 = b;
  }
  return at * b1 - b2 + c[0];
}
