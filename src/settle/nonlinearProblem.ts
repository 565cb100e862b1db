/** What a nonlinear fit is given and what it returns. */

/** A curve with its derivatives. */
export interface Curve {
  readonly value: (parameters: readonly number[], x: number) => number;
  /** Partial derivatives by the parameters, in their order. */
  readonly gradient: (parameters: readonly number[], x: number) => readonly number[];
}

export interface NonlinearFit {
  readonly parameters: readonly number[];
  /** Covariance of the free parameters for unit variance; 0 for those held fixed. */
  readonly unscaledCovariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
  readonly dof: number;
}

export interface NonlinearProblem {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly curve: Curve;
  readonly start: readonly number[];
  /** Least allowed values; −∞ where left out. */
  readonly lower?: readonly number[];
  /** Which parameters keep their start value. */
  readonly fixed?: readonly boolean[];
  /** A parameter in which the curve has kinks (an onset), so that the best fit may sit on one. */
  readonly kinked?: number;
  /** Levenberg–Marquardt iterations before the Gauss–Newton steps (default 150). */
  readonly iterations?: number;
}
