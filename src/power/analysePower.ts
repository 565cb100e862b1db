/** Does the factor depend on the power, and how far off is a series that it has not seen? */

import { significant } from '../findings/formatNumber.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import { sentences } from '../statistics/sentences.js';
import type {
  LeftOutPrediction,
  PowerBend,
  PowerDependence,
  PowerResult,
  Study,
  Warning,
} from '../vocabulary.js';
import { leaveOneSeriesOut } from './lines/leaveOneSeriesOut.js';
import { bend, bendByPooledScatter, bendOverall } from './powerBend.js';
import { NO_OFFSET, offset } from './powerOffset.js';
import { type PowerPoint, pointOf, rangeOf } from './powerPoints.js';

/**
 * By wavelength and over all of them. The candidate's mean is the reference's mean divided by the
 * series' factor, so that drift and order leave no trace.
 *
 * @param series those that look at the wanted line alone
 */
export function analysePower(
  study: Study,
  series: readonly SeriesAnalysis[],
): { readonly result: PowerResult; readonly warnings: readonly Warning[] } {
  const points = series.flatMap(pointOf);
  const groups = [...new Set(points.map((one) => one.wavelength_nm))]
    .sort((a, b) => a - b)
    .map((nm) => points.filter((one) => one.wavelength_nm === nm));
  const byWavelength = groups.map((group): PowerDependence => {
    const others = groups.filter((other) => other !== group);
    return {
      wavelength_nm: group[0].wavelength_nm,
      series: group.map(({ id }) => id),
      range_mW: rangeOf(group),
      bend: bend(group, study),
      bend_by_pooled_scatter: bendByPooledScatter([group], others, study),
      offset: offset(group, study),
      prediction: prediction(group),
    };
  });
  const repeated = groups.filter((group) => group.length > 1);
  const overall: PowerDependence = {
    wavelength_nm: null,
    series: points.map(({ id }) => id),
    range_mW: rangeOf(points),
    bend: bendOverall(repeated, study),
    bend_by_pooled_scatter: bendByPooledScatter(repeated, [], study),
    offset: {
      ...NO_OFFSET,
      why: 'Every wavelength has a factor of its own, which takes up an offset: only several powers at one wavelength show it.',
    },
    prediction: prediction(points),
  };
  return {
    result: { by_wavelength: byWavelength, overall },
    warnings: byWavelength.flatMap(warnings),
  };
}

function prediction(points: readonly PowerPoint[]): LeftOutPrediction {
  const found = leaveOneSeriesOut(points);
  return {
    predicted: found.predicted,
    rms_error_percent: found.rms_error_percent,
    uncorrected_rms_error_percent: found.uncorrected_rms_error_percent,
    series: found.series.map(({ id, error_percent, why }) => ({ id, error_percent, why })),
    why: sentences([
      found.why,
      found.predicted > 0 ? 'What the reference itself is off does not show here.' : '',
    ]),
  };
}

/**
 * The bend that counts, of the two ways to judge it: the one that is shown, low before high, because
 * a few series by themselves see large bends only and their "not shown" is no answer to the other.
 */
export function decidingBend(
  one: Pick<PowerDependence, 'bend' | 'bend_by_pooled_scatter'>,
): PowerBend {
  const bends = [one.bend, one.bend_by_pooled_scatter];
  const by = (verdict: PowerBend['verdict']) => bends.find((found) => found.verdict === verdict);
  return by('reads-low-at-the-top') ?? by('reads-high-at-the-top') ?? by('not-shown') ?? one.bend;
}

function warnings(one: PowerDependence): Warning[] {
  const shown = decidingBend(one);
  if (shown.verdict !== 'reads-low-at-the-top' || shown.at_top_percent === null) return [];
  return [
    {
      code: 'reads-low-at-the-top',
      message: `At ${one.wavelength_nm} nm the candidate reads ${significant(Math.abs(shown.at_top_percent), 2)} % lower at ${significant(shown.top_mW ?? 0, 3)} mW than its readings at low power promise. The factor of that level holds there; one measured at low power would make the laser look weaker than it is.`,
    },
  ];
}
