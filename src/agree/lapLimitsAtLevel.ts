import { requireOptions } from '../statistics/options.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import type { Interval, LimitsOfAgreement } from '../vocabulary.js';
import { limitsAtLevel } from './limitsAtLevel.js';
import { NO_LIMITS } from './limitsOfAgreement.js';
import { moverLimits } from './moverLimits.js';
import { LINES } from './proportionalBias.js';
import type { SeriesAgainstLevel } from './seriesAgainstLevel.js';

const FOUND: Shape = {
  fields: {
    lines: LINES,
    within_variance: { orNull: 'not-negative' },
    within_dof: 'not-negative',
    harmonic_size: 'above-zero',
  },
};

/** Limits for one more lap of one more series at one level. */
export interface LapLimitsAtLevel extends LimitsOfAgreement {
  readonly level: number;
  readonly bias: number;
  readonly bias_interval: Interval;
  readonly why: string;
}

/**
 * Between which limits do differences of single laps lie at one level?
 *
 * @param found from `seriesAgainstLevel`
 * @param level as in `limitsAtLevel`
 * @param options `spread`: `constant` joins the scatter of the series about their line with that of
 *   laps within series, as `replicateLimits` does, and gives each limit its interval; `linear` takes
 *   the weighted lines and gives the limits no intervals
 * @throws argument-wrong
 *
 * Source: see `limitsAtLevel` and `replicateLimits`.
 */
export function lapLimitsAtLevel(
  found: SeriesAgainstLevel,
  level: number,
  options: { readonly spread: 'constant' | 'linear'; readonly multiplier?: number },
): LapLimitsAtLevel {
  const { multiplier = 1.96, spread } = requireOptions(options, {
    multiplier: true,
    spread: ['constant', 'linear'],
  });
  requireShape(found, 'What seriesAgainstLevel found', FOUND);
  const { lines, within_variance, within_dof, harmonic_size } = found;
  const { bias: line } = lines;
  const fitting = spread === 'linear' ? { ...lines, ...found.weighted } : lines;
  const at = limitsAtLevel(fitting, level, { multiplier, spread });
  const base = { level, bias: at.bias, bias_interval: at.bias_interval, why: at.why };
  if (spread === 'linear') {
    return { ...base, ...NO_LIMITS, low: at.low, high: at.high };
  }
  const ofMeans = line.residual_sd ** 2;
  const offCentre = (level - line.mean_level) ** 2 / line.sum_of_squares;
  const { low, high, low_interval, high_interval } = moverLimits({
    bias: at.bias,
    biasVariance: ofMeans * (1 / lines.n + offCentre),
    biasDof: line.dof,
    parts: [
      { estimate: ofMeans, dof: line.dof },
      ...(within_variance === null
        ? []
        : [{ estimate: (1 - 1 / harmonic_size) * within_variance, dof: within_dof }]),
    ],
    confidence: lines.confidence,
    multiplier,
  });
  return { ...base, low, high, low_interval, high_interval };
}
