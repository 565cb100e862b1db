import { meanOfEstimates } from '../statistics/meanOfEstimates.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import type { StepResponse } from './stepResponse.js';

export interface CombinedTimeConstant {
  /** In s; `null` when no trace could be fitted. */
  readonly value_s: number | null;
  readonly standard_uncertainty_s: number | null;
  readonly dof: number | null;
  /** Traces that entered. */
  readonly traces: number;
  readonly why: string;
}

const FITTED: Shape = {
  fields: {
    time_constant_s: { fields: { value: 'above-zero', standard_uncertainty: 'not-negative' } },
    dof: 'above-zero',
  },
};

/**
 * One time constant of a meter from several traces, with what differs from trace to trace in its
 * uncertainty.
 *
 * @param fits what `fitStepResponse` returned for traces of one meter; refused ones are left out
 * @returns mean with s/√m and m − 1 degrees of freedom for m traces (the mean of the fits' own
 *   uncertainties where that is larger, which is with their degrees of freedom); for one trace its own
 * @throws argument-wrong
 * Source: JCGM 100:2008, 4.2.
 */
export function combineTimeConstants(fits: readonly StepResponse[]): CombinedTimeConstant {
  requireShape(fits, 'The fits', { list: { fields: { status: ['fitted', 'refused'] } } });
  for (const fit of fits) if (fit.status === 'fitted') requireShape(fit, 'A fit', FITTED);
  const fitted = fits.filter((fit) => fit.status === 'fitted');
  if (fitted.length === 0) {
    return {
      value_s: null,
      standard_uncertainty_s: null,
      dof: null,
      traces: 0,
      why: 'No trace gave a time constant.',
    };
  }
  const { value, standardUncertainty, scatters } = meanOfEstimates(
    fitted.map(({ time_constant_s: one }) => ({
      value: one.value,
      standardUncertainty: one.standard_uncertainty,
    })),
  );
  const left = fits.length - fitted.length;
  return {
    value_s: value,
    standard_uncertainty_s: standardUncertainty,
    dof: scatters ? fitted.length - 1 : fitted.reduce((sum, fit) => sum + fit.dof, 0),
    traces: fitted.length,
    why: left === 0 ? '' : `${left} of ${fits.length} traces gave no time constant.`,
  };
}
