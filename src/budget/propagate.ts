import { argumentWrong, failure } from '../error.js';
import { coverageFactor } from '../statistics/distributions.js';
import { effectiveDof, requireDof } from '../statistics/effectiveDof.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { sentences } from '../statistics/sentences.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import { type Model, partialDerivative, secondOrderVariance } from './derivatives.js';
import { correlationRoot } from './draws.js';

export interface ModelInput {
  readonly name: string;
  readonly value: number;
  readonly standard_uncertainty: number;
  /** Left out: known exactly. */
  readonly dof?: number;
}

export interface PropagateOptions {
  /** The result as a function of its inputs, in the order of `inputs`. */
  readonly model: Model;
  readonly inputs: readonly ModelInput[];
  /** Correlation matrix of the inputs; left out: independent. */
  readonly correlation?: readonly (readonly number[])[];
  /** As a fraction (default 0.95). */
  readonly confidence?: number;
}

export interface PropagatedInput {
  readonly name: string;
  /** c = ∂f/∂x, unit of the result over unit of the input. */
  readonly sensitivity: number;
  /** c·u(x) with its sign, in the unit of the result. */
  readonly effect: number;
  readonly dof: number;
  /** Part of the variance; all add up to 1, and a negative correlation can make one negative. */
  readonly share: number;
}

export interface Propagation {
  readonly value: number;
  readonly standard_uncertainty: number;
  /** `null` for correlated inputs, to which Welch–Satterthwaite does not apply (see `why`). */
  readonly dof: number | null;
  readonly coverage_factor: number | null;
  readonly expanded_uncertainty: number | null;
  readonly inputs: readonly PropagatedInput[];
  /**
   * Standard uncertainty with the terms of next order, for independent inputs; `null` when it
   * cannot be had. Well above `standard_uncertainty`: the model bends too much for the formula.
   */
  readonly second_order_standard_uncertainty: number | null;
  /** Why something is `null`; empty otherwise. */
  readonly why: string;
}

const PROPAGATION: Shape = {
  fields: {
    standard_uncertainty: 'not-negative',
    inputs: { list: { fields: { name: 'text', effect: 'number' } } },
  },
};

/**
 * What do the uncertainties of the inputs make of the result y = f(x₁ … x_N)? (Law of propagation
 * of uncertainty, sensitivity coefficients by central differences.)
 *
 * Not where `second_order_standard_uncertainty` differs by more than a few percent: use
 * `monteCarlo` there.
 *
 * @throws argument-wrong for impossible inputs or correlations, no-convergence for a model that is
 *   not smooth at the estimates
 * @see JCGM 100:2008, 5.1.2 (equation 10 and note), 5.1.3 (note 2), 5.2.2 (equation 16), G.4
 */
export function propagateUncertainty(options: PropagateOptions): Propagation {
  const { model, inputs, correlation, confidence } = checked(options);
  const at = inputs.map((input) => input.value);
  const value = model(at);
  if (!Number.isFinite(value)) {
    throw argumentWrong('The model must have a finite value at the estimates.', value);
  }
  const sensitivities = sensitivitiesOf(model, inputs);
  const effects = sensitivities.map((one, i) => one.value * inputs[i].standard_uncertainty);
  const parts = varianceParts(effects, correlation);
  const variance = parts.reduce((sum, part) => sum + part, 0);
  const u = Math.sqrt(Math.max(0, variance));
  requireSmooth(sensitivities, inputs, { u, value });
  const correlated = isCorrelated(effects, correlation);
  const dofs = inputs.map((input) => Math.min(KNOWN_EXACTLY, input.dof ?? KNOWN_EXACTLY));
  const dof = dofOf(effects, dofs, correlated);
  const k = dof === null ? null : coverageFactor(confidence, dof);
  const secondOrder = correlated ? null : withSecondOrder(model, inputs, variance);
  return {
    value,
    standard_uncertainty: u,
    dof,
    coverage_factor: k,
    expanded_uncertainty: k === null ? null : k * u,
    inputs: inputs.map((input, i) => ({
      name: input.name,
      sensitivity: sensitivities[i].value,
      effect: effects[i],
      dof: dofs[i],
      share: variance > 0 ? parts[i] / variance : 0,
    })),
    second_order_standard_uncertainty: secondOrder,
    why: whatIsMissing(dof === null, correlated, secondOrder === null),
  };
}

function checked(options: PropagateOptions) {
  const {
    inputs,
    correlation,
    confidence = 0.95,
  } = requireOptions(options, {
    model: 'function',
    inputs: { list: { fields: { name: 'text', value: 'number' } } },
    correlation: { maybe: { list: { list: 'number' } } },
    confidence: CONFIDENCE,
  });
  for (const input of inputs) {
    requireShape(input.standard_uncertainty, `The uncertainty of "${input.name}"`, 'not-negative');
    requireDof(input.dof ?? KNOWN_EXACTLY);
  }
  if (correlation !== undefined) requireCorrelation(correlation, inputs.length);
  return { ...options, confidence };
}

type Correlation = PropagateOptions['correlation'];

const correlationOf = (matrix: Correlation, i: number, j: number) =>
  matrix?.[i][j] ?? (i === j ? 1 : 0);

const sensitivitiesOf = (model: Model, inputs: readonly ModelInput[]) => {
  const at = inputs.map((input) => input.value);
  return inputs.map(({ value, standard_uncertainty }, i) =>
    partialDerivative(model, at, i, step(value, standard_uncertainty)),
  );
};

/** What each input brings to the variance, its share of the covariances included (equation 16). */
function varianceParts(effects: readonly number[], correlation: Correlation): readonly number[] {
  return effects.map((effect, i) =>
    effects.reduce((sum, other, j) => sum + correlationOf(correlation, i, j) * effect * other, 0),
  );
}

function requireSmooth(
  sensitivities: readonly { readonly value: number; readonly error: number }[],
  inputs: readonly ModelInput[],
  { u, value }: { readonly u: number; readonly value: number },
): void {
  sensitivities.forEach((one, i) => {
    const { name, standard_uncertainty } = inputs[i];
    const slack = 0.01 * Math.max(u, Math.abs(one.value * standard_uncertainty));
    if (one.error * standard_uncertainty <= slack + 1e-12 * Math.abs(value)) return;
    throw failure(
      'no-convergence',
      'The model is not smooth at the estimates, so its sensitivity is not defined.',
      `input "${name}"`,
    );
  });
}

/** Whether two inputs that matter are correlated. */
function isCorrelated(effects: readonly number[], correlation: Correlation): boolean {
  const matters = (i: number) => effects[i] !== 0;
  return (correlation ?? []).some((row, i) =>
    row.some((r, j) => i !== j && r !== 0 && matters(i) && matters(j)),
  );
}

/** Welch and Satterthwaite; `null` where correlated inputs with few degrees of freedom forbid it. */
function dofOf(
  effects: readonly number[],
  dofs: readonly number[],
  correlated: boolean,
): number | null {
  if (correlated && dofs.some((dof, i) => dof < KNOWN_EXACTLY && effects[i] !== 0)) return null;
  return effectiveDof(
    effects.map((effect, i) => ({ standard_uncertainty: Math.abs(effect), dof: dofs[i] })),
  );
}

/** Standard uncertainty with the terms of next order; `null` where they cannot be had. */
function withSecondOrder(
  model: Model,
  inputs: readonly ModelInput[],
  variance: number,
): number | null {
  const next = secondOrderVariance(
    model,
    inputs.map((input) => input.value),
    inputs.map((input) => input.standard_uncertainty),
  );
  return next === null || variance + next < 0 ? null : Math.sqrt(variance + next);
}

function whatIsMissing(dof: boolean, correlated: boolean, secondOrder: boolean): string {
  return sentences([
    dof
      ? 'Welch–Satterthwaite holds for independent inputs only, so there are no degrees of freedom and no U.'
      : '',
    correlated
      ? 'The terms of second order are for independent inputs only.'
      : secondOrder
        ? 'The terms of second order cannot be had: the model has no finite value nearby, or higher orders matter as well.'
        : '',
  ]);
}

/**
 * How are two results correlated that come from the same inputs? For example two factors that
 * share the certificate of the reference. 0 when one of them has no uncertainty.
 *
 * @throws argument-wrong when the results do not have the same inputs, and for a matrix that is not a
 *   correlation matrix of these inputs (a covariance matrix is not)
 * @see JCGM 100:2008, H.2.3, equation (H.9)
 */
export function correlationOfResults(
  first: Propagation,
  second: Propagation,
  correlation?: readonly (readonly number[])[],
): number {
  requireShape(first, 'The first result', PROPAGATION);
  requireShape(second, 'The second result', PROPAGATION);
  requireShape(correlation, 'The correlations', { maybe: { list: { list: 'number' } } });
  const names = (one: Propagation) => one.inputs.map((input) => input.name).join(', ');
  if (names(first) !== names(second)) {
    throw argumentWrong('Both results must have the same inputs.', names(second), names(first));
  }
  if (correlation !== undefined) requireCorrelation(correlation, first.inputs.length);
  let covariance = 0;
  first.inputs.forEach((a, i) => {
    second.inputs.forEach((b, j) => {
      covariance += correlationOf(correlation, i, j) * a.effect * b.effect;
    });
  });
  const scale = first.standard_uncertainty * second.standard_uncertainty;
  return scale === 0 ? 0 : Math.min(1, Math.max(-1, covariance / scale));
}

function requireCorrelation(matrix: readonly (readonly number[])[], inputs: number): void {
  if (matrix.length !== inputs) {
    throw argumentWrong('The correlation matrix must have a row for every input.', matrix.length);
  }
  correlationRoot(matrix);
}

/** x ± u is the step of JCGM 100:2008, 5.1.3, note 2; wider where u would drown in rounding. */
function step(x: number, u: number): number {
  return Math.max(u, 1e-4 * Math.abs(x)) || 1e-4;
}
