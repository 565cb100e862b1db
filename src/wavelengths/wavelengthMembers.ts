/** The series that speak for a wavelength, and what they say about each other. */

import { percent } from '../findings/formatNumber.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import type { CombinedSeries, SeriesEstimate } from '../series/combineSeries.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import { POWERS_APART, type Warning } from '../vocabulary.js';

/** A series and what it says about the wavelength's factor. */
export interface Member {
  readonly analysis: SeriesAnalysis;
  readonly estimate: SeriesEstimate;
}

/** A series with a factor of its own; none where it has no factor. */
export function member(analysis: SeriesAnalysis): Member[] {
  const { result, parts } = analysis;
  const { value, relative_standard_uncertainty: u } = result.factor;
  if (parts === null || value === null || u === null) return [];
  // A suspected cold start widened the series' uncertainty: its scatter part carries that.
  const plain = parts.factor.relative_standard_uncertainty ?? 0;
  const widened = plain > 0 ? u / plain : 1;
  return [
    {
      analysis,
      estimate: {
        id: result.id,
        logFactor: Math.log(value),
        standardUncertainty: parts.scatter.standardUncertainty * widened,
        dof: parts.scatter.dof,
      },
    },
  ];
}

/** Series that have to agree with each other when none of them has an interval of its own. */
const LEAST_SINGLE = 3;

/**
 * Series of a lap or two, too short for a factor of their own: from three on, the scatter of their
 * ln K about the mean says how well the mean is known (Student's t, m − 1 degrees of freedom). No
 * drift can be taken out of so few runs; the budget says so.
 */
export function singleLaps(
  all: readonly SeriesAnalysis[],
): { readonly members: Member[]; readonly combined: CombinedSeries } | null {
  const members = all
    .filter(({ laps }) => laps.length > 0)
    .map((analysis): Member => {
      const logs = analysis.laps.map((lap) =>
        Math.log(lap.reference.reading_mW / lap.candidate.reading_mW),
      );
      const logFactor = mean(logs);
      return {
        analysis,
        estimate: { id: analysis.result.id, logFactor, standardUncertainty: 0, dof: 1 },
      };
    });
  if (members.length < LEAST_SINGLE) return null;
  const logs = members.map(({ estimate }) => estimate.logFactor);
  const sd = standardDeviation(logs);
  return {
    members,
    combined: {
      logFactor: mean(logs),
      repeatability: null,
      between: {
        standardUncertainty: sd / Math.sqrt(logs.length),
        dof: logs.length - 1,
        note: `scatter of ${logs.length} series of a lap or two about their mean`,
        type: 'A',
      },
      betweenSd: sd,
      next: { sd, dof: logs.length - 1, note: 'scatter of the series, repeatability included' },
      contradicts: false,
    },
  };
}

/** Says by how much the series differ, and whether the power may be the reason. */
export function contradiction(nm: number, members: readonly Member[]): Warning {
  const byPower = [...members].sort(
    (a, b) =>
      (a.analysis.result.reference_range_mW?.[1] ?? 0) -
      (b.analysis.result.reference_range_mW?.[1] ?? 0),
  );
  const values = byPower.map(({ estimate }) => Math.exp(estimate.logFactor));
  const spread = Math.max(...values) / Math.min(...values) - 1;
  const powers = byPower.map(({ analysis }) => analysis.result.reference_range_mW?.[1] ?? 0);
  const apart = powers[powers.length - 1] > POWERS_APART * powers[0];
  const top = values[values.length - 1];
  const highest = apart && top === Math.max(...values);
  const reason = highest
    ? ` The factor is largest at the highest power, as when a heat sink warms and the candidate reads low there: use a factor measured at the power you need.`
    : apart
      ? ' They were taken at different powers, which may be the reason.'
      : ' They were taken at about the same power: placement, or the sources, differ.';
  return {
    code: 'series-contradict',
    message: `At ${nm} nm the series differ by ${percent(spread)}, more than their scatter explains; the uncertainty carries it.${reason}`,
  };
}
