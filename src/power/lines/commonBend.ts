import { argumentWrong, failure } from '../../error.js';
import { coverageFactorOf } from '../../statistics/distributions.js';
import { leastSquares } from '../../statistics/leastSquares.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { requireList } from '../../statistics/shapes.js';
import { twoSidedP } from '../../statistics/student.js';
import { extremes } from '../../statistics/summary.js';
import { type Interval, KNOWN_EXACTLY } from '../../vocabulary.js';
import { type MeterReadings, requireReadings } from './gainOrGainAndOffset.js';

export interface CommonBend {
  /** Candidate ÷ reference at `top_mW` against its value towards zero power, minus 1, in percent. */
  readonly at_top_percent: number;
  readonly interval_percent: Interval;
  /** `null` when the readings fit exactly and nothing else states their scatter. */
  readonly p: number | null;
  readonly dof: number;
  /** Highest reference reading. */
  readonly top_mW: number;
}

/**
 * Does the candidate bend with power, when every group of readings (a wavelength) has a gain of its
 * own? Fits ln(candidate ÷ reference) = gain of the group + bend · reference ÷ top.
 *
 * @param readings pairs in mW and above 0, one pair a series; `groups`: the group of each, in order
 * @param options `scatter`: standard deviation of each pair as fractions, with their common degrees
 *   of freedom, when they are known from elsewhere; without it the scatter about the fit judges.
 *   `confidence` (default 0.95)
 * @throws reading-not-positive, argument-wrong, too-few-values (no group with two powers, or, without
 *   a stated scatter, nothing left to judge by)
 * Source: linear least squares with a constant a group: any textbook.
 */
export function commonBend(
  readings: MeterReadings & { readonly groups: readonly (string | number)[] },
  options: {
    readonly scatter?: { readonly sd: readonly number[]; readonly dof: number };
    readonly confidence?: number;
  } = {},
): CommonBend {
  const { scatter, confidence = 0.95 } = requireOptions(options, {
    scatter: { maybe: { fields: { sd: { list: 'above-zero' }, dof: 'number' } } },
    confidence: CONFIDENCE,
  });
  requireReadings(readings, 2);
  const { reference_mW: reference, candidate_mW: candidate } = readings;
  requireList(readings.groups, 'The groups');
  const groups = [...new Set(readings.groups)];
  const n = reference.length;
  if (readings.groups.length !== n || (scatter?.sd.length ?? n) !== n) {
    throw argumentWrong('Every pair needs its group, and a stated scatter.');
  }
  const top = extremes(reference)[1];
  const fit = leastSquares(
    reference.map((p, i) => [
      p / top,
      ...groups.map((one) => (readings.groups[i] === one ? 1 : 0)),
    ]),
    reference.map((p, i) => Math.log(candidate[i] / p)),
    scatter?.sd.map((value) => 1 / value ** 2),
  );
  const dof = scatter?.dof ?? fit.dof;
  if (!(dof > 0)) {
    throw failure(
      'too-few-values',
      'As many unknowns as readings leave nothing to judge a bend by.',
      n,
    );
  }
  const variance = scatter === undefined ? fit.residualSumOfSquares / fit.dof : 1;
  const [bend] = fit.coefficients;
  const error = Math.sqrt(variance * fit.unscaledCovariance[0][0]);
  const half = coverageFactorOf(confidence, dof) * error;
  const percent = (value: number) => 100 * Math.expm1(Math.min(700, value));
  // Residuals at the rounding level say nothing about noise.
  const exact = Math.sqrt(variance) <= 1e-13;
  return {
    at_top_percent: percent(bend),
    interval_percent: [percent(bend - half), percent(bend + half)],
    p: exact ? null : twoSidedP(bend / error, Math.min(dof, KNOWN_EXACTLY)),
    dof,
    top_mW: top,
  };
}
