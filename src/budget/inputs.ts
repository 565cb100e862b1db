import { argumentWrong } from '../error.js';
import { coverageFactor, normalQuantile } from '../statistics/distributions.js';
import { requireDof } from '../statistics/effectiveDof.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';

/** How well the statement itself is known; both left out: taken as known exactly. */
export interface HowWellKnown {
  readonly dof?: number;
  /** Relative uncertainty of the stated uncertainty, for example 0.25 for "give or take a quarter". */
  readonly relative_uncertainty?: number;
}

/**
 * The shapes in which uncertainties come. Amounts in any one unit, or as fractions.
 *
 * - `normal`: expanded uncertainty with its coverage factor, as on a certificate
 * - `interval`: half-width of an interval with a stated confidence level (and `dof`, if stated)
 * - `rectangular`: "± half_width", nothing else known
 * - `triangular`: limits ± half_width, values near the middle likelier
 * - `arcsine`: something that swings between ± half_width (a thermostat)
 * - `trapezoid`: limits ± half_width, flat over ± half_width · top_to_base
 * - `resolution`: one step of a display
 */
export type UncertaintyStatement =
  | ({
      readonly shape: 'normal';
      readonly expanded_uncertainty: number;
      readonly coverage_factor: number;
    } & HowWellKnown)
  | ({
      readonly shape: 'interval';
      readonly half_width: number;
      readonly confidence: number;
    } & HowWellKnown)
  | ({
      readonly shape: 'rectangular' | 'triangular' | 'arcsine';
      readonly half_width: number;
    } & HowWellKnown)
  | ({
      readonly shape: 'trapezoid';
      readonly half_width: number;
      /** Width of the flat top over width of the base, 0 (triangle) to 1 (rectangle). */
      readonly top_to_base: number;
    } & HowWellKnown)
  | ({ readonly shape: 'resolution'; readonly step: number } & HowWellKnown);

export interface StandardUncertainty {
  /** In the unit of the statement. */
  readonly standard_uncertainty: number;
  readonly dof: number;
}

/**
 * What standard uncertainty stands behind a certificate, a specification or a display step?
 *
 * @returns the standard uncertainty and its degrees of freedom: stated, or from how well the
 *   statement is known, or `KNOWN_EXACTLY`
 * @throws argument-wrong for a negative width, a coverage factor not above zero, a ratio outside
 *   0 to 1, or when both `dof` and `relative_uncertainty` are given
 * @see JCGM 100:2008, 4.3.3 (normal), 4.3.4 (interval), 4.3.7 (rectangular), 4.3.9 (trapezoid,
 *   triangle), F.2.2.1 (resolution), H.1.3.4 (arcsine)
 */
export function standardUncertainty(statement: UncertaintyStatement): StandardUncertainty {
  requireOptions(statement, {
    shape: true,
    expanded_uncertainty: true,
    coverage_factor: true,
    half_width: true,
    confidence: true,
    top_to_base: true,
    step: true,
    dof: true,
    relative_uncertainty: true,
  });
  const dof = statedDof(statement);
  return { standard_uncertainty: amount(statement) / divisor(statement, dof), dof };
}

/**
 * How many degrees of freedom does an uncertainty have that is itself only known to within
 * `relative_uncertainty`? ν = 1 / (2 relative_uncertainty²); one of zero gives `KNOWN_EXACTLY`.
 *
 * @throws argument-wrong for one below zero
 * @see JCGM 100:2008, G.4.2, equation (G.3)
 */
export function dofFromRelativeUncertainty(relative: number): number {
  requireShape(relative, 'The relative uncertainty of an uncertainty', 'not-negative');
  return relative === 0 ? KNOWN_EXACTLY : Math.min(KNOWN_EXACTLY, 1 / (2 * relative ** 2));
}

function statedDof({ dof, relative_uncertainty }: HowWellKnown): number {
  if (dof !== undefined && relative_uncertainty !== undefined) {
    throw argumentWrong(
      'State either the degrees of freedom or the relative uncertainty of the statement, not both.',
    );
  }
  if (dof !== undefined) {
    requireDof(dof);
    return Math.min(KNOWN_EXACTLY, dof);
  }
  return dofFromRelativeUncertainty(relative_uncertainty ?? 0);
}

function amount(statement: UncertaintyStatement): number {
  const value =
    statement.shape === 'normal'
      ? statement.expanded_uncertainty
      : statement.shape === 'resolution'
        ? statement.step
        : statement.half_width;
  requireShape(value, 'A stated uncertainty', 'not-negative');
  return value;
}

function divisor(statement: UncertaintyStatement, dof: number): number {
  switch (statement.shape) {
    case 'normal':
      requireShape(statement.coverage_factor, 'A coverage factor', 'above-zero');
      return statement.coverage_factor;
    case 'interval':
      requireConfidence(statement.confidence);
      // Only a stated dof says that the interval came from t; a doubt about it does not.
      return statement.dof === undefined || dof >= KNOWN_EXACTLY
        ? normalQuantile(0.5 + statement.confidence / 2)
        : coverageFactor(statement.confidence, dof);
    case 'rectangular':
      return Math.sqrt(3);
    case 'triangular':
      return Math.sqrt(6);
    case 'arcsine':
      return Math.SQRT2;
    case 'trapezoid':
      if (!(statement.top_to_base >= 0 && statement.top_to_base <= 1)) {
        throw argumentWrong('top_to_base must lie between 0 and 1.', statement.top_to_base);
      }
      return Math.sqrt(6 / (1 + statement.top_to_base ** 2));
    case 'resolution':
      return Math.sqrt(12);
  }
}
