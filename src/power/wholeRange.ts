import type { LogFactor } from '../series/seriesMean.js';
import { combineIndependent, type Part } from '../statistics/combineIndependent.js';
import { requireConfidence } from '../statistics/options.js';
import { studentPlusRectangular } from '../statistics/studentPlusRectangular.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import { factorAtPower } from './factorAtPower.js';
import type { PowerCurve } from './powerLevels.js';

/** Places looked at between two neighbours; curve and interval bend but once there. */
const STEPS = 8;

/** One ln K for any power in the measured range. */
export interface WholeRange extends LogFactor {
  /** Ends of the interval of ln K, as wide as any power in the range needs. */
  readonly low: number;
  readonly high: number;
  /** Half of what K changes by over the range: a rectangular contribution. */
  readonly spread: number;
}

/**
 * The envelope of the curve and of its intervals at the levels and between them; ln K is the middle
 * of the envelope, its standard uncertainty the largest of any place, without `spread`.
 *
 * @param options `shared`: standard uncertainty that all levels have in common and the displays',
 *   with its degrees of freedom; `confidence` (default 0.95)
 * @throws argument-wrong
 */
export function wholeRange(
  curve: PowerCurve,
  options: {
    readonly shared?: Part;
    readonly confidence?: number;
  } = {},
): WholeRange {
  const { confidence = 0.95, shared = { standardUncertainty: 0, dof: KNOWN_EXACTLY } } = options;
  requireConfidence(confidence);
  const places = curve.levels.flatMap((level, j) => {
    const from = level.centre_mW;
    if (j + 1 === curve.levels.length) return [from];
    const ratio = curve.levels[j + 1].centre_mW / from;
    return Array.from({ length: STEPS }, (_, i) => from * ratio ** (i / STEPS));
  });
  const found = places.flatMap((power) => {
    const at = factorAtPower(curve, power);
    if (at === null) return [];
    const half = studentPlusRectangular({
      ...combineIndependent([at, shared]),
      rectangular: at.between / Math.sqrt(3),
      confidence,
    });
    return [{ ...at, half }];
  });
  const low = Math.min(...found.map((at) => at.logFactor - at.half));
  const high = Math.max(...found.map((at) => at.logFactor + at.half));
  const factors = found.map((at) => at.logFactor);
  const worst = found.reduce((a, b) => (b.standardUncertainty > a.standardUncertainty ? b : a));
  return {
    logFactor: (low + high) / 2,
    standardUncertainty: worst.standardUncertainty,
    dof: worst.dof,
    low,
    high,
    spread: (Math.max(...factors) - Math.min(...factors)) / 2,
  };
}
