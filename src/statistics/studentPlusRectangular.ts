/** Half-width of the interval for a sum of a scaled Student t and a rectangular error. */
import { coverageFactor, studentCdf } from './distributions.js';

/** 16-point Gauss–Legendre rule on [−1, 1] (Abramowitz and Stegun 1964, table 25.4): positive half. */
const NODES: readonly (readonly [number, number])[] = [
  [0.0950125098376374, 0.1894506104550685],
  [0.2816035507792589, 0.1826034150449236],
  [0.4580167776572274, 0.1691565193950025],
  [0.6178762444026438, 0.1495959888165767],
  [0.755404408355003, 0.1246289712555339],
  [0.8656312023878318, 0.0951585116824928],
  [0.9445750230732326, 0.0622535239386479],
  [0.9894009349916499, 0.0271524594117541],
];

/**
 * The h for which P(|u T + R| ≤ h) = confidence, with T Student's t with `dof` and R rectangular of
 * standard deviation `rectangular` and mean zero, independent. JCGM 101:2008, 6.4 gives both shapes;
 * the convolution is integrated over R.
 *
 * A t interval around the combined standard uncertainty would be too wide where R dominates: a
 * rectangular error never exceeds √3 of its standard deviation.
 */
export function studentPlusRectangular(parts: {
  readonly standardUncertainty: number;
  readonly dof: number;
  readonly rectangular: number;
  readonly confidence: number;
}): number {
  const { standardUncertainty: u, dof, rectangular, confidence } = parts;
  const halfWidth = Math.sqrt(3) * rectangular;
  if (u <= 1e-9 * rectangular) return confidence * halfWidth;
  const factor = coverageFactor(confidence, dof);
  if (rectangular <= 1e-3 * u) return factor * Math.hypot(u, rectangular);
  const probability = (h: number) => {
    let sum = 0;
    for (const [node, weight] of NODES) {
      for (const r of [node * halfWidth, -node * halfWidth]) {
        sum += (weight / 2) * (studentCdf((h - r) / u, dof) - studentCdf((-h - r) / u, dof));
      }
    }
    return sum;
  };
  let low = 0;
  let high = factor * u + halfWidth;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (probability(middle) < confidence) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
