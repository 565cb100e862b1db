import { argumentWrong, failure } from '../error.js';
import { requireShape } from '../statistics/shapes.js';

/** A result as a function of its inputs. */
export type Model = (inputs: readonly number[]) => number;

export interface Derivative {
  readonly value: number;
  /** Estimate of what extrapolation and rounding leave. */
  readonly error: number;
}

/**
 * ∂f/∂xᵢ by central differences with shrinking steps, extrapolated to step zero (Ridders 1982;
 * Neville's scheme). Starts at `step` and halves it first while the model has no finite value there.
 *
 * @param at the inputs, at which the derivative is taken
 * @param index which of them, from 0
 * @param step the first step of that input, for example its standard uncertainty
 * @throws argument-wrong, no-convergence when the model has no finite value on both sides of the point
 */
export function partialDerivative(
  model: Model,
  at: readonly number[],
  index: number,
  step: number,
): Derivative {
  requireShape(model, 'The model', 'function');
  requireShape(at, 'The inputs', { list: 'number' });
  requireShape(step, 'The step', 'above-zero');
  if (!(Number.isInteger(index) && index in at)) {
    throw argumentWrong('There is no such input.', index, `0 to ${at.length - 1}`);
  }
  const x = [...at];
  const difference = (h: number): number => {
    x[index] = at[index] + h;
    const above = model(x);
    const up = x[index];
    x[index] = at[index] - h;
    const below = model(x);
    // The step as it was really taken, after rounding of x ± h.
    return (above - below) / (up - x[index]);
  };
  let h = step;
  for (let i = 0; i < 60 && !Number.isFinite(difference(h)); i++) h /= 2;
  if (!Number.isFinite(difference(h))) {
    throw failure(
      'no-convergence',
      'The model has no finite value next to the estimates, so no sensitivity.',
      `input ${index + 1} at ${at[index]}`,
    );
  }
  const shrink = 1.4;
  const table: number[][] = [[difference(h)]];
  let best: Derivative = { value: table[0][0], error: Number.POSITIVE_INFINITY };
  for (let i = 1; i < 14; i++) {
    h /= shrink;
    const row = [difference(h)];
    let weight = shrink * shrink;
    for (let j = 1; j <= i; j++) {
      row.push((row[j - 1] * weight - table[i - 1][j - 1]) / (weight - 1));
      weight *= shrink * shrink;
      const error = Math.max(Math.abs(row[j] - row[j - 1]), Math.abs(row[j] - table[i - 1][j - 1]));
      if (error <= best.error) best = { value: row[j], error };
    }
    table.push(row);
  }
  return best;
}

/**
 * The next terms of the variance beyond Σ cᵢ²u²(xᵢ), for independent, normal inputs:
 * Σᵢ Σⱼ [½ fᵢⱼ² + fᵢ fᵢⱼⱼ] u²(xᵢ) u²(xⱼ). `null` where the model has no finite value nearby.
 *
 * @see JCGM 100:2008, 5.1.2, note
 */
export function secondOrderVariance(
  model: Model,
  at: readonly number[],
  uncertainties: readonly number[],
): number | null {
  // In units of the standard uncertainties, with a tenth of one as step: derivatives are then the
  // terms themselves, and far from rounding even where u is a millionth of x.
  const h = 0.1;
  const f = (...moves: readonly (readonly [index: number, steps: number])[]): number => {
    const x = [...at];
    for (const [index, steps] of moves) x[index] += steps * h * uncertainties[index];
    return model(x);
  };
  const centre = f();
  const active = uncertainties.flatMap((u, i) => (u > 0 ? [i] : []));
  let total = 0;
  for (const i of active) {
    const slope = (f([i, 1]) - f([i, -1])) / (2 * h);
    for (const j of active) {
      let mixed: number;
      let third: number;
      if (i === j) {
        mixed = (f([i, 1]) - 2 * centre + f([i, -1])) / h ** 2;
        third = (f([i, 2]) - 2 * f([i, 1]) + 2 * f([i, -1]) - f([i, -2])) / (2 * h ** 3);
      } else {
        const corner = (a: number, b: number) => f([i, a], [j, b]);
        mixed = (corner(1, 1) - corner(1, -1) - corner(-1, 1) + corner(-1, -1)) / (4 * h ** 2);
        third =
          (corner(1, 1) -
            2 * f([i, 1]) +
            corner(1, -1) -
            (corner(-1, 1) - 2 * f([i, -1]) + corner(-1, -1))) /
          (2 * h ** 3);
      }
      total += 0.5 * mixed ** 2 + slope * third;
    }
  }
  return Number.isFinite(total) ? total : null;
}
