import { argumentWrong } from '../error.js';
import { coverageFactor } from '../statistics/distributions.js';
import { effectiveDof } from '../statistics/effectiveDof.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import type { Contribution, ContributionKind } from '../vocabulary.js';
import { correlationRoot } from './draws.js';

/** One line of a budget before its share is known; without a kind it is `other`. */
export type ContributionInput = Omit<Contribution, 'share' | 'kind'> & {
  readonly kind?: ContributionKind;
};

/** Two contributions that share a cause. */
export interface ContributionCorrelation {
  /** Names of the two contributions. */
  readonly between: readonly [string, string];
  /** Correlation of their *effects* on the result, −1 to 1, sign of the sensitivities included. */
  readonly coefficient: number;
}

export interface CombineOptions {
  /** Confidence level as a fraction (default 0.95). */
  readonly confidence?: number;
  readonly correlations?: readonly ContributionCorrelation[];
}

export interface CombinedUncertainty {
  readonly relative_standard_uncertainty: number;
  /** Effective degrees of freedom, at most `KNOWN_EXACTLY`. */
  readonly dof: number;
  /** k = t(confidence, dof). */
  readonly coverage_factor: number;
  /** U = k·u, as a fraction of the value. */
  readonly relative_expanded_uncertainty: number;
  /**
   * The contributions with their share of the variance. Shares add up to 1; all are 0 when nothing
   * contributes. Only a negative correlation can push one below 0.
   */
  readonly budget: readonly Contribution[];
}

const CONTRIBUTIONS: Shape = {
  list: {
    fields: {
      name: 'text',
      relative_standard_uncertainty: 'not-negative',
      dof: 'above-zero',
      type: ['A', 'B'],
    },
  },
};

/**
 * What is the relative uncertainty of a product or quotient, given those of its parts?
 *
 * For K = reference ÷ candidate every part acts with sensitivity ±1, so relative standard
 * uncertainties add in quadrature. Correlated contributions form a group that enters the effective
 * degrees of freedom as one part with the smallest degrees of freedom in it, because
 * Welch–Satterthwaite holds for independent parts only.
 *
 * Not for sums. `coverageOfBudget` says which interval is the answer.
 *
 * @throws argument-wrong for an uncertainty below zero, degrees of freedom not above zero, a name
 *   used twice, an unknown name or a pair stated twice in `correlations`, or correlations that cannot hold together
 * @see JCGM 100:2008, 5.1.6 (equation 12), 5.2.2 (equation 16), G.4
 */
export function combineContributions(
  inputs: readonly ContributionInput[],
  options: CombineOptions = {},
): CombinedUncertainty {
  const { confidence = 0.95 } = requireOptions(options, {
    confidence: CONFIDENCE,
    correlations: {
      maybe: { list: { fields: { between: { list: 'text' }, coefficient: 'number' } } },
    },
  });
  requireShape(inputs, 'The contributions', CONTRIBUTIONS);
  const names = inputs.map((input) => input.name);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice !== undefined)
    throw argumentWrong('Every contribution needs a name of its own.', twice);

  const matrix = correlationMatrix(names, options.correlations ?? []);
  // The variance alone would not tell: another contribution may hide that of a group below zero.
  correlationRoot(matrix);
  const largest = Math.max(0, ...inputs.map((input) => input.relative_standard_uncertainty));
  const scaled = inputs.map((input) =>
    largest === 0 ? 0 : input.relative_standard_uncertainty / largest,
  );
  const parts = scaled.map((u, i) => matrix[i].reduce((sum, r, j) => sum + r * u * scaled[j], 0));
  const variance = sum(parts);
  const u = largest * Math.sqrt(Math.max(0, variance));
  const dof = effectiveDof(independentParts(inputs, parts, matrix));
  const k = coverageFactor(confidence, dof);
  return {
    relative_standard_uncertainty: u,
    dof,
    coverage_factor: k,
    relative_expanded_uncertainty: k * u,
    budget: inputs.map((input, i) => ({
      name: input.name,
      kind: input.kind ?? 'other',
      relative_standard_uncertainty: input.relative_standard_uncertainty,
      dof: input.dof,
      type: input.type,
      share: variance > 0 ? parts[i] / variance : 0,
      note: input.note,
    })),
  };
}

function correlationMatrix(
  names: readonly string[],
  correlations: readonly ContributionCorrelation[],
): number[][] {
  const matrix: number[][] = names.map((_, i) => names.map((__, j) => (i === j ? 1 : 0)));
  const seen = new Set<string>();
  for (const { between, coefficient } of correlations) {
    const [i, j] = between.map((name) => names.indexOf(name));
    if (i < 0 || j < 0 || i === j) {
      throw argumentWrong(
        'A correlation must name two contributions of the budget.',
        between.join(' and '),
        names.join(', '),
      );
    }
    if (!(Math.abs(coefficient) <= 1)) {
      throw argumentWrong('A correlation coefficient must lie between −1 and 1.', coefficient);
    }
    const pair = [i, j].sort().join();
    if (seen.has(pair))
      throw argumentWrong('A correlation is stated twice.', between.join(' and '));
    seen.add(pair);
    matrix[i][j] = coefficient;
    matrix[j][i] = coefficient;
  }
  return matrix;
}

/** Groups that hang together by correlation, each as one part with its smallest dof. */
function independentParts(
  inputs: readonly ContributionInput[],
  parts: readonly number[],
  matrix: readonly (readonly number[])[],
) {
  const seen = new Set<number>();
  return inputs.flatMap((_, start) => {
    const group: number[] = [];
    const waiting = [start];
    while (waiting.length > 0) {
      const i = waiting.pop() as number;
      if (seen.has(i)) continue;
      seen.add(i);
      group.push(i);
      matrix[i].forEach((r, j) => {
        if (r !== 0) waiting.push(j);
      });
    }
    const active = group.filter((i) => inputs[i].relative_standard_uncertainty > 0);
    if (active.length === 0) return [];
    return [
      {
        standard_uncertainty: Math.sqrt(Math.max(0, sum(group.map((i) => parts[i])))),
        dof: Math.min(...active.map((i) => inputs[i].dof)),
      },
    ];
  });
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
