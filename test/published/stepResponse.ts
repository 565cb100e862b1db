import { nonlinearLeastSquares } from '../../src/settle/nonlinearLeastSquares.js';
import { type Figure, figure, once } from './figure.js';

/** y = b1 (1 − e^(−b2 x)), the step response of a first-order sensor. */
const curve = {
  value: ([b1, b2]: readonly number[], t: number) => -b1 * Math.expm1(-b2 * t),
  gradient: ([b1, b2]: readonly number[], t: number) => [
    -Math.expm1(-b2 * t),
    b1 * t * Math.exp(-b2 * t),
  ],
};

/** The fit from one of NIST's starts. */
export const fitFrom = (
  x: readonly number[],
  y: readonly number[],
  start: readonly [number, number],
) => once(() => nonlinearLeastSquares({ x, y, curve, start }));

type Fit = ReturnType<typeof fitFrom>;

/** Certified values, each against the worse of the fits from both starts. */
export function certified(
  printed: { readonly [quantity: string]: string },
  fits: readonly [Fit, Fit],
): Figure[] {
  const of: { readonly [quantity: string]: (fit: ReturnType<Fit>) => number } = {
    b1: (fit) => fit.parameters[0],
    b2: (fit) => fit.parameters[1],
    's(b1)': (fit) => residualSd(fit) * Math.sqrt(fit.unscaledCovariance[0][0]),
    's(b2)': (fit) => residualSd(fit) * Math.sqrt(fit.unscaledCovariance[1][1]),
    'residual sum of squares': (fit) => fit.residualSumOfSquares,
    'residual sd': residualSd,
  };
  return Object.entries(printed).map(([quantity, value]) =>
    figure(quantity, value, () => {
      const [one, other] = fits.map((from) => of[quantity](from()));
      const off = (found: number) => Math.abs(found - Number(value));
      return off(one) > off(other) ? one : other;
    }),
  );
}

function residualSd(fit: ReturnType<Fit>): number {
  return Math.sqrt(fit.residualSumOfSquares / fit.dof);
}
