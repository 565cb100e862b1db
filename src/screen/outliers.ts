/** Which runs look odd by statistics alone, after the drift and the meter effect are taken out? */

import { generalisedEsd } from '../statistics/generalisedEsd.js';
import { grubbs } from '../statistics/grubbs.js';
import { farFromMedian } from '../statistics/medianDeviation.js';
import type { TwoGroupFit } from '../statistics/twoGroupFit.js';
import type { Flag, Run } from '../vocabulary.js';

const ESD_LEAST = 15;
const GRUBBS_LEAST = 7;
const ALPHA = 0.05;

/**
 * Flags runs by their drift residuals, each in units of its own standard deviation: generalised
 * ESD from 15 runs on, Grubbs from 7 to 14; where neither finds anything, the median deviation (at
 * 5 robust standard deviations) has a second look. A flag is no reason: nothing is left out for it
 * unless the protocol says so.
 *
 * @param runs the kept runs
 * @param fit their drift model
 * @param rounding relative standard uncertainty of each run's display step (a floor for the scale)
 */
export function outlierFlags(
  runs: readonly Run[],
  fit: TwoGroupFit,
  rounding: readonly number[],
): Flag[] {
  const scaled = runs.map((run, i) => {
    const variance = Math.max(
      fit.variances[run.meter === 'reference' ? 0 : 1],
      rounding[i] ** 2,
      1e-14,
    );
    return fit.residuals[i] / Math.sqrt(variance * Math.max(fit.residualFactors[i], 0.05));
  });
  const flag = (index: number, test: Flag['test'], words: string): Flag => ({
    run: runs[index].run,
    meter: runs[index].meter,
    test,
    message: `run ${runs[index].run} (${runs[index].meter}) lies ${(100 * Math.expm1(fit.residuals[index])).toFixed(1)} % from the drift of the series: ${words}`,
  });
  if (runs.length >= ESD_LEAST) {
    const most = Math.max(1, Math.floor(runs.length / 5));
    const { outliers } = generalisedEsd(scaled, { most, alpha: ALPHA });
    if (outliers.length > 0) {
      return outliers.map((index) =>
        flag(index, 'generalised-esd', 'an outlier by the generalised ESD test at 5 %'),
      );
    }
  } else if (runs.length >= GRUBBS_LEAST) {
    const result = grubbs(scaled, { alpha: ALPHA });
    if (result.outlier) {
      return [flag(result.index, 'grubbs', "an outlier by Grubbs' test at 5 %")];
    }
  }
  if (runs.length < GRUBBS_LEAST) return [];
  return farFromMedian(scaled, { limit: 5 }).map((index) =>
    flag(index, 'mad', 'more than 5 robust standard deviations from the median'),
  );
}
