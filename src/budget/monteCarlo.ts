import { argumentWrong } from '../error.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { seededRandom } from '../statistics/random.js';
import { sentences } from '../statistics/sentences.js';
import { requireShape } from '../statistics/shapes.js';
import type { Interval } from '../vocabulary.js';
import {
  type AdaptiveOptions,
  type AdaptiveResult,
  adaptiveTrials,
  numericalTolerance,
} from './adaptiveTrials.js';
import { correlationRoot, drawFrom, type InputDistribution } from './draws.js';

export interface MonteCarloOptions extends AdaptiveOptions {
  /** The result as a function of its inputs, in the order of `inputs`. */
  readonly model: (inputs: readonly number[]) => number;
  readonly inputs: readonly InputDistribution[];
  /** Correlation matrix of the inputs; only normal inputs may be correlated. */
  readonly correlation?: readonly (readonly number[])[];
  /** Whole number; the same seed gives the same answer. */
  readonly seed: number;
}

export interface MonteCarloResult extends AdaptiveResult {
  /** `null` when an input with one degree of freedom or fewer leaves the mean undefined. */
  readonly mean: number | null;
  /** `null` when an input with two degrees of freedom or fewer leaves the variance undefined. */
  readonly standard_uncertainty: number | null;
  readonly seed: number;
  /** Why something is `null` or not stable; empty otherwise. */
  readonly why: string;
}

/**
 * What do the distributions of the inputs make of the result? (Propagation of distributions.)
 *
 * Holds for models that bend and for inputs that are not normal, where the formula for small
 * uncertainties does not.
 *
 * @throws argument-wrong for impossible inputs or correlations, correlated inputs that are not
 *   normal, and a model that returns a value that is not finite
 * @see JCGM 101:2008, clauses 6.4, 7 and 7.9
 */
export function monteCarlo(options: MonteCarloOptions): MonteCarloResult {
  const {
    inputs,
    seed,
    confidence = 0.95,
  } = requireOptions(options, {
    model: 'function',
    inputs: { list: { fields: { shape: 'text', value: 'number' } } },
    correlation: { maybe: { list: { list: 'number' } } },
    confidence: CONFIDENCE,
    seed: 'number',
    significantDigits: { maybe: 'number' },
    toleranceDivisor: { maybe: 'above-zero' },
    maxTrials: { maybe: 'number' },
    interval: { maybe: ['symmetric', 'shortest'] },
  });
  const draw = drawOf(options);
  const fewest = Math.min(
    ...inputs.map((input) => (input.shape === 'student' ? input.dof : Number.POSITIVE_INFINITY)),
  );
  const trials = adaptiveTrials(
    (block) => {
      for (let i = 0; i < block.length; i++) block[i] = draw();
    },
    {
      confidence,
      significantDigits: options.significantDigits ?? 2,
      toleranceDivisor: options.toleranceDivisor ?? 1,
      maxTrials: options.maxTrials ?? 1_000_000,
      interval: options.interval ?? 'symmetric',
      intervalOnly: fewest <= 2,
    },
  );
  return {
    ...trials,
    mean: fewest <= 1 ? null : trials.mean,
    standard_uncertainty: fewest <= 2 ? null : trials.standard_uncertainty,
    seed,
    why: reasons(fewest, trials),
  };
}

function reasons(fewest: number, { stable, trials }: AdaptiveResult): string {
  return sentences([
    fewest <= 2
      ? 'An input with two degrees of freedom or fewer has no finite variance: only the interval counts.'
      : '',
    stable ? '' : `After ${trials} trials the results still vary by more than the tolerance asks.`,
  ]);
}

/** One value of the result after the other: independent inputs by their shape, correlated ones together. */
function drawOf({ model, inputs, seed, correlation }: MonteCarloOptions): () => number {
  const random = seededRandom(seed);
  const draws = inputs.map((input) => drawFrom(input, random));
  const root = correlation === undefined ? null : correlationRoot(correlation);
  const correlated = correlatedInputs(inputs, root);
  const x = new Array<number>(inputs.length).fill(0);
  const z = new Array<number>(inputs.length).fill(0);
  return () => {
    for (let i = 0; i < x.length; i++) {
      const input = inputs[i];
      if (root === null || !correlated[i] || input.shape !== 'normal') {
        x[i] = draws[i]();
        continue;
      }
      z[i] = random.normal();
      let sum = 0;
      for (let j = 0; j <= i; j++) sum += root[i][j] * z[j];
      x[i] = input.value + input.standard_uncertainty * sum;
    }
    return model(x);
  };
}

/** Which inputs are correlated with another. */
function correlatedInputs(
  inputs: MonteCarloOptions['inputs'],
  root: readonly (readonly number[])[] | null,
): readonly boolean[] {
  if (root !== null && root.length !== inputs.length) {
    throw argumentWrong(
      'The correlation matrix must have a row for every input.',
      root.length,
      String(inputs.length),
    );
  }
  return inputs.map(({ shape }, i) => {
    const found = root?.some((row, j) => i !== j && (row[i] !== 0 || root[i][j] !== 0)) ?? false;
    if (found && shape !== 'normal') {
      throw argumentWrong('Only normal inputs can be correlated.', shape, 'normal');
    }
    return found;
  });
}

/** The interval of the formula beside the interval of the trials. */
export interface LinearComparison {
  /** δ: half a unit of the last meaningful digit of u. */
  readonly tolerance: number;
  /** Formula minus trials at the lower end. */
  readonly low_difference: number;
  readonly high_difference: number;
  /** Both differences within δ. */
  readonly agrees: boolean;
}

/**
 * Does the formula for small uncertainties give the interval that the distributions give?
 *
 * @param linear value, standard uncertainty and interval by the formula
 * @param interval the interval by Monte Carlo, stable to δ/5 if the verdict is to be sharp
 * @see JCGM 101:2008, clause 8.1
 */
export function validateFormula(
  linear: { readonly standard_uncertainty: number; readonly low: number; readonly high: number },
  interval: Interval,
  significantDigits: 1 | 2 = 2,
): LinearComparison {
  const ends = { low: 'number', high: 'number' } as const;
  const fields = { standard_uncertainty: 'above-zero', ...ends } as const;
  requireShape(linear, 'What the formula gives', { fields });
  requireShape(interval, 'The interval of the trials', { list: 'number' });
  if (interval.length !== 2) throw argumentWrong('An interval has two ends.', interval.length);
  const tolerance = numericalTolerance(linear.standard_uncertainty, significantDigits);
  const low_difference = linear.low - interval[0];
  const high_difference = linear.high - interval[1];
  return {
    tolerance,
    low_difference,
    high_difference,
    agrees: Math.max(Math.abs(low_difference), Math.abs(high_difference)) <= tolerance,
  };
}
