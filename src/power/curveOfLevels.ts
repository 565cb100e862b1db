/** The levels of a result, or of a file of factors, as a curve of ln K against the power. */
import { bracketedRoot } from '../statistics/bracketedRoot.js';
import { coverageFactor, studentCdf } from '../statistics/distributions.js';
import { type FactorLevel, KNOWN_EXACTLY } from '../vocabulary.js';
import type { PowerCurve, PowerLevel } from './powerLevels.js';

/** All of a level's uncertainty, what placements leave in it, or what is left without them. */
export type PartOfLevel = 'all' | 'placement' | 'rest';

/**
 * What levels share beside their placements (reference, displays) counts as common to all; of the
 * placements what the file says (`placement_correlation_with_next`), or all where it does not say.
 *
 * @param part which part of a level's uncertainty the curve carries
 * @param confidence of the intervals of the levels
 */
export function curveOfLevels(
  {
    levels,
    offset_mW,
  }: { readonly levels: readonly FactorLevel[]; readonly offset_mW: number | null },
  confidence: number,
  part: PartOfLevel = 'all',
): PowerCurve {
  return {
    offset_mW,
    levels: levels.map((level, j) => ({
      candidate_mW: level.candidate_mW,
      centre_mW: level.centre_mW,
      logFactor: Math.log(level.factor),
      ...uncertaintyOf(level, part, confidence),
      correlationWithNext: correlation(level, levels[j + 1], part),
    })),
  };
}

function uncertaintyOf(
  level: FactorLevel,
  part: PartOfLevel,
  confidence: number,
): Pick<PowerLevel, 'standardUncertainty' | 'dof'> {
  if (part === 'all') return sameInterval(level, confidence);
  return part === 'rest'
    ? { standardUncertainty: restOf(level), dof: level.rest_dof }
    : { standardUncertainty: level.placement_relative_standard_uncertainty, dof: level.dof };
}

const restOf = (level: FactorLevel) =>
  Math.sqrt(
    Math.max(
      0,
      level.relative_standard_uncertainty ** 2 - level.placement_relative_standard_uncertainty ** 2,
    ),
  );

function correlation(a: FactorLevel, b: FactorLevel | undefined, part: PartOfLevel): number {
  const { placement_correlation_with_next: placements = 1 } = a;
  if (b === undefined || part === 'rest') return 1;
  if (part === 'placement') return placements;
  const [ua, ub] = [a, b].map((level) =>
    Math.hypot(restOf(level), level.placement_relative_standard_uncertainty),
  );
  const both =
    restOf(a) * restOf(b) +
    placements *
      a.placement_relative_standard_uncertainty *
      b.placement_relative_standard_uncertainty;
  return ua * ub > 0 ? both / (ua * ub) : 1;
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
  const tail = (1 - confidence) / 2;
  // The tail beyond k is nearly straight in 1/ν.
  const outside = (inverse: number) => studentCdf(-k, 1 / inverse) - tail;
  return { standardUncertainty: u, dof: 1 / bracketedRoot(outside, 1 / KNOWN_EXACTLY, 1) };
}
