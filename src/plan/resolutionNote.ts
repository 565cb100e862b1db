import { argumentWrong } from '../error.js';
import { percent, significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import { stepUncertainty } from '../statistics/roundedDisplay.js';
import { roundedUp } from './twoDigits.js';

export interface ResolutionNoteOptions {
  /** Smallest step of the display in mW. */
  readonly resolution_mW: number;
  /** How far a corrected reading may be off, as a fraction. */
  readonly tolerance: number;
  /** Part of the tolerance that the display may take up, 0 to 1 (default 0.2). */
  readonly share?: number;
  /** Whether a zero, read off the same display, is subtracted (default true). */
  readonly zeroSubtracted?: boolean;
  /** Coverage factor of what the display takes up (default 2). */
  readonly coverageFactor?: number;
}

export interface ResolutionNote {
  /** Below this power the step of the display alone takes up more than its share. */
  readonly smallest_mW: number;
  readonly sentence: string;
}

/**
 * From which power on is the step of a display small enough not to matter? For one reading; k times
 * u = step/√12, with √2 when a zero is subtracted, may be `share` of the tolerance.
 *
 * @throws argument-wrong for a step, tolerance, share or coverage factor out of range
 * @see JCGM 100:2008, F.2.2.1
 */
export function resolutionNote(options: ResolutionNoteOptions): ResolutionNote {
  const {
    resolution_mW,
    tolerance,
    share = 0.2,
    zeroSubtracted: zero = true,
    coverageFactor = 2,
  } = requireOptions(options, {
    resolution_mW: 'above-zero',
    tolerance: 'above-zero',
    share: { maybe: 'above-zero' },
    zeroSubtracted: { maybe: 'yes-or-no' },
    coverageFactor: { maybe: 'above-zero' },
  });
  if (share > 1) throw argumentWrong('The share of the display is out of range.', share, 'up to 1');
  const u = stepUncertainty(resolution_mW) * (zero ? Math.SQRT2 : 1);
  const smallest_mW = (coverageFactor * u) / (share * tolerance);
  return {
    smallest_mW,
    sentence: `Below ${significant(roundedUp(smallest_mW), 2)} mW the display step of ${resolution_mW} mW alone takes up more than ${Math.round(100 * share)} % of the tolerance of ${percent(tolerance, 3)}: choose a higher power or a finer range.`,
  };
}
