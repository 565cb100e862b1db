import { argumentWrong } from '../error.js';
import { coverageFactor, normalQuantile } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import { requireValues } from '../statistics/summary.js';
import { type Interval, KNOWN_EXACTLY } from '../vocabulary.js';
import { requirePositive } from './readTrace.js';

export type ThreePointExtrapolation =
  | {
      readonly status: 'extrapolated';
      /** Where the readings go, in mW. */
      readonly value_mW: number;
      /** First-order standard uncertainty. */
      readonly standard_uncertainty_mW: number;
      /** Fieller's interval; it need not be symmetric. */
      readonly interval_mW: Interval;
      /** Second step ÷ first step, from 0 to 1. */
      readonly ratio: number;
      /** Time constant if the spacing was given and the ratio is above 0; else `null`. */
      readonly time_constant_s: number | null;
    }
  | {
      readonly status: 'refused';
      readonly reason: 'no-change' | 'turns-back' | 'does-not-converge' | 'lost-in-noise';
      readonly why: string;
    };

/**
 * Where do three equally spaced readings of a rising (or falling) first-order sensor go? The steps
 * shrink by a constant ratio, so P∞ = a + Δ₁ / (1 − Δ₂/Δ₁) with Δ₁ = b − a, Δ₂ = c − b.
 *
 * @param options `readings_mW`: the three in order; `readingStandardUncertainty_mW`: of one of
 *   them, above 0 (resolution/√12 is the least for a display), and its `dof` (default: known);
 *   `spacing_s`; `confidence` (default 0.95)
 * @returns the settled value, or a refusal: readings that do not change, turn back, take steps that
 *   do not shrink, or shrink less than noise would make them
 * @throws argument-wrong, too-few-values
 * Source: geometric series; interval: E. C. Fieller (1954), on P∞ = (b² − ac) / (2b − a − c).
 */
export function threePointExtrapolation(options: {
  readonly readings_mW: readonly [number, number, number];
  readonly readingStandardUncertainty_mW: number;
  readonly dof?: number;
  readonly spacing_s?: number;
  readonly confidence?: number;
}): ThreePointExtrapolation {
  requireOptions(options, {
    readings_mW: true,
    readingStandardUncertainty_mW: true,
    dof: true,
    spacing_s: true,
    confidence: true,
  });
  const confidence = options.confidence ?? 0.95;
  const u = options.readingStandardUncertainty_mW;
  const dof = options.dof ?? KNOWN_EXACTLY;
  if (!(confidence > 0 && confidence < 1)) {
    throw argumentWrong('A confidence level is a fraction.', confidence, 'between 0 and 1');
  }
  requireValues(options.readings_mW, 3, 'An extrapolation');
  requirePositive(u, 'The uncertainty of a reading');
  requirePositive(dof, 'Degrees of freedom');
  if (options.spacing_s !== undefined) requirePositive(options.spacing_s, 'The spacing');
  const k =
    dof >= KNOWN_EXACTLY ? normalQuantile(0.5 + confidence / 2) : coverageFactor(confidence, dof);
  const [a, b, c] = options.readings_mW;
  const first = b - a;
  const second = c - b;
  const noise = k * Math.SQRT2 * u;
  if (Math.abs(first) <= noise && Math.abs(second) <= noise) {
    return {
      status: 'refused',
      reason: 'no-change',
      why: 'The readings do not change beyond their noise: settled, or creeping too slowly to see.',
    };
  }
  if (first * second < 0 && Math.abs(second) > noise && Math.abs(first) > noise) {
    return {
      status: 'refused',
      reason: 'turns-back',
      why: 'The reading turns back, which a first-order response does not.',
    };
  }
  if (Math.abs(second) >= Math.abs(first)) {
    return {
      status: 'refused',
      reason: 'does-not-converge',
      why: 'The steps do not shrink: read later, or the source drifts.',
    };
  }
  const bend = first - second;
  const open = bend ** 2 - 6 * (k * u) ** 2;
  if (!(open > 0)) {
    return {
      status: 'refused',
      reason: 'lost-in-noise',
      why: 'The steps shrink by less than the noise of the readings: space them wider.',
    };
  }
  // Counted from the last reading: P = b² / (2b − a), and all P with (P·bend − b²)² no larger than
  // k² times its variance u² [P² + 4 (P − b)² + (P − a)²].
  const from = { a: a - c, b: b - c };
  const square = from.b ** 2;
  const beyond = square / bend;
  const k2u2 = (k * u) ** 2;
  const half = bend * square - k2u2 * (from.a + 4 * from.b);
  const rest = square ** 2 - k2u2 * (from.a ** 2 + 4 * from.b ** 2);
  const root = Math.sqrt(Math.max(0, half ** 2 - open * rest));
  const ratio = second / first;
  return {
    status: 'extrapolated',
    value_mW: c + beyond,
    standard_uncertainty_mW:
      (u * Math.hypot(beyond, 2 * (beyond - from.b), beyond - from.a)) / Math.abs(bend),
    interval_mW: [c + (half - root) / open, c + (half + root) / open],
    ratio,
    time_constant_s:
      options.spacing_s !== undefined && ratio > 0 ? -options.spacing_s / Math.log(ratio) : null,
  };
}
