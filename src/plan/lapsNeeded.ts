import { effectiveDof, type UncertaintyPart } from '../budget/index.js';
import { percentText } from '../budget/percentText.js';
import { coverageFactor } from '../statistics/distributions.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { countText, type PlanOptions, requirePositive, searchLaps } from './searchLaps.js';

export interface LapsNeededOptions extends PlanOptions {
  /** Wanted relative expanded uncertainty of the factor. */
  readonly wanted: number;
}

export interface LapsNeeded {
  /** In whole blocks of the order; `null` when no number up to `most_laps` does it. */
  readonly laps: number | null;
  /** What that many laps give (the most looked at when `laps` is `null`). */
  readonly relative_expanded_uncertainty: number;
  readonly coverage_factor: number;
  readonly dof: number;
  /** Relative expanded uncertainty that no number of laps gets below. */
  readonly floor: number;
  readonly sentence: string;
}

/**
 * How many laps does a wanted uncertainty of the factor take? The coverage factor is that of the
 * degrees of freedom each number of laps leaves, so few laps are charged in full.
 *
 * @throws argument-wrong for a wanted uncertainty not above zero, and as `designUncertainty`
 * @see JCGM 100:2008, 4.2.3 and G.4
 */
export function lapsNeeded(options: LapsNeededOptions): LapsNeeded {
  requireOptions(options, {
    order: true,
    reference_sd: true,
    candidate_sd: true,
    drift_degree: true,
    confidence: true,
    others: true,
    most_laps: true,
    wanted: true,
  });
  const { wanted, confidence } = options;
  requireConfidence(confidence);
  requirePositive(wanted, 'A wanted uncertainty');
  const others = options.others ?? [];
  const floor = expanded(others, confidence).U;
  const found = searchLaps(options, (parts) => {
    const answer = expanded(parts, confidence);
    return { answer, enough: answer.U <= wanted };
  });
  const { U, k, dof } = found.answer;
  const sentence =
    found.laps !== null
      ? `${countText(found.laps)} bring the expanded uncertainty to ${percentText(U)} (k = ${k.toFixed(2)}), within the wanted ${percentText(wanted)}.`
      : floor > wanted
        ? `No number of laps reaches ${percentText(wanted)}: what laps do not reduce is ${percentText(floor)} by itself. A better certificate, display or source is needed first.`
        : `Not within ${found.tried} laps: they bring the expanded uncertainty to ${percentText(U)}, not to the wanted ${percentText(wanted)}. A steadier source or steadier meters would help.`;
  return {
    laps: found.laps,
    relative_expanded_uncertainty: U,
    coverage_factor: k,
    dof,
    floor,
    sentence,
  };
}

function expanded(parts: readonly UncertaintyPart[], confidence: number) {
  const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
  const dof = effectiveDof(parts);
  const k = coverageFactor(confidence, dof);
  return { U: k * u, k, dof };
}
