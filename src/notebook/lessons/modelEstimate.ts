import { argumentWrong } from '../../error.js';
import { driftModel } from '../../series/driftModel.js';
import { seriesFactor } from '../../series/seriesFactor.js';
import type { Series } from '../../vocabulary.js';
import type { Estimate } from './lapEstimate.js';

/**
 * K of a series as the comparison computes it: the drift of the source is part of the model.
 *
 * @throws argument-wrong where the series gives no interval; too-few-values as `driftModel`
 */
export function modelEstimate(
  series: Pick<Series, 'runs'>,
  options: { readonly confidence?: number } = {},
): Estimate {
  const parts = seriesFactor(
    driftModel(series.runs),
    { reference: null, candidate: null },
    options.confidence ?? 0.95,
  );
  const { value = null, low = null, high = null } = parts?.factor ?? {};
  if (value === null || low === null || high === null) {
    throw argumentWrong('The series gives no interval.');
  }
  return { value, low, high };
}
