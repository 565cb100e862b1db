import { argumentWrong } from '../../error.js';
import { requireOptions } from '../../statistics/options.js';
import type { Interval } from '../../vocabulary.js';
import { type Line, requireLine } from './line.js';
import { uncertaintyAt } from './predictOnLine.js';

/** x behind an observed y. `null` fields: see `why`. */
export interface LineInverse {
  readonly value: number | null;
  /** First-order standard uncertainty of x. */
  readonly standard_uncertainty: number | null;
  /** Fieller's interval of x, which need not be symmetric. */
  readonly interval: Interval | null;
  readonly why: string;
}

/**
 * Uses a calibration line backwards: which x belongs to an observed y, and how well is it known?
 *
 * @param line a line with a covariance (ordinary, weighted, Deming, York)
 * @param observed `y`: the observation or the mean of several; `y_standard_uncertainty`: of that y
 *   (default for an ordinary line: residual standard deviation / √readings); `readings`: how many
 *   the mean is of (default 1)
 * @returns x with its standard uncertainty (first order) and Fieller's interval; `null` with the
 *   reason when the slope cannot be told from zero, for then x may be anything
 * @throws argument-wrong, too-few-values
 * Source: ISO/TS 28037:2010, clause 11 (first order); E. C. Fieller (1954), J. R. Stat. Soc. B 16,
 * 175–185.
 */
export function inverseOnLine(
  line: Line,
  observed: {
    readonly y: number;
    readonly y_standard_uncertainty?: number;
    readonly readings?: number;
  },
): LineInverse {
  const { y, readings = 1 } = requireOptions(observed, {
    y: 'number',
    y_standard_uncertainty: true,
    readings: true,
  });
  requireLine(line);
  if (!Number.isInteger(readings) || readings < 1) {
    throw argumentWrong('The number of readings must be a whole number from 1 up.', readings);
  }
  const uy =
    observed.y_standard_uncertainty ??
    (line.method === 'ordinary' && line.residual_sd !== null
      ? line.residual_sd / Math.sqrt(readings)
      : null);
  if (uy === null || !(uy >= 0) || !Number.isFinite(uy)) {
    throw argumentWrong(
      'The standard uncertainty of y must be stated for this line.',
      uy,
      'a finite number from 0 up',
    );
  }
  const a = line.intercept.value;
  const b = line.slope.value;
  const { coverage } = uncertaintyAt(line, 0);
  const ub2 = (line.slope.standard_uncertainty ?? 0) ** 2;
  const covariance = line.covariance ?? 0;
  // Fieller: all x with (y − a − bx)² ≤ k² (u²(y) + u²(a) + 2x u(a,b) + x² u²(b)).
  const k2 = coverage ** 2;
  const q2 = b ** 2 - k2 * ub2;
  if (!(q2 > 0)) {
    return {
      value: b === 0 ? null : (y - a) / b,
      standard_uncertainty: null,
      interval: null,
      why: 'The slope cannot be told from zero at this confidence, so x may be anything.',
    };
  }
  const value = (y - a) / b;
  // Solved for x − value, which keeps digits when the interval is narrow.
  const s2 = uy ** 2 + uncertaintyAt(line, value).variance;
  const q1 = k2 * (covariance + value * ub2);
  const root = Math.sqrt(Math.max(0, q1 ** 2 + q2 * k2 * s2));
  return {
    value,
    standard_uncertainty: Math.sqrt(s2) / Math.abs(b),
    interval: [value + (q1 - root) / q2, value + (q1 + root) / q2],
    why: '',
  };
}
