import { argumentWrong } from '../error.js';
import { coverageFactorOf } from '../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { requireValues } from '../statistics/summary.js';
import { type Interval, KNOWN_EXACTLY } from '../vocabulary.js';

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

export interface ThreePointOptions {
  readonly readings_mW: readonly [number, number, number];
  readonly readingStandardUncertainty_mW: number;
  readonly dof?: number;
  readonly spacing_s?: number;
  readonly confidence?: number;
}

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
export function threePointExtrapolation(options: ThreePointOptions): ThreePointExtrapolation {
  const { u, k } = checked(options);
  const [a, b, c] = options.readings_mW;
  const steps = { first: b - a, second: c - b };
  const shapeless = whyNoShrinking(steps, k * Math.SQRT2 * u);
  if (shapeless !== null) return shapeless;
  const bend = steps.first - steps.second;
  const open = bend ** 2 - 6 * (k * u) ** 2;
  if (!(open > 0)) {
    return refused(
      'lost-in-noise',
      'The steps shrink by less than the noise of the readings: space them wider.',
    );
  }
  // Counted from the last reading: P = b² / (2b − a).
  const from = { a: a - c, b: b - c };
  const beyond = from.b ** 2 / bend;
  const [low, high] = fieller(from, bend, open, k * u);
  const ratio = steps.second / steps.first;
  const { spacing_s } = options;
  return {
    status: 'extrapolated',
    value_mW: c + beyond,
    standard_uncertainty_mW:
      (u * Math.hypot(beyond, 2 * (beyond - from.b), beyond - from.a)) / Math.abs(bend),
    interval_mW: [c + low, c + high],
    ratio,
    time_constant_s: spacing_s !== undefined && ratio > 0 ? -spacing_s / Math.log(ratio) : null,
  };
}

/** Standard uncertainty of a reading, and the coverage factor. @throws argument-wrong, too-few-values */
function checked(options: ThreePointOptions): { readonly u: number; readonly k: number } {
  const {
    readingStandardUncertainty_mW: u,
    dof = KNOWN_EXACTLY,
    confidence = 0.95,
  } = requireOptions(options, {
    readings_mW: true,
    readingStandardUncertainty_mW: 'above-zero',
    dof: { maybe: 'above-zero' },
    spacing_s: { maybe: 'above-zero' },
    confidence: CONFIDENCE,
  });
  const readings: readonly number[] = options.readings_mW;
  requireValues(readings, 3, 'An extrapolation');
  if (readings.length > 3) {
    throw argumentWrong('An extrapolation takes three readings.', readings.length);
  }
  return { u, k: coverageFactorOf(confidence, dof) };
}

/** Why two steps are not those of a series that converges; `null`: they are. */
function whyNoShrinking(
  steps: { readonly first: number; readonly second: number },
  noise: number,
): ThreePointExtrapolation | null {
  const [first, second] = [Math.abs(steps.first), Math.abs(steps.second)];
  if (first <= noise && second <= noise) {
    return refused(
      'no-change',
      'The readings do not change beyond their noise: settled, or creeping too slowly to see.',
    );
  }
  if (steps.first * steps.second < 0 && second > noise && first > noise) {
    return refused('turns-back', 'The reading turns back, which a first-order response does not.');
  }
  return second >= first
    ? refused('does-not-converge', 'The steps do not shrink: read later, or the source drifts.')
    : null;
}

/** All P with (P·bend − b²)² no larger than k² times its variance u² [P² + 4 (P − b)² + (P − a)²]. */
function fieller(
  from: { readonly a: number; readonly b: number },
  bend: number,
  open: number,
  ku: number,
): Interval {
  const square = from.b ** 2;
  const k2u2 = ku ** 2;
  const half = bend * square - k2u2 * (from.a + 4 * from.b);
  const rest = square ** 2 - k2u2 * (from.a ** 2 + 4 * from.b ** 2);
  const root = Math.sqrt(Math.max(0, half ** 2 - open * rest));
  return [(half - root) / open, (half + root) / open];
}

type Refusal = Extract<ThreePointExtrapolation, { status: 'refused' }>;

const refused = (reason: Refusal['reason'], why: string): Refusal => ({
  status: 'refused',
  reason,
  why,
});
