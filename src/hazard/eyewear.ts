/** Optical density as an orientation: never a choice of eyewear. */

import { formatNumber, significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import { infraredCaution } from '../wavelengths/infraredLeak.js';

export interface EyewearInput {
  /** Highest power the source can emit, mW: the upper bound of the hazard, not a mean. */
  readonly upper_mW: number;
  readonly wavelength_nm: number;
  readonly source: string;
}

export interface EyewearResult {
  /** Smallest optical density for a glance of 0.25 s, rounded up to 0.1; `null`: see `why`. */
  readonly optical_density: number | null;
  readonly why: string;
  readonly cautions: readonly string[];
}

/** Longest exposure assumed for visible light, s: the aversion response. */
const GLANCE_S = 0.25;

/** Area of the 7 mm aperture, m². */
const PUPIL_M2 = Math.PI * 0.0035 ** 2;

/** Maximum permissible exposure for 0.25 s of visible light, W/m²: 18·t^0.75 J/m² over t. */
export const VISIBLE_MPE_W_M2 = (18 * GLANCE_S ** 0.75) / GLANCE_S;

const CAUTIONS: readonly string[] = [
  'Orientation only. Choose eyewear by the standard, with a laser safety officer, from its tested scale number (EN 207, EN 208 or ANSI Z136): optical density alone says nothing of how long a filter withstands the beam.',
  'Made for an accidental glance of 0.25 s at visible light. Looking on, magnifying optics, or light that provokes no blink need more.',
  'Never look into the beam, with eyewear or without.',
];

/**
 * What optical density brings the beam down to the exposure limit of an accidental glance?
 *
 * OD = log₁₀(E₀/MPE), E₀ = P/38.5 mm² for beams up to 7 mm wide, MPE = 18·t^0.75/t = 25.5 W/m² at
 * t = 0.25 s; rounded up to 0.1.
 *
 * @returns `null` outside 400 to 700 nm, where no blink protects and another limit holds
 * @throws argument-wrong for a power or wavelength that is not above 0
 *
 * Not for infrared, ultraviolet, pulsed light, or beams wider than 7 mm (for which it is too high).
 * Source: the 0.25 s limit as in Directive 2006/25/EC (French Labour Code annex, read), and the
 * definition of optical density.
 */
export function opticalDensityNeeded(input: EyewearInput): EyewearResult {
  const { upper_mW, wavelength_nm, source } = requireOptions(input, {
    upper_mW: 'above-zero',
    wavelength_nm: 'above-zero',
    source: true,
  });
  const infrared = infraredCaution(wavelength_nm, source, null);
  const cautions =
    infrared === null
      ? CAUTIONS
      : [...CAUTIONS, `${infrared.message} Eyewear for the visible line need not stop infrared.`];
  if (wavelength_nm < 400 || wavelength_nm > 700) {
    return {
      optical_density: null,
      why: `${wavelength_nm} nm is not visible light (400 to 700 nm): nobody blinks at it, and the limits for long exposure hold. Ask a laser safety officer.`,
      cautions,
    };
  }
  const ratio = upper_mW / 1000 / PUPIL_M2 / VISIBLE_MPE_W_M2;
  // 1e-9 keeps a whole tenth from being rounded up once more.
  const density = Math.max(0, Math.ceil(Math.log10(ratio) * 10 - 1e-9) / 10);
  return {
    optical_density: density,
    why: `${significant(upper_mW, 3)} mW through a 7 mm pupil are ${significant(ratio, 2)} times the exposure limit for 0.25 s of visible light: an optical density of ${formatNumber(density, { places: 1 })} at ${wavelength_nm} nm is the least that could do.`,
    cautions,
  };
}
