/** One point a series: what the questions about the power are asked of, and when they cannot be. */

import { MeterpairError } from '../error.js';
import { significant } from '../findings/formatNumber.js';
import { runsOn } from '../record/meters.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import type { SeriesEstimate } from '../series/combineSeries.js';
import { mean } from '../statistics/summary.js';
import { POWERS_APART, type PowerDependence } from '../vocabulary.js';
import type { SeriesMeans } from './lines/leaveOneSeriesOut.js';

/** One series: a single point, because its runs share its drift and its placement. */
export interface PowerPoint extends SeriesMeans {
  readonly estimate: SeriesEstimate;
}

/** Nothing for a series without a factor. */
export function pointOf({ result, model }: SeriesAnalysis): PowerPoint[] {
  const { value, relative_standard_uncertainty: u, dof } = result.factor;
  const readings = runsOn(model?.runs ?? [], 'reference');
  if (value === null || u === null || dof === null || readings.length === 0) return [];
  const reference = mean(readings.map((run) => run.reading_mW));
  return [
    {
      id: result.id,
      wavelength_nm: result.wavelength_nm,
      reference_mean_mW: reference,
      candidate_mean_mW: reference / value,
      estimate: { id: result.id, logFactor: Math.log(value), standardUncertainty: u, dof },
    },
  ];
}

export const readingsOf = (points: readonly PowerPoint[]) => ({
  reference_mW: points.map((one) => one.reference_mean_mW),
  candidate_mW: points.map((one) => one.candidate_mean_mW),
});

export function rangeOf(points: readonly PowerPoint[]): PowerDependence['range_mW'] {
  if (points.length === 0) return null;
  const powers = points.map((one) => one.reference_mean_mW);
  return [Math.min(...powers), Math.max(...powers)];
}

/** Why these series cannot show a bend; empty when they can. */
export function tooFew(points: readonly PowerPoint[], least: number): string {
  if (points.length < least) {
    return `This needs ${least} series at different powers; there ${points.length === 1 ? 'is 1' : `are ${points.length}`}.`;
  }
  const [low, high] = rangeOf(points) ?? [1, 1];
  return high >= POWERS_APART * low
    ? ''
    : `The powers lie too close together (${significant(low, 3)} to ${significant(high, 3)} mW): the highest should be ${POWERS_APART} times the lowest.`;
}

/** Empty when at least one group spans enough power and there are `least` series. */
export function spreadWithin(groups: readonly (readonly PowerPoint[])[], least: number): string {
  const reasons = groups.map((group) => tooFew(group, 2));
  if (groups.flat().length < least) return tooFew(groups.flat(), least);
  return reasons.includes('')
    ? ''
    : (reasons[0] ?? 'No wavelength has two series with a factor at different powers.');
}

/** A reason not to compute it, and what the method refuses for these data, in words. */
export function unless<T extends { readonly why: string }>(
  why: string,
  none: T,
  compute: () => T,
): T {
  if (why !== '') return { ...none, why };
  try {
    return compute();
  } catch (error) {
    if (error instanceof MeterpairError) return { ...none, why: error.message };
    throw error;
  }
}
