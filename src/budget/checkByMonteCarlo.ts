import { argumentWrong } from '../error.js';
import { coverageFactor } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import { seededRandom } from '../statistics/random.js';
import { type Interval, KNOWN_EXACTLY, type MonteCarloCheck } from '../vocabulary.js';
import { adaptiveTrials } from './adaptiveTrials.js';
import { drawFrom, type InputDistribution } from './draws.js';
import { effectiveDof, requireDof, requireUncertainty } from './effectiveDof.js';

/** A contribution with the shape of its distribution. */
export interface ShapedContribution {
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
  /**
   * `student` for what was measured (type A): u is the scale of t with `dof`. The other shapes
   * (type B) get the width that gives them the standard uncertainty u.
   */
  readonly shape: 'normal' | 'student' | 'rectangular' | 'triangular' | 'arcsine';
}

export interface MonteCarloCheckOptions {
  readonly contributions: readonly ShapedContribution[];
  /** The factor, above zero. */
  readonly value: number;
  readonly confidence: number;
  readonly seed: number;
  /** Interval to compare with; left out: value · (1 ± U) by Welch–Satterthwaite. */
  readonly interval?: Interval;
  /** Bound on the trials (default 10⁵, some 100 ms). */
  readonly max_trials?: number;
}

/** Part of U by which an end may differ: half a unit of the second digit of a U such as 1.0. */
const AGREEMENT = 0.05;

/**
 * Does the formula's interval for a factor hold when every contribution is drawn from its own
 * distribution? Factor = value · Π(1 + δᵢ), each δᵢ drawn about zero.
 *
 * `agrees` asks for both ends within 5 % of U, beyond what the trials' own noise can make. (The
 * half digit of clause 8.1 asks for anything from 0.5 % to 5 % of a U with two digits, whatever
 * digit u happens to begin with; see `compareWithLinear`.) Disagreement is to be expected in two
 * cases. One wide rectangle carries much of the variance: the trials are right, the formula is too
 * wide. Few degrees of freedom carry much of it: the trials are the more cautious, while the
 * formula still covers nearly what it says down to two degrees of freedom, and less with one.
 * `stable` says whether the noise came below half a unit of the second digit of u.
 *
 * @throws argument-wrong for a value not above zero or an impossible contribution
 * @see JCGM 101:2008, 7.9.4 and 8.1
 */
export function checkByMonteCarlo(options: MonteCarloCheckOptions): MonteCarloCheck {
  requireOptions(options, {
    contributions: true,
    value: true,
    confidence: true,
    seed: true,
    interval: true,
    max_trials: true,
  });
  const { contributions, value, confidence, seed } = options;
  if (!(value > 0 && Number.isFinite(value))) {
    throw argumentWrong('A factor must be above zero.', value);
  }
  for (const { relative_standard_uncertainty, dof } of contributions) {
    requireUncertainty(relative_standard_uncertainty);
    requireDof(dof);
  }
  const active = contributions.filter((one) => one.relative_standard_uncertainty > 0);
  const u = Math.hypot(...active.map((one) => one.relative_standard_uncertainty));
  const random = seededRandom(seed);
  const draws = active.map((one) => drawFrom(distribution(one), random));
  const trials = adaptiveTrials(
    (block) => {
      block.fill(value);
      for (const draw of draws) {
        for (let i = 0; i < block.length; i++) block[i] *= 1 + draw();
      }
    },
    {
      confidence,
      significant_digits: 2,
      tolerance_divisor: 1,
      max_trials: options.max_trials ?? 100_000,
      interval: 'symmetric',
      interval_only: true,
    },
  );
  const [low, high] = trials.symmetric;
  const expected = options.interval ?? linearInterval(active, value, u, confidence);
  const U = (expected[1] - expected[0]) / 2;
  const allowed = AGREEMENT * U + trials.noise;
  // A hair of rounding, so that a factor without any uncertainty agrees with itself.
  const rounding = 1e-12 * value;
  const agrees =
    Math.abs(low - expected[0]) <= allowed + rounding &&
    Math.abs(high - expected[1]) <= allowed + rounding;
  return { low, high, trials: trials.trials, seed, stable: trials.stable, agrees };
}

function linearInterval(
  active: readonly ShapedContribution[],
  value: number,
  u: number,
  confidence: number,
): Interval {
  const dof = effectiveDof(
    active.map((one) => ({
      standard_uncertainty: one.relative_standard_uncertainty,
      dof: one.dof,
    })),
  );
  const U = coverageFactor(confidence, dof) * u;
  return [value * (1 - U), value * (1 + U)];
}

function distribution(one: ShapedContribution): InputDistribution {
  const u = one.relative_standard_uncertainty;
  switch (one.shape) {
    case 'normal':
      return { shape: 'normal', value: 0, standard_uncertainty: u };
    case 'student':
      return one.dof >= KNOWN_EXACTLY
        ? { shape: 'normal', value: 0, standard_uncertainty: u }
        : { shape: 'student', value: 0, standard_uncertainty: u, dof: one.dof };
    case 'rectangular':
      return { shape: 'rectangular', value: 0, half_width: u * Math.sqrt(3) };
    case 'triangular':
      return { shape: 'triangular', value: 0, half_width: u * Math.sqrt(6) };
    case 'arcsine':
      return { shape: 'arcsine', value: 0, half_width: u * Math.SQRT2 };
  }
}
