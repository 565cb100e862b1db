import { requireShape } from '../statistics/shapes.js';

/**
 * Series whose mean indications lie within this factor are one level. Chosen so that a drooping source
 * or a pointer that warms up (common practice: up to a fifth) does not split a level, while powers
 * set a factor of 1.5 apart stay two.
 */
export const ONE_LEVEL = 1.25;

/**
 * Which series were measured at one power: from the lowest mean indication upwards a series joins
 * the level as long as it reads at most 1.25 times the *lowest* of it, so that no chain of
 * neighbours makes one level out of a long range.
 *
 * @returns the levels, lowest power first; in each the series by power
 * @throws argument-wrong for a mean indication that is not above 0
 */
export function clusterByPower<T extends { readonly candidateMean_mW: number }>(
  series: readonly T[],
): readonly (readonly T[])[] {
  for (const one of series) requireShape(one.candidateMean_mW, 'A mean indication', 'above-zero');
  const levels: T[][] = [];
  for (const one of [...series].sort((a, b) => a.candidateMean_mW - b.candidateMean_mW)) {
    const level = levels.at(-1);
    if (level !== undefined && one.candidateMean_mW <= ONE_LEVEL * level[0].candidateMean_mW) {
      level.push(one);
    } else levels.push([one]);
  }
  return levels;
}
