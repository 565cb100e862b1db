/** Several meters of one model: how far apart are they, and what of a unit nobody measured? */

import { argumentWrong } from '../error.js';
import { formatInterval, percent, significant } from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { randomEffectsMean } from '../statistics/randomEffects.js';
import type { Shape } from '../statistics/shapes.js';
import { oneSampleStudent } from '../statistics/student.js';
import { mean, requireValues, standardDeviation } from '../statistics/summary.js';
import type { Interval } from '../vocabulary.js';

/**
 * Interval in which one further value of the same kind lies: x̄ ± t·s·√(1 + 1/n).
 *
 * @throws too-few-values below two values, argument-wrong for a confidence outside (0, 1)
 *
 * Source: prediction interval of a normal sample (any textbook; ISO 16269-8).
 */
export function predictionInterval(
  values: readonly number[],
  options: { readonly confidence?: number } = {},
): Interval {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requireValues(values, 2, 'A prediction interval');
  const n = values.length;
  const centre = mean(values);
  const half = coverageFactor(confidence, n - 1) * standardDeviation(values) * Math.sqrt(1 + 1 / n);
  return [centre - half, centre + half];
}

export interface UnitFactor {
  readonly name: string;
  readonly factor: number;
  /** Relative standard uncertainty without what all units share (the reference). */
  readonly relative_standard_uncertainty: number;
}

export interface SeveralUnitsInput {
  /** Factors of different units at one wavelength. */
  readonly units: readonly UnitFactor[];
  /** Fraction between 0 and 1. */
  readonly tolerance: number;
  readonly confidence: number;
}

export interface SeveralUnitsResult {
  /** Geometric mean of the factors. */
  readonly factor: number;
  /** Where the mean over all units of the production lies: much narrower than `furtherUnit`. */
  readonly meanInterval: Interval;
  /** Standard deviation of the measured factors, as a fraction. */
  readonly relativeSd: number;
  /** The same with the measurement's own part taken out; 0 when that explains it all. */
  readonly betweenUnitsRelativeSd: number;
  /** Where the factor of one further unit lies. */
  readonly furtherUnit: Interval;
  /** Probability of such a spread if all units had one factor; `null` when an uncertainty is 0. */
  readonly p: number | null;
  /** `uncorrected`: a further unit serves as it is; `common`: with the mean factor; `each`: measure it. */
  readonly verdict: 'uncorrected' | 'common' | 'each';
  readonly why: string;
}

const UNIT: Shape = {
  fields: { name: 'text', factor: 'above-zero', relative_standard_uncertainty: 'not-negative' },
};

/**
 * Spread between units, and the factor to expect of one more.
 *
 * On ln K: standard deviation, between-unit part √(s² − mean u²), Cochran's Q = Σ w (y − ȳ_w)² with
 * w = 1/u² against chi-square, the interval of the mean ȳ ± t·s/√n, and the prediction interval.
 * Both are for factors measured as these were, so they hold the measurement uncertainty too: on the
 * safe side.
 *
 * @throws too-few-values below two units, argument-wrong for factors that are not above 0 or lie
 *   beyond all measure apart
 *
 * Assumes units picked at random from one production. Source: Cochran 1954 (Q); ISO 16269-8.
 */
export function severalUnits(input: SeveralUnitsInput): SeveralUnitsResult {
  const { units, tolerance, confidence } = requireOptions(input, {
    units: { list: UNIT },
    tolerance: 'fraction',
    confidence: 'confidence',
  });
  const logs = units.map((unit) => Math.log(unit.factor));
  const s = standardDeviation(logs);
  const within = mean(units.map((unit) => unit.relative_standard_uncertainty ** 2));
  const [low, high] = predictionInterval(logs, { confidence });
  const middle = oneSampleStudent(logs, { confidence });
  const factor = Math.exp(mean(logs));
  const furtherUnit = [Math.exp(low), Math.exp(high)] as const;
  if (![low, middle.low, high, middle.high].every((one) => Math.abs(one) < WIDEST_LOG)) {
    throw argumentWrong('The factors lie too far apart to be of one model.', factors(units));
  }
  const serves = (k: number) =>
    // |k·C/R − 1| ≤ tolerance for every factor R/C in the interval.
    k / furtherUnit[0] - 1 <= tolerance && 1 - k / furtherUnit[1] <= tolerance;
  const verdict = serves(1) ? 'uncorrected' : serves(factor) ? 'common' : 'each';
  return {
    factor,
    meanInterval: [Math.exp(middle.low), Math.exp(middle.high)],
    relativeSd: s,
    betweenUnitsRelativeSd: Math.sqrt(Math.max(0, s ** 2 - within)),
    furtherUnit,
    p: heterogeneity(units, logs),
    verdict,
    why: explain(units.length, furtherUnit, verdict, factor, tolerance),
  };
}

/** Intervals that reach beyond a factor of e^300 either way are no numbers for anything. */
const WIDEST_LOG = 300;

const factors = (units: readonly UnitFactor[]) => units.map((unit) => unit.factor).join(', ');

function heterogeneity(units: readonly UnitFactor[], logs: readonly number[]): number | null {
  if (units.some((unit) => unit.relative_standard_uncertainty === 0)) return null;
  const { p } = randomEffectsMean(
    units.map(({ relative_standard_uncertainty: standardUncertainty }, i) => ({
      value: logs[i],
      standardUncertainty,
    })),
  );
  return Math.min(1, Math.max(0, p));
}

function explain(
  n: number,
  [low, high]: Interval,
  verdict: SeveralUnitsResult['verdict'],
  factor: number,
  tolerance: number,
): string {
  const head = `From ${n} units, the factor of one further unit is to be expected from ${formatInterval(low, high)}.`;
  const tail = {
    uncorrected: `Such a unit serves uncorrected within ${percent(tolerance)}.`,
    common: `Multiplied by the common factor ${short(factor)} it serves within ${percent(tolerance)}; uncorrected it may not.`,
    each: `No common factor serves within ${percent(tolerance)}: every unit needs its own comparison.`,
  }[verdict];
  const few = n < 5 ? ` With ${n} units this interval is wide because little is known.` : '';
  return `${head} ${tail}${few}`;
}

const short = (value: number) => significant(value, 4);
