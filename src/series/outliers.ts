/** Which runs look odd by statistics alone, after the drift and the meter effect are taken out? */

import { formatNumber, TWO_DIGITS } from '../findings/formatNumber.js';
import { generalisedEsd } from '../statistics/generalisedEsd.js';
import { grubbs } from '../statistics/grubbs.js';
import { farFromMedian } from '../statistics/medianDeviation.js';
import type { TwoGroupFit } from '../statistics/twoGroupFit.js';
import type { Flag, Run } from '../vocabulary.js';
import { groupOf } from './groupOf.js';

const ESD_LEAST = 15;
const GRUBBS_LEAST = 7;
const ALPHA = 0.05;
/** Residuals below this are rounding of the arithmetic. */
const NEGLIGIBLE = 1e-9;

/**
 * Flags runs by their drift residuals, each in units of its own standard deviation
 * (`scaleOfMeters`): generalised ESD from 15 runs on, Grubbs from 7 to 14; where neither finds anything, the median deviation (at
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
  // Readings that repeat exactly leave the dust of the arithmetic; nothing is odd about that.
  if (fit.residuals.every((residual) => Math.abs(residual) < NEGLIGIBLE)) return [];
  const scales = scaleOfMeters(runs, fit);
  const scaled = runs.map((run, i) => {
    const variance = Math.max(scales[groupOf(run)], rounding[i] ** 2);
    return fit.residuals[i] / Math.sqrt(variance * Math.max(fit.residualFactors[i], 0.05));
  });
  const flag = (index: number, test: Flag['test'], words: string): Flag => {
    const off = 100 * Math.expm1(fit.residuals[index]);
    const digits = Math.abs(off) < 0.1 ? TWO_DIGITS : { places: 1 };
    return {
      run: runs[index].run,
      meter: runs[index].meter,
      test,
      message: `run ${runs[index].run} (${runs[index].meter}) lies ${formatNumber(off, { ...digits, unit: '%' })} from the drift of the series: ${words}`,
    };
  };
  if (runs.length >= ESD_LEAST) {
    const most = Math.floor(runs.length / 5);
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

/**
 * Variance by which each meter's residuals are judged: without the meter's largest one, which must
 * not hide behind the spread that it makes itself, and drawn towards the mean of both meters by
 * 4/n on the log scale, because few residuals know little. (Shrinkage chosen by simulation.)
 */
function scaleOfMeters(runs: readonly Run[], fit: TwoGroupFit): readonly [number, number] {
  const groups = ([0, 1] as const).map((group) => {
    const own = runs
      .flatMap((run, i) =>
        groupOf(run) === group
          ? [{ square: fit.residuals[i] ** 2, factor: fit.residualFactors[i] }]
          : [],
      )
      .sort((a, b) => b.square / b.factor - a.square / a.factor);
    const rest = own.slice(1);
    const factor = rest.reduce((sum, one) => sum + one.factor, 0);
    const squares = rest.reduce((sum, one) => sum + one.square, 0);
    return { size: own.length, variance: factor > 0 ? squares / factor : 0 };
  });
  const centre = (groups[0].variance + groups[1].variance) / 2;
  const drawn = ({ size, variance }: (typeof groups)[number]) => {
    const share = Math.max(0, 1 - 4 / size);
    return Math.max(variance ** share * centre ** (1 - share), NEGLIGIBLE ** 2);
  };
  return [drawn(groups[0]), drawn(groups[1])];
}
