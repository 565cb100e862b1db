/** The levels of a result, or of a file of factors, as a curve of ln K against the power. */
import { coverageFactor } from '../statistics/distributions.js';
import { type FactorLevel, KNOWN_EXACTLY } from '../vocabulary.js';
import type { PowerCurve } from './powerLevels.js';

/**
 * @param part which part of a level's uncertainty the curve carries: all of it, or what is left
 *   without the placements
 * @param confidence of the intervals of the levels
 */
export function curveOfLevels(
  {
    levels,
    offset_mW,
  }: { readonly levels: readonly FactorLevel[]; readonly offset_mW: number | null },
  confidence: number,
  part: 'all' | 'without-placement' = 'all',
): PowerCurve {
  return {
    offset_mW,
    levels: levels.map((level) => ({
      candidate_mW: level.candidate_mW,
      centre_mW: level.centre_mW,
      logFactor: Math.log(level.factor),
      ...(part === 'all'
        ? sameInterval(level, confidence)
        : {
            standardUncertainty: Math.sqrt(
              Math.max(
                0,
                level.relative_standard_uncertainty ** 2 -
                  level.placement_relative_standard_uncertainty ** 2,
              ),
            ),
            dof: level.rest_dof,
          }),
    })),
  };
}

/** The t distribution whose interval is the level's own, which may be that of other shapes. */
function sameInterval(
  { relative_standard_uncertainty: u, coverage_factor: k }: FactorLevel,
  confidence: number,
) {
  const least = coverageFactor(confidence, KNOWN_EXACTLY);
  const most = coverageFactor(confidence, 1);
  if (k <= least) return { standardUncertainty: (u * k) / least, dof: KNOWN_EXACTLY };
  if (k >= most) return { standardUncertainty: (u * k) / most, dof: 1 };
  let [low, high] = [1, KNOWN_EXACTLY];
  for (let i = 0; i < 60; i++) {
    const middle = Math.sqrt(low * high);
    if (coverageFactor(confidence, middle) > k) low = middle;
    else high = middle;
  }
  return { standardUncertainty: u, dof: high };
}
