/**
 * Accessible emission limits (AEL) of IEC 60825-1:2014 for a continuous wave from a small source.
 *
 * Provenance, to be read before use: the numbers come from a public transcription of the standard's
 * tables 3, 6, 8 and 9 (as BS EN 60825-1:2014), not from the standard. What was not in that
 * transcription says so below. Check every number against a bought copy.
 */

import { significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import type { LaserClass } from '../vocabulary.js';

/** The most that a class may emit. Class 4 has no limit: it is whatever exceeds class 3B. */
export interface EmissionLimit {
  readonly class: Exclude<LaserClass, '4'>;
  readonly limit_mW: number;
}

export interface EmissionLimits {
  /** From the lowest class to the highest; a class that does not exist here is left out. */
  readonly limits: readonly EmissionLimit[];
  /** Whether every class is limited in power here; `false`: see `why`. */
  readonly covered: boolean;
  /** Whether the wavelength is within 180 nm to 1 mm, the range of the standard. */
  readonly in_scope: boolean;
  /** Exposure times the limits are made for, in words. */
  readonly time_base: string;
  readonly why: string;
}

export interface EmissionLimitOptions {
  /** Half-width of the range the true wavelength may lie in; the lowest limit in it is taken. */
  readonly tolerance_nm?: number;
}

interface Band {
  readonly to_nm: number;
  /** Class limits in mW at a wavelength inside the band. */
  readonly limits: (wavelength_nm: number) => readonly EmissionLimit[];
  readonly time_base: string;
  /** Why lower classes cannot be judged by power here; left out when they can. */
  readonly refusal?: string;
}

/** Largest continuous power of class 3B from 315 nm up, in mW; nowhere is the limit higher. */
export const CLASS_3B_MAX_MW = 500;

// Photochemical and thermal correction factors of table 9, as transcribed.
const c2 = (nm: number) => 10 ** (0.2 * (nm - 295));
const c3 = (nm: number) => (nm <= 450 ? 1 : 10 ** (0.02 * (nm - 450)));
const c4 = (nm: number) => (nm <= 1050 ? 10 ** (0.002 * (nm - 700)) : 5);
// From 1200 nm on the table lets C7 rise as 8 + 10^(0.04 (λ − 1250)); at 1310 nm that would call
// half a watt class 1. The European amendment A11:2021 tightened 1250 to 1400 nm (read in a
// secondary text). On the safe side C7 is held at 8 here.
const c7 = (nm: number) => (nm <= 1150 ? 1 : Math.min(8, 10 ** (0.018 * (nm - 1150))));

const visible = (class1: (nm: number) => number) => (nm: number) =>
  ladder(class1(nm), { class2: 1, class3R: 5 });

function ladder(
  class1: number,
  rest: { readonly class2?: number; readonly class3R: number },
): readonly EmissionLimit[] {
  return [
    { class: '1', limit_mW: class1 },
    ...(rest.class2 === undefined ? [] : [{ class: '2', limit_mW: rest.class2 } as const]),
    { class: '3R', limit_mW: rest.class3R },
    { class: '3B', limit_mW: CLASS_3B_MAX_MW },
  ];
}

const VISIBLE_TIMES = '0.25 s for classes 2 and 3R, 100 s for class 1';
const INFRARED_TIMES = '100 s';
const UV_TIMES = '30 000 s';

const LOWEST_NM = 180;

/** Each from the end of the one before. */
const BANDS: readonly Band[] = [
  {
    to_nm: 302.5,
    limits: () => [],
    time_base: UV_TIMES,
    refusal: 'below 302.5 nm the lower classes are limited in energy per area, not in power',
  },
  {
    to_nm: 315,
    limits: (nm) => [{ class: '3B', limit_mW: 0.05 * c2(nm) }],
    time_base: UV_TIMES,
    refusal: 'from 302.5 to 315 nm the lower classes are limited in energy, not in power',
  },
  {
    to_nm: 400,
    limits: () => ladder(7.9e-3, { class3R: 4.0e-2 }),
    time_base: UV_TIMES,
  },
  {
    to_nm: 500,
    limits: visible((nm) => Math.min(3.9e-2 * c3(nm), 0.39)),
    time_base: VISIBLE_TIMES,
  },
  {
    to_nm: 700,
    limits: visible(() => 0.39),
    time_base: VISIBLE_TIMES,
  },
  {
    to_nm: 1050,
    limits: (nm) => ladder(0.39 * c4(nm), { class3R: 2.0 * c4(nm) }),
    time_base: INFRARED_TIMES,
  },
  {
    to_nm: 1400,
    limits: (nm) => ladder(0.39 * c4(nm) * c7(nm), { class3R: 2.0 * c4(nm) * c7(nm) }),
    time_base: INFRARED_TIMES,
  },
  {
    // Class 1 from a second transcription that had errors elsewhere. Class 3R follows from it by
    // the rule of public summaries, five times class 1 outside the visible; not read in a table.
    to_nm: 4000,
    limits: () => ladder(10, { class3R: 50 }),
    time_base: INFRARED_TIMES,
  },
  {
    to_nm: 1e6,
    limits: () => [{ class: '3B', limit_mW: CLASS_3B_MAX_MW }],
    time_base: INFRARED_TIMES,
    refusal: 'above 4000 nm the lower classes are limited in power per area, not in power',
  },
];

/** Wavelengths at which a limit jumps, so that a nanometre decides, in nm. */
export const LIMIT_JUMPS_NM: readonly number[] = [302.5, 315, 400, 700, 1400, 4000];

/**
 * How much power may a laser of this wavelength emit and still belong to each class?
 *
 * @param wavelength_nm nominal wavelength, nm
 * @returns limits in mW; with a wavelength tolerance the lowest limit that the range touches, and a
 *   class only if it exists in the whole range. `covered: false` where the standard's limits are
 *   not a power: then `limits` holds at most class 3B, and 500 mW is above every class 3B limit.
 * @throws argument-wrong for a wavelength that is not above 0 or a negative tolerance
 *
 * Not for pulsed, scanned or extended sources. Source: IEC 60825-1:2014, tables 3, 6, 8 and 9, by
 * way of a public transcription (see the head of this file).
 */
export function accessibleEmissionLimits(
  wavelength_nm: number,
  options: EmissionLimitOptions = {},
): EmissionLimits {
  const shapes = { tolerance_nm: { maybe: 'not-negative' } } as const;
  const { tolerance_nm: tolerance = 0 } = requireOptions(options, shapes);
  requireShape(wavelength_nm, 'A wavelength in nm', 'above-zero');
  const low = wavelength_nm - tolerance;
  const high = wavelength_nm + tolerance;
  const last = BANDS.length - 1;
  const touched = BANDS.map((band, i) => ({
    ...band,
    from_nm: BANDS[i - 1]?.to_nm ?? LOWEST_NM,
  })).filter(
    ({ from_nm, to_nm }, i) => high >= from_nm && (low < to_nm || (i === last && low === to_nm)),
  );
  if (wavelength_nm < LOWEST_NM || wavelength_nm > BANDS[last].to_nm) {
    return {
      limits: [],
      covered: false,
      in_scope: false,
      time_base: 'none',
      why: `${plain(wavelength_nm)} nm is not within 180 nm to 1 mm, the range of IEC 60825-1.`,
    };
  }
  // Within a band every limit is monotone in the wavelength, so its lowest value is at an end.
  const rows = touched.flatMap((band) => [
    band.limits(Math.max(low, band.from_nm)),
    band.limits(Math.min(high, band.to_nm)),
  ]);
  const refusal = touched.find(({ refusal: why }) => why !== undefined)?.refusal ?? null;
  const range =
    tolerance === 0
      ? `${plain(wavelength_nm)} nm`
      : `${plain(wavelength_nm)} nm ± ${plain(tolerance)} nm`;
  return {
    limits: lowest(rows),
    covered: refusal === null,
    in_scope: true,
    time_base: touched[0].time_base,
    why:
      refusal === null
        ? `Continuous-wave limits of IEC 60825-1:2014 at ${range}, from a public transcription${high > 1200 && low < 1400 ? ', held lower on the safe side from 1200 nm on' : ''}.`
        : `No class by power at ${range}: ${refusal}.`,
  };
}

function lowest(rows: readonly (readonly EmissionLimit[])[]): readonly EmissionLimit[] {
  const classes = ['1', '2', '3R', '3B'] as const;
  return classes.flatMap((name) => {
    const values = rows.map((row) => row.find((limit) => limit.class === name)?.limit_mW);
    if (values.some((value) => value === undefined)) return [];
    return [{ class: name, limit_mW: Math.min(...(values as number[])) }];
  });
}

const plain = (value: number) => significant(value, 6);
