import {
  type ChebyshevTail,
  chebyshevTail,
  knotsOf,
  tailAt,
  tailIntegral,
} from '../statistics/chebyshevTail.js';

/** P(X + R > x), R rectangular over ± half, exact for the X that `tail` describes. */
export function withRectangle(tail: ChebyshevTail, half: number): (x: number) => number {
  const end = tail.breaks[tail.breaks.length - 1];
  return (x) =>
    // Out there the integral has nothing to add, and the power law of X alone goes on.
    x - half >= end ? tailAt(tail, x) : tailIntegral(tail, x - half, x + half) / (2 * half);
}

/** P(R > x) of a lone rectangle over ± half, x ≥ 0. */
export function rectangleTail(half: number): (x: number) => number {
  return (x) => Math.max(0, (1 - x / half) / 2);
}

/** P(A > x) of half · cos Θ, Θ rectangular over 0 to π, x ≥ 0. */
export function arcsineTail(half: number): (x: number) => number {
  return (x) => (x >= half ? 0 : Math.acos(x / half) / Math.PI);
}

/** Nodes and weights of Gauss and Legendre with 8 points on [−1, 1]; Abramowitz and Stegun, 25.4.30. */
const NODES = [0.18343464249564981, 0.525532409916329, 0.7966664774136267, 0.9602898564975363];
const WEIGHTS = [0.362683783378362, 0.31370664587788727, 0.22238103445337448, 0.10122853629037626];

/** P(X + half · cos Θ > x): the mean over Θ, piece by piece of the polynomials of X. */
export function withArcsine(tail: ChebyshevTail, half: number): (x: number) => number {
  const edges = knotsOf(tail).flatMap((knot) => (knot === 0 ? [0] : [-knot, knot]));
  edges.sort((a, b) => a - b);
  return (x) => {
    let sum = 0;
    let from = 0;
    // X = x − half · cos Θ rises with Θ from x − half to x + half.
    const addTo = (to: number): void => {
      const [middle, width] = [(from + to) / 2, (to - from) / 2];
      for (let i = 0; i < NODES.length; i++) {
        for (const at of [middle - width * NODES[i], middle + width * NODES[i]]) {
          sum += width * WEIGHTS[i] * tailAt(tail, x - half * Math.cos(at));
        }
      }
      from = to;
    };
    for (const edge of edges) {
      const cosine = (x - edge) / half;
      if (Math.abs(cosine) < 1) addTo(Math.acos(cosine));
    }
    addTo(Math.PI);
    return sum / Math.PI;
  };
}

/**
 * `tail` as polynomials: pieces widen outwards from the scale of the distribution to its end, the first
 * of them as narrow as a mixture of normals most often asks for.
 *
 * @param like the table of nearly the same distribution, where there is one
 */
export function tabulated(
  tail: (x: number) => number,
  scale: number,
  end: number,
  decay: number,
  like: ChebyshevTail | null,
): ChebyshevTail {
  const inner = [0.5, 1, 1.5, 2, 3].map((x) => x * scale);
  for (let x = 9 * scale; x < 0.7 * end; x *= 3) inner.push(x);
  const breaks = [0, ...inner.filter((x) => x < 0.7 * end), end];
  return chebyshevTail(tail, breaks, decay, like);
}
