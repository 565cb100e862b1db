import { argumentWrong } from '../error.js';
import { baseDegree } from '../statistics/driftDegree.js';
import { columnsOf, inner, orthonormal, takeOut } from '../statistics/orthonormal.js';
import { polynomialColumns } from '../statistics/polynomial.js';
import { requireShape } from '../statistics/shapes.js';
import type { RunOrder } from '../vocabulary.js';
import { RUN_ORDERS, runOrder } from './runOrder.js';

/** A series as planned: runs at equal distances. */
export interface PlannedSeries {
  readonly order: RunOrder;
  /** Relative standard deviation of one run on each meter, drift taken out. */
  readonly referenceSd: number;
  readonly candidateSd: number;
  /**
   * Degree of the drift that is taken out with the factor: 0 none, 1 line, 2 parabola. Left out:
   * what the analysis takes for a series of that length.
   */
  readonly driftDegree?: number;
}

export interface DesignUncertainty {
  /** Relative standard uncertainty of the factor, from the scatter of the runs alone. */
  readonly standard_uncertainty: number;
  readonly dof: number;
}

/**
 * How well will so many laps determine the factor? Least squares of ln(reading) on level, drift and
 * meter; the weights of the runs follow from the order alone.
 *
 * Degrees of freedom: 2n − 2 − degree for meters that scatter alike; where one scatters more, half
 * of them for each meter, by Welch–Satterthwaite.
 *
 * @returns `null` when so few runs leave no degree of freedom
 * @throws argument-wrong for a standard deviation below zero, laps or degree out of range
 */
export function designUncertainty(series: PlannedSeries, laps: number): DesignUncertainty | null {
  const scatter = { referenceSd: 'not-negative', candidateSd: 'not-negative' } as const;
  requireShape(series, 'The series', { fields: { order: RUN_ORDERS, ...scatter } });
  const { order, referenceSd, candidateSd } = series;
  return effectVariance(order, laps, series.driftDegree)?.of(referenceSd, candidateSd) ?? null;
}

/** What the runs of a design leave in the meter effect. */
export interface EffectVariance {
  /** Standard uncertainty of the effect per standard deviation of one reading: reference, candidate. */
  readonly factors: readonly [number, number];
  /** Degrees of freedom of both meters' scatter together. */
  readonly dof: number;
  readonly of: (referenceSd: number, candidateSd: number) => DesignUncertainty;
}

/**
 * The design alone, for many standard deviations to be put in.
 *
 * @returns `null` as `designUncertainty`
 * @throws argument-wrong for laps or degree out of range
 */
export function effectVariance(
  order: RunOrder,
  laps: number,
  driftDegree?: number,
): EffectVariance | null {
  const meters = runOrder(order, laps);
  const degree = driftDegree ?? baseDegree(meters.length);
  if (!Number.isSafeInteger(degree) || degree < 0 || degree > 5) {
    throw argumentWrong('The degree of the drift must be a whole number from 0 to 5.', degree);
  }
  const dof = meters.length - 2 - degree;
  if (dof < 1) return null;
  const drift = polynomialColumns([...meters.keys()], degree);
  const { q } = orthonormal(columnsOf(drift.map((row) => [1, ...row])));
  // What drift and level leave of the meter effect carries the information about the factor.
  const effect = Float64Array.from(meters, (meter) => (meter === 'candidate' ? 0.5 : -0.5));
  // Twice: once more takes out what rounding left in.
  for (const unit of [...q, ...q]) takeOut(effect, unit);
  const information = inner(effect, effect);
  const part = [0, 0];
  effect.forEach((value, i) => {
    part[meters[i] === 'reference' ? 0 : 1] += (value / information) ** 2;
  });
  return {
    factors: [Math.sqrt(part[0]), Math.sqrt(part[1])],
    dof,
    of: (referenceSd, candidateSd) => {
      const variances = [part[0] * referenceSd ** 2, part[1] * candidateSd ** 2];
      const variance = variances[0] + variances[1];
      const spread = (variances[0] ** 2 + variances[1] ** 2) / (dof / 2);
      return {
        standard_uncertainty: Math.sqrt(variance),
        dof: spread === 0 ? dof : variance ** 2 / spread,
      };
    },
  };
}
