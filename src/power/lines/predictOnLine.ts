import { argumentWrong, MeterpairError } from '../../error.js';
import { coverageFactorOf } from '../../statistics/distributions.js';
import { requireOptions } from '../../statistics/options.js';
import type { Interval } from '../../vocabulary.js';
import { type Line, requireLine } from './line.js';

/** y at a given x, on the line and for a new reading. */
export interface LinePrediction {
  readonly value: number;
  /** Standard uncertainty of the line itself at x. */
  readonly standard_uncertainty: number;
  /** Interval of the line at x. */
  readonly interval: Interval;
  /** Standard uncertainty of a single new reading at x; `null` when its scatter is unknown. */
  readonly new_reading_standard_uncertainty: number | null;
  /** Interval in which a single new reading at x is expected. */
  readonly new_reading_interval: Interval | null;
  readonly why: string;
}

/**
 * Reads y off a line at x, with the uncertainty of the line there and the wider one of a new
 * reading.
 *
 * @param line a line with a covariance (ordinary, weighted, Deming, York)
 * @param at `x`; `readingSd`: scatter of one reading of y at x (default: the residual standard
 *   deviation for an ordinary line, otherwise not known)
 * @throws argument-wrong for an x that is not finite or a covariance that cannot be, too-few-values for a line without covariance
 * Source: JCGM 100:2008, H.3.3 (equation H.15); prediction interval: any textbook.
 */
export function predictOnLine(
  line: Line,
  at: { readonly x: number; readonly readingSd?: number },
): LinePrediction {
  requireOptions(at, { x: 'number', readingSd: { maybe: 'not-negative' } });
  const { variance, coverage } = uncertaintyAt(line, at.x);
  const value = line.intercept.value + line.slope.value * at.x;
  const u = Math.sqrt(variance);
  const scatter = at.readingSd ?? (line.method === 'ordinary' ? line.residual_sd : null);
  const single = scatter === null ? null : Math.sqrt(variance + scatter ** 2);
  return {
    value,
    standard_uncertainty: u,
    interval: [value - coverage * u, value + coverage * u],
    new_reading_standard_uncertainty: single,
    new_reading_interval:
      single === null ? null : [value - coverage * single, value + coverage * single],
    why: single === null ? 'The scatter of a single reading is not known: state it.' : '',
  };
}

/** Variance of the line at x and the coverage factor of its confidence. */
export function uncertaintyAt(
  line: Line,
  x: number,
): { readonly variance: number; readonly coverage: number } {
  requireLine(line);
  const a = line.intercept.standard_uncertainty;
  const b = line.slope.standard_uncertainty;
  if (a === null || b === null || line.covariance === null) {
    throw new MeterpairError({
      code: 'too-few-values',
      message: 'This line has no covariance to predict with.',
      found: `${line.method}, ${line.points} points`,
      expected: 'an ordinary, weighted, Deming or York line through three or more points',
    });
  }
  // Above the product of both uncertainties it may be a correlation, which would pass unseen.
  if (!(Math.abs(line.covariance) <= a * b * (1 + 1e-9))) {
    throw argumentWrong(
      'The covariance of a line cannot exceed the product of its standard uncertainties.',
      line.covariance,
      `a number between −${a * b} and ${a * b}`,
    );
  }
  return {
    variance: Math.max(0, a ** 2 + (x * b) ** 2 + 2 * x * line.covariance),
    coverage: coverageFactorOf(line.confidence, line.dof),
  };
}
