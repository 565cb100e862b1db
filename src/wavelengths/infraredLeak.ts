/**
 * Infrared beside the green: pump and fundamental of a frequency-doubled laser, told apart with a
 * filter.
 */

import { argumentWrong } from '../error.js';
import { percent as percentOf, significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import type { Estimate } from '../statistics/randomEffects.js';
import type { Shape } from '../statistics/shapes.js';
import type { Warning } from '../vocabulary.js';

export interface InfraredLeakInput {
  /** Power without the filter, mW. */
  readonly unfiltered_mW: Estimate;
  /** Power behind the filter, mW; its uncertainty without what it shares with the unfiltered one. */
  readonly filtered_mW: Estimate;
  /** Transmission of the filter for the wanted line, 0 to 1. */
  readonly wantedTransmission: Estimate;
  /** Transmission of the filter for the infrared, 0 to 1; the larger one if pump and fundamental differ. */
  readonly infraredTransmission: Estimate;
  /**
   * Relative standard uncertainty common to both powers (the meter's calibration); default 0. It
   * scales both parts and their uncertainty alike.
   */
  readonly commonRelativeUncertainty?: number;
}

export interface InfraredLeakResult {
  /** Power of the wanted line, mW; `null` with a reason in `why`. May be slightly negative. */
  readonly wanted_mW: Estimate | null;
  readonly infrared_mW: Estimate | null;
  /** Infrared part of the whole, fraction; `null` like the powers. */
  readonly infraredFraction: Estimate | null;
  readonly why: string;
}

const ESTIMATE: Shape = { fields: { value: 'number', standardUncertainty: 'not-negative' } };

/**
 * How much of what a broadband sensor shows is the wanted line, and how much infrared?
 *
 * With R0 = G + I and R1 = τG·G + τI·I: G = (R1 − τI·R0)/(τG − τI), I = R0 − G. Uncertainties by
 * the law of propagation (JCGM 100:2008, 5.1.2), inputs independent but for the common scale.
 *
 * @returns `null` powers when τG − τI is less than 0.1 or less than four of its standard
 *   uncertainties: then the filter cannot tell the two apart
 * @throws argument-wrong for transmissions outside 0 to 1, negative uncertainties, no light
 *
 * Source: linear algebra of the two readings; needs transmissions at the line and at both infrared
 * wavelengths (808 and 1064 nm for a 532 nm source).
 */
export function infraredLeak(input: InfraredLeakInput): InfraredLeakResult {
  const {
    unfiltered_mW: r0,
    filtered_mW: r1,
    wantedTransmission: tg,
    infraredTransmission: ti,
    commonRelativeUncertainty: common = 0,
  } = requireOptions(input, {
    unfiltered_mW: ESTIMATE,
    filtered_mW: ESTIMATE,
    wantedTransmission: ESTIMATE,
    infraredTransmission: ESTIMATE,
    commonRelativeUncertainty: { maybe: 'not-negative' },
  });
  requireWithin(r0, 'The unfiltered power', Number.MIN_VALUE, Number.MAX_VALUE);
  requireWithin(tg, 'The transmission for the wanted line', 0, 1);
  requireWithin(ti, 'The transmission for the infrared', 0, 1);
  const gap = tg.value - ti.value;
  const uGap = Math.hypot(tg.standardUncertainty, ti.standardUncertainty);
  if (Math.abs(gap) < 0.1 || Math.abs(gap) < 4 * uGap) {
    return {
      wanted_mW: null,
      infrared_mW: null,
      infraredFraction: null,
      why: `The filter passes ${percent(tg.value)} of the wanted line and ${percent(ti.value)} of the infrared: too close together, or too uncertain, to tell the two apart. Use a filter that blocks one of them.`,
    };
  }
  const g = (r1.value - ti.value * r0.value) / gap;
  const i = r0.value - g;
  // Partial derivatives of G; those of I = R0 − G follow.
  const byR0 = -ti.value / gap;
  const byR1 = 1 / gap;
  const byTg = -g / gap;
  const byTi = -i / gap;
  const fromTransmissions = Math.hypot(
    byTg * tg.standardUncertainty,
    byTi * ti.standardUncertainty,
  );
  const fromR1 = byR1 * r1.standardUncertainty;
  const uG = Math.hypot(byR0 * r0.standardUncertainty, fromR1, fromTransmissions, common * g);
  const uI = Math.hypot((1 - byR0) * r0.standardUncertainty, fromR1, fromTransmissions, common * i);
  // The common scale cancels in the fraction I/R0 = 1 − G/R0.
  const uFraction =
    Math.hypot((byR0 - g / r0.value) * r0.standardUncertainty, fromR1, fromTransmissions) /
    r0.value;
  return {
    wanted_mW: { value: g, standardUncertainty: uG },
    infrared_mW: { value: i, standardUncertainty: uI },
    infraredFraction: { value: i / r0.value, standardUncertainty: uFraction },
    why: explain(g, i, uG, uI),
  };
}

function explain(g: number, i: number, uG: number, uI: number): string {
  const parts = `Of ${short(g + i)} mW, ${short(g)} mW (standard uncertainty ${short(uG)} mW) belong to the wanted line and ${short(i)} mW (${short(uI)} mW) to the infrared.`;
  if (g < -2 * uG || i < -2 * uI) {
    return `${parts} A part below zero by more than twice its uncertainty is impossible: a transmission or a reading is wrong.`;
  }
  return i > 2 * uI
    ? `${parts} The infrared is invisible and no blink reflex answers to it: eyewear and class have to count it at its own wavelength.`
    : `${parts} Infrared is not shown by this data, which does not exclude it up to ${short(i + 2 * uI)} mW.`;
}

/**
 * Visible lines that are commonly made by doubling or mixing infrared, in nm (common practice, no
 * source): diodes of the same colour exist for some of them, and then the caution is one too many.
 */
export const DOUBLED_LINES_NM: readonly number[] = [
  457, 473, 491, 501, 515, 532, 543, 556, 561, 589, 593.5, 671,
];

/** Infrared wavelengths that such a source can leak: its pump and its fundamental, nm. */
export const LEAKED_INFRARED_NM: readonly number[] = [808, 1064];

/**
 * Is this nominal wavelength within 1 nm of a line that is usually made by frequency doubling? A
 * crystal fixes such lines to about 1 nm; diodes of similar colour (520 nm) are further away.
 */
export function isDoubledLine(wavelength_nm: number): boolean {
  return DOUBLED_LINES_NM.some((line) => Math.abs(wavelength_nm - line) <= 1);
}

/**
 * The caution a source of a doubled line carries; `null` for other wavelengths.
 *
 * @param found what a filter told of the infrared, in words; `null` while nobody has filtered it
 */
export function infraredCaution(
  wavelength_nm: number,
  source: string,
  found: string | null,
): Warning | null {
  if (!isDoubledLine(wavelength_nm)) return null;
  if (found !== null) {
    return {
      code: 'infrared-measured',
      message: `${source}: infrared beside the line was looked for with a filter. ${found}`,
    };
  }
  return {
    code: 'infrared-not-separated',
    message: `${source}: light of ${wavelength_nm} nm is usually made by frequency doubling, and such lasers can emit infrared that a broadband sensor counts as visible light. Infrared is not separated here: one source of 10 mW green is on record with nearly 20 mW infrared (NIST TN 1668). Measure with and without a filter that blocks infrared.`,
  };
}

function requireWithin({ value }: Estimate, name: string, low: number, high: number): void {
  if (value < low || value > high) throw argumentWrong(`${name} is out of range.`, value);
}

const short = (value: number) => significant(value, 3);
const percent = (value: number) => percentOf(value, 3);
