import { coverageFactor, studentCdf } from './distributions.js';
import { CONFIDENCE, requireConfidence, requireOptions } from './options.js';
import { mean, requireValues, standardDeviation } from './summary.js';

export interface StudentResult {
  /** Mean (one sample) or first mean minus second (two samples). */
  readonly estimate: number;
  readonly standard_error: number;
  readonly dof: number;
  /** `null` when the values do not scatter at all. */
  readonly t: number | null;
  /** Two-sided p of the hypothesis. */
  readonly p: number | null;
  readonly low: number;
  readonly high: number;
}

/** Two-sided p of a t value, small ones to full relative accuracy of the lower tail. */
export function twoSidedP(t: number, dof: number): number {
  return Math.min(1, 2 * studentCdf(-Math.abs(t), dof));
}

function conclude(
  estimate: number,
  standardError: number,
  dof: number,
  hypothesis: number,
  confidence: number,
): StudentResult {
  const half = coverageFactor(confidence, dof) * standardError;
  const t = standardError > 0 ? (estimate - hypothesis) / standardError : null;
  return {
    estimate,
    standard_error: standardError,
    dof,
    t,
    p: t === null ? null : twoSidedP(t, dof),
    low: estimate - half,
    high: estimate + half,
  };
}

/**
 * Does the mean differ from a hypothesis (default 0), and where does it lie?
 *
 * @throws too-few-values below two values, argument-wrong
 * Source: Student, Biometrika 6 (1908) 1; NIST/SEMATECH e-Handbook 1.3.5.2.
 */
export function oneSampleStudent(
  values: readonly number[],
  {
    hypothesis = 0,
    confidence = 0.95,
  }: { readonly hypothesis?: number; readonly confidence?: number } = {},
): StudentResult {
  requireConfidence(confidence);
  requireValues(values, 2, "Student's t");
  const n = values.length;
  const standardError = standardDeviation(values) / Math.sqrt(n);
  return conclude(mean(values), standardError, n - 1, hypothesis, confidence);
}

/**
 * Do two independent samples differ in their mean, and by how much?
 *
 * @param options `variances`: `unequal` (Welch, the default) or `pooled`
 * @returns first minus second
 * @throws too-few-values below two values in either sample, argument-wrong
 *
 * Not for pairs: take their differences and use `oneSampleStudent`.
 * Source: NIST/SEMATECH e-Handbook 1.3.5.3; Welch, Biometrika 34 (1947) 28.
 */
export function twoSampleStudent(
  first: readonly number[],
  second: readonly number[],
  options: { readonly variances?: 'unequal' | 'pooled'; readonly confidence?: number } = {},
): StudentResult {
  const { variances = 'unequal', confidence = 0.95 } = requireOptions(options, {
    variances: { maybe: ['unequal', 'pooled'] },
    confidence: CONFIDENCE,
  });
  requireValues(first, 2, "Student's t");
  requireValues(second, 2, "Student's t");
  const [n1, n2] = [first.length, second.length];
  const [v1, v2] = [standardDeviation(first) ** 2, standardDeviation(second) ** 2];
  const difference = mean(first) - mean(second);
  if (variances === 'pooled') {
    const dof = n1 + n2 - 2;
    const pooled = ((n1 - 1) * v1 + (n2 - 1) * v2) / dof;
    return conclude(difference, Math.sqrt(pooled * (1 / n1 + 1 / n2)), dof, 0, confidence);
  }
  const [e1, e2] = [v1 / n1, v2 / n2];
  const sum = e1 + e2;
  // Shares keep the degrees of freedom finite when one or both samples do not scatter.
  const share = sum > 0 ? e1 / sum : 0.5;
  const dof = 1 / (share ** 2 / (n1 - 1) + (1 - share) ** 2 / (n2 - 1));
  return conclude(difference, Math.sqrt(sum), dof, 0, confidence);
}
