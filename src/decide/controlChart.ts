/** Re-checks of one factor in the order of time: is anything but chance at work? */
import { argumentWrong } from '../error.js';
import { mean, requireValues } from '../statistics/summary.js';
import type { Interval } from '../vocabulary.js';

export interface ControlChartInput {
  /** One factor per re-check, oldest first. */
  readonly values: readonly number[];
  /** Standard uncertainty of each without what all have in common, same unit. */
  readonly standardUncertainties?: readonly number[];
  /** How many of the first values set centre and limits; all when left out. */
  readonly baseline?: number;
}

/** What a point breaks, in the order of how loudly it speaks. */
export type ChartSignal =
  | 'beyond the limits'
  | 'two of three beyond two thirds of the limit'
  | 'four of five beyond a third of the limit'
  | 'eight in a row on one side';

export interface ChartPoint {
  readonly value: number;
  /** Distance from the previous point; `null` for the first. */
  readonly movingRange: number | null;
  readonly signals: readonly ChartSignal[];
}

export interface ControlChartResult {
  readonly centre: number;
  /** Standard deviation from the mean moving range. */
  readonly sigma: number;
  /** Centre ± 3 sigma. */
  readonly limits: Interval;
  /** Centre ± 3 root-mean-square standard uncertainties; `null` when none were given. */
  readonly limitsFromUncertainty: Interval | null;
  /** Scatter found over scatter that the uncertainties explain; `null` when none were given. */
  readonly scatterRatio: number | null;
  readonly points: readonly ChartPoint[];
  readonly inControl: boolean;
  readonly why: string;
}

/** Mean range of two values from a normal distribution, in standard deviations: 2/√π. */
const D2 = 1.128;

/**
 * Chart of single values with limits from the moving range: centre ± 3·MR̄/1.128.
 *
 * Signals: a point beyond three sigma; two of three beyond two sigma on one side; four of five
 * beyond one sigma on one side; eight in a row on one side of the centre.
 *
 * @throws too-few-values below three values in the baseline, argument-wrong for a baseline longer
 *   than the data or uncertainties that do not match
 *
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (limits) and 6.3.2 (signals).
 */
export function controlChart(input: ControlChartInput): ControlChartResult {
  const { values, standardUncertainties } = input;
  requireValues(values, 3, 'A control chart');
  const baseline = input.baseline ?? values.length;
  if (!Number.isInteger(baseline) || baseline < 3 || baseline > values.length) {
    throw argumentWrong('A baseline holds at least 3 of the values.', baseline);
  }
  if (standardUncertainties !== undefined) {
    requireValues(standardUncertainties, values.length, 'A control chart with uncertainties');
    if (
      standardUncertainties.length !== values.length ||
      standardUncertainties.some((u) => u < 0)
    ) {
      throw argumentWrong('Every value needs one standard uncertainty of 0 or more.');
    }
  }
  const ranges = values.map((value, i) => (i === 0 ? null : Math.abs(value - values[i - 1])));
  const centre = mean(values.slice(0, baseline));
  const sigma = mean(ranges.slice(1, baseline) as number[]) / D2;
  const rms =
    standardUncertainties === undefined
      ? null
      : Math.sqrt(mean(standardUncertainties.map((u) => u ** 2)));
  const points = values.map((value, i) => ({
    value,
    movingRange: ranges[i],
    signals: signalsAt(values.slice(0, i + 1), centre, sigma),
  }));
  const scatterRatio = rms === null || rms === 0 ? null : sigma / rms;
  const inControl = points.every((point) => point.signals.length === 0);
  return {
    centre,
    sigma,
    limits: [centre - 3 * sigma, centre + 3 * sigma],
    limitsFromUncertainty: rms === null ? null : [centre - 3 * rms, centre + 3 * rms],
    scatterRatio,
    points,
    inControl,
    why: explain(points, baseline, scatterRatio),
  };
}

/** Signals that the last of `values` completes. */
function signalsAt(
  values: readonly number[],
  centre: number,
  sigma: number,
): readonly ChartSignal[] {
  const signals: ChartSignal[] = [];
  const last = values[values.length - 1];
  const side = Math.sign(last - centre);
  if (side === 0) return signals;
  const beyond = (count: number, sigmas: number) =>
    values.slice(-count).filter((value) => side * (value - centre) > sigmas * sigma).length;
  // A window counts only when its last point is one of those beyond.
  const lastBeyond = (sigmas: number) => side * (last - centre) > sigmas * sigma;
  if (lastBeyond(3)) signals.push('beyond the limits');
  if (lastBeyond(2) && beyond(3, 2) >= 2)
    signals.push('two of three beyond two thirds of the limit');
  if (lastBeyond(1) && beyond(5, 1) >= 4) signals.push('four of five beyond a third of the limit');
  if (values.length >= 8 && beyond(8, 0) === 8) signals.push('eight in a row on one side');
  return signals;
}

function explain(points: readonly ChartPoint[], baseline: number, ratio: number | null): string {
  const odd = points.flatMap((point, i) => (point.signals.length > 0 ? [i + 1] : []));
  const head =
    odd.length === 0
      ? `None of ${points.length} re-checks stands out.`
      : `Re-check ${odd.join(', ')} of ${points.length}: ${points[odd[0] - 1].signals[0]}. Look for a cause before using the factor.`;
  const scatter =
    ratio !== null && ratio > 1.5
      ? ` The re-checks scatter ${Number(ratio.toPrecision(2))} times as much as their uncertainties explain: something is missing in the budget.`
      : '';
  const few = baseline < 10 ? ` Limits from ${baseline} values are crude.` : '';
  return `${head}${scatter}${few}`;
}
