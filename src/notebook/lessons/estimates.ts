/** From the laps of a series to K and an interval: as on a desk calculator, and as the package does. */
import { argumentWrong } from '../../error.js';
import { driftModel } from '../../series/driftModel.js';
import { lapPairs } from '../../series/lapPairs.js';
import { seriesFactor } from '../../series/seriesFactor.js';
import { coverageFactor } from '../../statistics/distributions.js';
import { effectiveDof } from '../../statistics/effectiveDof.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { KNOWN_EXACTLY, type Series } from '../../vocabulary.js';

/** What somebody would write down: a factor and the interval around it. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** ln(reference ÷ candidate) of every complete lap. Their mean is ln K where nothing drifts. */
export function lapLogs(series: Pick<Series, 'runs'>): readonly number[] {
  return lapPairs(series).map(({ reference, candidate }) =>
    Math.log(reference.reading_mW / candidate.reading_mW),
  );
}

const known = new Map<string, number>();

/** Student's t for the mean of so many laps; looked up once, simulations ask again and again. */
export function studentFactor(laps: number, confidence = 0.95): number {
  const key = `${laps} ${confidence}`;
  const found = known.get(key) ?? coverageFactor(confidence, laps - 1);
  known.set(key, found);
  return found;
}

/**
 * K by the plain mean of laps, with mean ± k·s/√n on the logarithm. No drift, no certificate: what
 * most people would do on a desk calculator.
 *
 * @param logs of the laps, two or more
 * @param options.k coverage factor; Student's t for this number of laps when left out
 * @throws too-few-values below two laps
 * @see Student, Biometrika 6 (1908) 1; JCGM 100:2008, G.3
 */
export function lapEstimate(
  logs: readonly number[],
  options: { readonly k?: number; readonly confidence?: number } = {},
): Estimate {
  const u = standardDeviation(logs) / Math.sqrt(logs.length);
  const half = (options.k ?? studentFactor(logs.length, options.confidence)) * u;
  return around(mean(logs), half);
}

const around = (log: number, half: number): Estimate => ({
  value: Math.exp(log),
  low: Math.exp(log - half),
  high: Math.exp(log + half),
});

/**
 * K by the plain mean of laps, with an interval from the scatter of the laps *and* what stays the
 * same in all of them.
 *
 * @param logs of the laps, two or more
 * @param staying relative standard uncertainties that no number of laps reduces, known exactly
 * @throws too-few-values below two laps
 * @see JCGM 100:2008, 5.1.2 and G.4
 */
export function budgetEstimate(logs: readonly number[], staying: readonly number[]): Estimate {
  const laps = logs.length;
  const parts = [
    { standard_uncertainty: standardDeviation(logs) / Math.sqrt(laps), dof: laps - 1 },
    ...staying.map((u) => ({ standard_uncertainty: u, dof: KNOWN_EXACTLY })),
  ];
  const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
  const half = coverageFactor(0.95, effectiveDof(parts)) * u;
  return around(mean(logs), half);
}

/**
 * K of a series as the comparison computes it: the drift of the source is part of the model.
 *
 * @throws argument-wrong where the series gives no interval; too-few-values as `driftModel`
 */
export function modelEstimate(series: Pick<Series, 'runs'>): Estimate {
  const parts = seriesFactor(driftModel(series.runs), { reference: null, candidate: null }, 0.95);
  const { value = null, low = null, high = null } = parts?.factor ?? {};
  if (value === null || low === null || high === null) {
    throw argumentWrong('The series gives no interval.');
  }
  return { value, low, high };
}

/**
 * From each group of so many estimates in a row the one with the narrowest interval: what somebody
 * keeps who measures several times and shows the best.
 *
 * @returns one estimate a whole group
 * @throws argument-wrong for a group of less than one
 */
export function narrowest(estimates: readonly Estimate[], of: number): readonly Estimate[] {
  if (!Number.isSafeInteger(of) || of < 1) throw argumentWrong('A group needs one or more.', of);
  const width = ({ low, high }: Estimate) => Math.log(high / low);
  return Array.from({ length: Math.floor(estimates.length / of) }, (_, i) =>
    estimates
      .slice(i * of, (i + 1) * of)
      .reduce((best, one) => (width(one) < width(best) ? one : best)),
  );
}
