import { coverageFactor } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import type { LimitsOfAgreement } from '../vocabulary.js';
import {
  type DifferenceFigures,
  type LimitsOptions,
  limitFactors,
  requireFigures,
} from './limitsOfAgreement.js';

export interface ApproximateLimits extends LimitsOfAgreement {
  /** Standard error of a limit, in the unit of the differences. */
  readonly standard_error: number;
}

/**
 * The limits with the approximate, symmetric intervals of the older papers: for comparison with
 * published work only.
 *
 * @param figures n, mean and standard deviation of the differences
 * @param options `formula`: `1986` takes √3·s/√n as the standard error of a limit, `1999` takes
 *   s·√(1/n + multiplier²/(2(n − 1))) (which the 1999 paper then rounds to 1.71·s/√n)
 * @throws argument-wrong
 *
 * Not for reporting: with few pairs the inner arm is too long and the outer one too short; use
 * `limitsOfAgreement`.
 * Source: Bland and Altman, Lancet 327 (1986) 307; Stat. Methods Med. Res. 8 (1999) 135, section 2.2.
 */
export function approximateLimits(
  figures: DifferenceFigures,
  options: LimitsOptions & { readonly formula: '1986' | '1999' },
): ApproximateLimits {
  const {
    confidence = 0.95,
    multiplier = 1.96,
    formula,
  } = requireOptions(options, { confidence: true, multiplier: true, formula: true });
  requireFigures(figures);
  const { n, mean, sd } = figures;
  limitFactors(n, { confidence, multiplier });
  const standardError =
    formula === '1986'
      ? Math.sqrt(3 / n) * sd
      : Math.sqrt(1 / n + multiplier ** 2 / (2 * (n - 1))) * sd;
  const half = coverageFactor(confidence, n - 1) * standardError;
  const low = mean - multiplier * sd;
  const high = mean + multiplier * sd;
  return {
    low,
    high,
    low_interval: [low - half, low + half],
    high_interval: [high - half, high + half],
    standard_error: standardError,
  };
}
