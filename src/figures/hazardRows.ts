/** What the figure of hazard draws of each source: limits of the classes, label, powers, words. */
import { hazardClassWords, labelVerdict, labelWords } from '../findings/words.js';
import {
  accessibleEmissionLimits,
  type EmissionLimit,
} from '../hazard/accessibleEmissionLimits.js';
import { WAVELENGTH_TOLERANCE_NM } from '../hazard/hazardInput.js';
import { parseLabelClass } from '../hazard/labelClass.js';
import type { HazardResult } from '../vocabulary.js';

export type LabelState = 'exceeded' | 'kept' | 'open';

export interface HazardRow {
  readonly source: string;
  readonly wavelength_nm: number;
  readonly highest_mW: number | null;
  readonly upper_mW: number | null;
  /** Where one class ends and the next begins, lowest first, mW. */
  readonly limits: readonly EmissionLimit[];
  /** Most that the label allows, mW; `null`: it does not say, or sets no limit. */
  readonly label_mW: number | null;
  readonly state: LabelState;
  /** What the label says. */
  readonly label: string;
  /** Class by the data, on the safe side. */
  readonly found: string;
  /** Whether the label holds. */
  readonly verdict: string;
}

/**
 * One row a source. The limits are the lowest within the wavelength tolerance, those that the class of
 * the result was judged by; the label allows the less of its power and the limit of its class.
 */
export function hazardRowOf(hazard: HazardResult): HazardRow {
  const { limits } = accessibleEmissionLimits(hazard.wavelength_nm, {
    tolerance_nm: WAVELENGTH_TOLERANCE_NM,
  });
  const { source, wavelength_nm, highest_mW, upper_mW } = hazard;
  return {
    source,
    wavelength_nm,
    highest_mW: highest_mW !== null && highest_mW > 0 ? highest_mW : null,
    upper_mW,
    limits,
    label_mW: labelLimit(hazard, limits),
    state: stateOf(hazard),
    label: labelWords(hazard),
    found: hazardClassWords(hazard),
    verdict: labelVerdict(hazard),
  };
}

function stateOf({ label_understates: understates }: HazardResult): LabelState {
  if (understates === null) return 'open';
  return understates ? 'exceeded' : 'kept';
}

function labelLimit(
  { label_class, label_max_mW }: HazardResult,
  limits: readonly EmissionLimit[],
): number | null {
  const named = label_class === null ? null : parseLabelClass(label_class).highest;
  const ofClass = limits.find((limit) => limit.class === named)?.limit_mW;
  const stated = [ofClass, label_max_mW].filter((one) => one !== undefined && one !== null);
  return stated.length === 0 ? null : Math.min(...stated);
}
