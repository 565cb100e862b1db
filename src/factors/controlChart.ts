/** Re-checks of one factor in the order of time: is anything but chance at work? */

import { argumentWrong } from '../error.js';
import { significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import { mean, requireValues } from '../statistics/summary.js';
import type { ChartSignal, Interval } from '../vocabulary.js';

export interface ControlChartInput {
  /** One factor per re-check, oldest first. */
  readonly values: readonly number[];
  /** Standard uncertainty of each without what all have in common, same unit. */
  readonly standardUncertainties?: readonly number[];
  /** How many of the first values set centre and limits; all when left out. */
  readonly baseline?: number;
}

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

/** Below so many values, all of them in the baseline, no point can break a limit that they set. */
export const FEWEST_FOR_SCATTER = 5;

/** Mean range of two values from a normal distribution, in standard deviations: 2/√π. */
const D2 = 1.128;

/**
 * Chart of single values with limits from the moving range: centre ± 3·MR̄/1.128.
 *
 * Signals: a point beyond three sigma; two of three beyond two sigma on one side; four of five
 * beyond one sigma on one side; eight in a row on one side of the centre. With uncertainties also a
 * point beyond three of them, of its own and of the root mean square of all: given limits.
 *
 * Three or four values that set their own limits cannot break them: a last point lies at most
 * 1.128·(n − 1)²/n sigma from the centre, 1.5 and 2.5 sigma. `why` says so.
 *
 * @throws too-few-values below three values in the baseline, argument-wrong for a baseline longer
 *   than the data or uncertainties that do not match
 *
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (limits) and 6.3.2 (signals);
 * that few values cannot break their own limits: our arithmetic, held by a test.
 */
export function controlChart(input: ControlChartInput): ControlChartResult {
  requireOptions(input, { values: true, standardUncertainties: true, baseline: true });
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
    signals: [
      ...signalsAt(values.slice(0, i + 1), centre, sigma),
      ...beyondUncertainty(value - centre, rms, standardUncertainties?.[i]),
    ],
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

/** A point that does not fit even by its own uncertainty when it is larger than that of the others. */
function beyondUncertainty(
  distance: number,
  rms: number | null,
  own: number | undefined,
): readonly ChartSignal[] {
  if (rms === null || rms === 0 || own === undefined) return [];
  return Math.abs(distance) > 3 * Math.max(rms, own)
    ? ['beyond the limits from the uncertainty']
    : [];
}

function explain(points: readonly ChartPoint[], baseline: number, ratio: number | null): string {
  const loudest = points.flatMap(({ signals: [first] }, i) =>
    first === undefined ? [] : [{ place: i + 1, signal: first }],
  );
  const said = [...new Set(loudest.map((one) => one.signal))].map((signal) => {
    const places = loudest.filter((one) => one.signal === signal).map((one) => one.place);
    return `${places.join(', ')} (${signal})`;
  });
  const head =
    said.length === 0
      ? `None of ${points.length} re-checks stands out.`
      : `Of ${points.length} re-checks these stand out: ${said.join('; ')}. Look for a cause before using the factor.`;
  const scatter =
    ratio !== null && ratio > 1.5
      ? ` The re-checks scatter ${significant(ratio, 2)} times as much as their uncertainties explain: something is missing in the budget.`
      : '';
  const blind = points.length === baseline && baseline < FEWEST_FOR_SCATTER;
  const few = blind
    ? ` From ${baseline} values the scatter sets limits that none of them can break${ratio === null ? '' : '; only the limits from the uncertainty judge here'}.`
    : baseline < 10
      ? ` Limits from ${baseline} values are crude.`
      : '';
  return `${head}${scatter}${few}`;
}
