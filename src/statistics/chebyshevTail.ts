/**
 * The upper tail Q(x) = P(X > x) of a symmetric distribution, kept as Chebyshev polynomials on
 * pieces of the half-line x ≥ 0. Fast to evaluate and exact to integrate.
 */

/** Degree of the polynomial on every piece. */
const DEGREE = 10;
const SIZE = DEGREE + 1;
/** The last coefficients of a piece must be below this, or the piece is halved. */
const TOLERANCE = 5e-9;
/** A piece is halved at most so often: a feature narrower than 2⁻⁵⁰ of its piece has no weight. */
const DEEPEST = 50;

export interface ChebyshevTail {
  /** Ends of the pieces in ascending order, the first one 0. */
  readonly knots: Float64Array;
  /** Coefficients of Q, `SIZE` to a piece. */
  readonly coefficients: Float64Array;
  /** Coefficients of the integral of Q from the left end of the piece, `SIZE + 1` to a piece. */
  readonly integrals: Float64Array;
  /** Integral of Q from 0 to each knot. */
  readonly cumulative: Float64Array;
  /** Beyond the last knot Q falls as x to minus this; `Infinity`: Q is zero there. */
  readonly decay: number;
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
 *
 * Source: Trefethen, Approximation Theory and Approximation Practice (2013), chapters 3 and 19.
 */
export function chebyshevTail(
  tail: (x: number) => number,
  breaks: readonly number[],
  decay: number,
): ChebyshevTail {
  const knots: number[] = [breaks[0]];
  const kept: number[] = [];
  const values = new Float64Array(SIZE);
  const own = new Float64Array(SIZE);
  const add = (low: number, high: number, depth: number): void => {
    const [middle, half] = [(low + high) / 2, (high - low) / 2];
    for (let i = 0; i < SIZE; i++) values[i] = tail(middle + half * points[i]);
    for (let k = 0; k < SIZE; k++) {
      let sum = 0;
      for (let i = 0; i < SIZE; i++) sum += transform[k * SIZE + i] * values[i];
      own[k] = sum;
    }
    const rest = Math.abs(own[DEGREE]) + Math.abs(own[DEGREE - 1]) + Math.abs(own[DEGREE - 2]);
    if (rest > TOLERANCE && depth < DEEPEST) {
      add(low, middle, depth + 1);
      add(middle, high, depth + 1);
      return;
    }
    for (let k = 0; k < SIZE; k++) kept.push(own[k]);
    knots.push(high);
  };
  for (let i = 1; i < breaks.length; i++) add(breaks[i - 1], breaks[i], 0);
  return { ...integrated(Float64Array.from(knots), Float64Array.from(kept)), decay };
}

/** The integral of Σ cₖ Tₖ has the coefficients (cₖ₋₁ − cₖ₊₁) / 2k. */
function integrated(knots: Float64Array, coefficients: Float64Array) {
  const count = knots.length - 1;
  const integrals = new Float64Array(count * (SIZE + 1));
  const cumulative = new Float64Array(knots.length);
  for (let piece = 0; piece < count; piece++) {
    const half = (knots[piece + 1] - knots[piece]) / 2;
    const c = (k: number) => (k > DEGREE ? 0 : coefficients[piece * SIZE + k]);
    const to = piece * (SIZE + 1);
    let atLeft = 0;
    let atRight = 0;
    for (let k = 1; k <= SIZE; k++) {
      const b = (half * ((k === 1 ? 2 : 1) * c(k - 1) - c(k + 1))) / (2 * k);
      integrals[to + k] = b;
      atLeft += k % 2 === 0 ? b : -b;
      atRight += b;
    }
    integrals[to] = -atLeft;
    cumulative[piece + 1] = cumulative[piece] + atRight - atLeft;
  }
  return { knots, coefficients, integrals, cumulative };
}

/** Q(x) for any x; Q(−x) = 1 − Q(x). */
export function tailAt(tail: ChebyshevTail, x: number): number {
  if (x < 0) return 1 - tailAt(tail, -x);
  const { knots } = tail;
  const end = knots[knots.length - 1];
  if (x > end) {
    return Number.isFinite(tail.decay) ? tailAt(tail, end) * (end / x) ** tail.decay : 0;
  }
  const piece = pieceOf(knots, x);
  return clenshaw(tail.coefficients, piece * SIZE, SIZE, place(knots, piece, x));
}

/**
 * Integral of Q from 0 to x for any x, negative where x is. Beyond the last knot, where Q is below
 * 1e-9, nothing is added.
 */
export function tailIntegral(tail: ChebyshevTail, x: number): number {
  if (x < 0) return tailIntegral(tail, -x) + x;
  const { knots, cumulative } = tail;
  if (x >= knots[knots.length - 1]) return cumulative[knots.length - 1];
  const piece = pieceOf(knots, x);
  const at = place(knots, piece, x);
  return cumulative[piece] + clenshaw(tail.integrals, piece * (SIZE + 1), SIZE + 1, at);
}

function pieceOf(knots: Float64Array, x: number): number {
  let low = 0;
  let high = knots.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= x) low = middle;
    else high = middle;
  }
  return low;
}

function place(knots: Float64Array, piece: number, x: number): number {
  return (2 * (x - knots[piece])) / (knots[piece + 1] - knots[piece]) - 1;
}

/** Σ cₖ Tₖ(at) by Clenshaw's recurrence. */
function clenshaw(c: Float64Array, from: number, count: number, at: number): number {
  let b1 = 0;
  let b2 = 0;
  for (let k = count - 1; k > 0; k--) {
    const b = 2 * at * b1 - b2 + c[from + k];
    b2 = b1;
    b1 = b;
  }
  return at * b1 - b2 + c[from];
}
