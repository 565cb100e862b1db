import { argumentWrong } from '../error.js';
import { requireShape } from '../statistics/shapes.js';
import type { MeterRole, RunOrder } from '../vocabulary.js';
import { runOrder } from './runOrder.js';

/** An exact fraction in lowest terms, denominator above zero. */
export interface Fraction {
  readonly numerator: number;
  readonly denominator: number;
  readonly value: number;
}

export interface ResidualBias {
  /** In steps: times the linear drift per run, this is the bias of mean(candidate) − mean(reference). */
  readonly linear: Fraction;
  /** In steps²: times q, for a drift q·t² with t in runs from the middle of the series. */
  readonly quadratic: Fraction;
}

/**
 * How much drift of the source does an order leave in mean(candidate) − mean(reference), for runs
 * at equal distances? Exact. Plain alternation keeps one step of a linear drift, however many laps;
 * ABBA BAAB keeps neither part. The factor's own model removes drift as well, so this is what the
 * *plain mean* would carry, and what leaving runs out brings back.
 *
 * @throws argument-wrong for laps that are not a whole number of at least 1
 * @see elementary sums; NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.3.1.2, for the
 *   drift-free order of two against two
 */
export function residualBias(order: RunOrder, laps: number): ResidualBias {
  return residualBiasOf(runOrder(order, laps));
}

/**
 * The same for any sequence of meters, for example one with a cold run left out.
 *
 * @throws argument-wrong when one of the meters does not occur
 */
export function residualBiasOf(sequence: readonly MeterRole[]): ResidualBias {
  requireShape(sequence, 'The runs', { list: ['reference', 'candidate'] });
  const size = (meter: MeterRole) => sequence.filter((one) => one === meter).length;
  const [a, b] = [size('reference'), size('candidate')];
  if (a === 0 || b === 0) {
    throw argumentWrong('A comparison needs at least one run on each meter.', sequence.join(', '));
  }
  // Over the common denominator a·b, weights are whole numbers.
  return contrastBias(
    sequence.map((meter) => (meter === 'candidate' ? a : -b)),
    a * b,
  );
}

/**
 * The same for any contrast Σ wᵢ·yᵢ / divisor with whole weights, such as (−1, 3, −3, 1)/4.
 *
 * @throws argument-wrong for weights or a divisor that are not whole numbers
 */
export function contrastBias(weights: readonly number[], divisor: number): ResidualBias {
  requireShape(weights, 'The weights', { list: 'number' });
  if (!weights.every(Number.isSafeInteger) || !Number.isSafeInteger(divisor) || divisor === 0) {
    throw argumentWrong('Weights and divisor of a contrast must be whole numbers.');
  }
  // t in half steps from the middle is a whole number: 2i − (n − 1).
  const t = weights.map((_, i) => 2 * i - (weights.length - 1));
  const sum = (power: number) => weights.reduce((total, w, i) => total + w * t[i] ** power, 0);
  return { linear: fraction(sum(1), 2 * divisor), quadratic: fraction(sum(2), 4 * divisor) };
}

function fraction(numerator: number, denominator: number): Fraction {
  const divisor = gcd(Math.abs(numerator), Math.abs(denominator)) * Math.sign(denominator);
  // The sum keeps a −0 out of the result.
  const top = numerator / divisor + 0;
  const bottom = denominator / divisor;
  return { numerator: top, denominator: bottom, value: top / bottom };
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
