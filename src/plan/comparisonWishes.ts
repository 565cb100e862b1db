import { argumentWrong } from '../error.js';
import { METERS } from '../record/meters.js';
import { requireConfidence } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import { LEAST_LAPS, type MeterRole, type RunOrder } from '../vocabulary.js';
import type { PlacementWord } from './placement.js';
import { wholeBlocks } from './runOrder.js';

/** What is wanted of a comparison at one wavelength and power, and what is known before it. */
export interface ComparisonWishes {
  /** Wanted relative expanded uncertainty of one later reading, corrected, the head put up anew. */
  readonly wanted: number;
  /** Confidence level of that uncertainty, as a fraction. */
  readonly confidence: number;
  /** Relative U of the reference and its k, as its certificate states them; left out: relative to it only. */
  readonly certificate?: {
    readonly expanded_uncertainty: number;
    readonly coverage_factor: number;
  };
  /** Relative standard deviation of one reading of each meter, display and source aside. */
  readonly noise: Readonly<Record<MeterRole, number>>;
  /** Relative standard deviation of the power from run to run, drift taken out (default 0). */
  readonly source_noise?: number;
  /** Relative standard deviation between series, or the word for how heads are put back. */
  readonly placement?: number | PlacementWord;
  /**
   * Power of the source, mW, and the step of each display there; a step that is `null`, or all left out:
   * fine enough not to count.
   */
  readonly display?: {
    readonly level_mW: number;
    readonly step_mW: Readonly<Record<MeterRole, number | null>>;
    /** Whether the zero of each run will be written down (default true). */
    readonly zero_recorded?: boolean;
  };
  /** Default ABBA-BAAB. */
  readonly order?: RunOrder;
  /** How often the heads may be put up, each time a series (default 3). */
  readonly most_series?: number;
  /** Laps that one series may have (default 40). */
  readonly most_laps?: number;
  /** With what probability the wish is to be met (default 0.8). */
  readonly probability?: number;
}

/** The same with every default in its place. */
export type CompleteWishes = Required<
  Omit<ComparisonWishes, 'certificate' | 'display' | 'placement'>
> &
  Pick<ComparisonWishes, 'certificate' | 'display' | 'placement'>;

/**
 * Wishes with their defaults.
 *
 * @throws argument-wrong for a number out of range, or no room for one block of `LEAST_LAPS` laps
 */
export function completeWishes(wishes: ComparisonWishes): CompleteWishes {
  const complete = {
    source_noise: 0,
    order: 'ABBA-BAAB' as const,
    most_series: 3,
    most_laps: 40,
    probability: 0.8,
    ...wishes,
  };
  const { certificate, noise, display, order, most_series, most_laps, probability } = complete;
  requireConfidence(complete.confidence);
  if (!(complete.wanted > 0 && complete.wanted < 1)) {
    throw argumentWrong(
      'A wanted uncertainty must be a fraction.',
      complete.wanted,
      '0.04 for 4 %',
    );
  }
  for (const sd of [noise.reference, noise.candidate, complete.source_noise]) {
    if (!(sd >= 0 && sd < 1)) {
      throw argumentWrong('A relative standard deviation must be a fraction.', sd, '0.01 for 1 %');
    }
  }
  if (certificate !== undefined) {
    if (!(certificate.expanded_uncertainty > 0 && certificate.expanded_uncertainty < 1)) {
      const found = certificate.expanded_uncertainty;
      throw argumentWrong('U of the certificate must be a fraction.', found, '0.02 for 2 %');
    }
    requireShape(certificate.coverage_factor, 'A coverage factor', 'above-zero');
  }
  if (display !== undefined) {
    requireShape(display.level_mW, 'A power', 'above-zero');
    for (const meter of METERS) {
      const step = display.step_mW[meter];
      requireShape(step, 'A display step', { orNull: 'above-zero' });
      if (step !== null && display.level_mW < step) {
        throw argumentWrong(
          `The display of the ${meter} cannot measure a power below its step.`,
          `${display.level_mW} mW, and a step of ${step} mW`,
          'more power, or a finer display',
        );
      }
    }
  }
  if (!Number.isSafeInteger(most_series) || most_series < 1) {
    throw argumentWrong('Series must be a whole number of 1 or more.', most_series);
  }
  const least = wholeBlocks(order, LEAST_LAPS);
  if (!Number.isSafeInteger(most_laps) || most_laps < least) {
    throw argumentWrong('So few laps are no series to plan for.', most_laps, `${least} or more`);
  }
  if (!(probability > 0 && probability < 1)) {
    throw argumentWrong('A probability must lie between 0 and 1.', probability, '0.8');
  }
  return complete;
}
