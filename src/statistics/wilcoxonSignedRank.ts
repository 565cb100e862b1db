import { argumentWrong } from '../error.js';
import { normalCdf, normalQuantile } from './distributions.js';
import { CONFIDENCE, requireOptions } from './options.js';
import { midranks } from './ranks.js';
import { requireValues } from './summary.js';

export interface WilcoxonResult {
  /** Number of values and how many of them are zero, up to rounding (the test leaves zeros out). */
  readonly n: number;
  readonly zeros: number;
  /** Sum of the ranks of the positive values; `null` when all values are zero or there is none. */
  readonly statistic: number | null;
  /** Two-sided p for a distribution symmetric about zero. */
  readonly p: number | null;
  readonly method: 'exact' | 'normal approximation';
  /** Median of all pairwise means (Hodges and Lehmann), in the unit of the values. */
  readonly estimate: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Level that the interval really has: at least the one asked for (exact method). */
  readonly achieved_confidence: number | null;
  readonly why: string;
}

/** Largest number of values with an exact distribution. */
const EXACT_UP_TO = 50;

/**
 * Values within this part of the largest are tied, and zero within it of zero: far below a display's
 * step, far above the rounding of a difference, which the unit of the readings decides.
 */
const ALIKE = 1e-10;

/**
 * Probabilities of the signed-rank sum when every rank carries its sign by a fair coin, up to a sum;
 * index = twice the sum, since tied ranks end in one half.
 */
function signedRankDistribution(ranks: readonly number[], upTo: number): Float64Array {
  const chance = new Float64Array(Math.round(2 * upTo) + 1);
  chance[0] = 1;
  let reached = 0;
  for (const rank of [...ranks].sort((a, b) => a - b)) {
    const double = Math.round(2 * rank);
    reached = Math.min(reached + double, chance.length - 1);
    for (let s = reached; s >= double; s--) chance[s] = 0.5 * (chance[s] + chance[s - double]);
    for (let s = Math.min(reached, double - 1); s >= 0; s--) chance[s] *= 0.5;
  }
  return chance;
}

/**
 * Do the values lie about zero, by ranks alone, and where do they lie?
 *
 * @param values differences, in any unit; up to 2000
 * @returns the signed-rank test and the Hodges–Lehmann estimate with its interval. The test leaves
 *   zeros out (Wilcoxon), takes values that differ by rounding alone for tied and, up to 50 values, uses the exact distribution of the ranks as they
 *   are, ties included; above, the normal approximation with tie and continuity correction. The
 *   interval uses all pairwise means (Walsh averages); with ties its real level is higher. It is
 *   `null` when so few values cannot reach the level (below 6 at 95 %).
 * @throws argument-wrong for values that are not finite or more than 2000
 *
 * Use it where outliers make the t interval doubtful. It supposes a symmetric distribution.
 * Source: Hollander, Wolfe and Chicken, Nonparametric Statistical Methods (3rd ed.), sections 3.1 to
 * 3.3.
 */
export function wilcoxonSignedRank(
  values: readonly number[],
  options: { readonly confidence?: number } = {},
): WilcoxonResult {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requireValues(values, 0, 'The signed-rank test');
  if (values.length > 2000) {
    throw argumentWrong('The signed-rank test takes 2000 values at most.', values.length);
  }
  const alike = ALIKE * values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const kept = values.filter((value) => Math.abs(value) > alike);
  const method = values.length <= EXACT_UP_TO ? 'exact' : 'normal approximation';
  return {
    n: values.length,
    zeros: values.length - kept.length,
    method,
    ...signTest(kept, alike, method),
    ...walshInterval(values, confidence, method),
  };
}

function signTest(kept: readonly number[], alike: number, method: WilcoxonResult['method']) {
  if (kept.length === 0) return { statistic: null, p: null };
  const ranks = midranks(kept.map(Math.abs), alike);
  const statistic = ranks.reduce((sum, rank, i) => sum + (kept[i] > 0 ? rank : 0), 0);
  const total = ranks.reduce((sum, rank) => sum + rank, 0);
  if (method === 'exact') {
    // Both tails are alike.
    const tail = signedRankDistribution(ranks, Math.min(statistic, total - statistic));
    return { statistic, p: Math.min(1, 2 * tail.reduce((sum, chance) => sum + chance, 0)) };
  }
  const sd = Math.sqrt(ranks.reduce((sum, rank) => sum + rank * rank, 0)) / 2;
  const distance = Math.abs(statistic - total / 2) - 0.5;
  return { statistic, p: Math.min(1, 2 * normalCdf(-distance / sd)) };
}

function walshInterval(
  values: readonly number[],
  confidence: number,
  method: WilcoxonResult['method'],
) {
  const n = values.length;
  const none = { estimate: null, low: null, high: null, achieved_confidence: null };
  if (n === 0) return { ...none, why: 'There is no value.' };
  const walsh = new Float64Array((n * (n + 1)) / 2);
  let next = 0;
  for (let i = 0; i < n; i++) {
    for (let j = i; j < n; j++) walsh[next++] = values[i] / 2 + values[j] / 2;
  }
  walsh.sort();
  const count = walsh.length;
  const estimate = (walsh[(count - 1) >> 1] + walsh[count >> 1]) / 2;
  const { rank, achieved } = walshRank(n, confidence, method);
  if (rank < 1) {
    return { ...none, estimate, why: `${n} values cannot give an interval at this confidence.` };
  }
  return {
    estimate,
    low: walsh[rank - 1],
    high: walsh[count - rank],
    achieved_confidence: achieved,
    why: '',
  };
}

/** Which Walsh average from either end bounds the interval, and the level that it reaches. */
function walshRank(n: number, confidence: number, method: WilcoxonResult['method']) {
  const tail = (1 - confidence) / 2;
  if (method === 'exact') {
    const chance = signedRankDistribution(
      Array.from({ length: n }, (_, i) => i + 1),
      (n * (n + 1)) / 4,
    );
    let rank = 0;
    let sum = 0;
    while (sum + chance[2 * rank] <= tail) sum += chance[2 * rank++];
    return { rank, achieved: 1 - 2 * sum };
  }
  const centre = (n * (n + 1)) / 4;
  const sd = Math.sqrt((n * (n + 1) * (2 * n + 1)) / 24);
  const rank = Math.floor(centre - normalQuantile(1 - tail) * sd + 0.5);
  return { rank, achieved: 1 - 2 * normalCdf((rank - 0.5 - centre) / sd) };
}
