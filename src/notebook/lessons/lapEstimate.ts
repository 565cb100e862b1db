import { lapPairs } from '../../series/lapPairs.js';
import { coverageFactor } from '../../statistics/distributions.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import type { Series } from '../../vocabulary.js';

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
  const centre = mean(logs);
  return {
    value: Math.exp(centre),
    low: Math.exp(centre - half),
    high: Math.exp(centre + half),
  };
}
