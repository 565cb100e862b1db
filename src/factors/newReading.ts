/** A new reading, or several of one power, as somebody gives them. */

import { argumentWrong, MeterpairError } from '../error.js';
import { significant } from '../findings/formatNumber.js';
import { DAY_EXPECTED, isDay, today } from '../record/days.js';
import { requireShape } from '../statistics/shapes.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { Factors, Warning } from '../vocabulary.js';
import { recheckDue } from './recheckDue.js';
import { settledReading } from './settledReading.js';

/** A new reading of the candidate. */
export interface NewReading {
  /**
   * Indication of the candidate, mW, with its zero subtracted unless `zero_mW` says what that was. A
   * list: repeated readings of one power, the head not moved. A list of lists: one for each time the head was
   * put up.
   */
  readonly reading_mW: number | readonly number[] | readonly (readonly number[])[];
  readonly wavelength_nm: number;
  /** Indication with the beam blocked, mW: it is subtracted. */
  readonly zero_mW?: number;
  /** When it was taken, in s after switch-on; left out: settled, as the factors want it. */
  readonly read_at_s?: number;
  /** Wavelength that the candidate was set to, nm. */
  readonly setting_nm?: number;
  /** Day of the reading, as study.json states days; left out: today. Factors too old or too young are cautioned. */
  readonly date?: string;
}

/** The mean of the readings of a new power, and what is known of it. */
export interface TakenReading {
  readonly wavelength_nm: number;
  /** Mean indication, zero subtracted, mW: display step and zero bear on that. */
  readonly indication_mW: number;
  /** The same brought to a settled reading where that is known, mW. */
  readonly reading_mW: number;
  readonly readings: number;
  /** How often the head was put up. */
  readonly seatings: number;
  /** Relative scatter within the seatings and its degrees of freedom; `null` for single readings. */
  readonly scatter: { readonly sd: number; readonly dof: number } | null;
  /** Relative standard uncertainty of bringing an early reading to a settled one; 0 for none. */
  readonly settling: number;
  readonly cautions: readonly Warning[];
}

/** A setting this near the wavelength is the right one, nm. */
const RIGHT_SETTING_NM = 5;

/**
 * @throws argument-wrong for what is no number or list of numbers, reading-not-positive,
 *   wavelength-out-of-range
 */
export function readingOf(factors: Factors, given: NewReading): TakenReading {
  if (typeof given !== 'object' || given === null) {
    throw argumentWrong('A reading to be corrected is a record.', given, EXPECTED);
  }
  const { wavelength_nm, zero_mW = 0, read_at_s, setting_nm, date } = given;
  if (!Array.isArray(factors?.factors)) {
    throw argumentWrong(
      'The first argument has to be factors.',
      typeof factors,
      'what parseFactors gives',
    );
  }
  if (typeof wavelength_nm !== 'number' || !Number.isFinite(wavelength_nm)) {
    throw new MeterpairError({
      code: 'wavelength-out-of-range',
      message: 'The wavelength must be a number in nm.',
      found: String(wavelength_nm),
      expected: EXPECTED,
    });
  }
  requireShape(zero_mW, 'A zero in mW', 'number');
  const seatings = seatingsOf(given.reading_mW).map((list) => list.map((one) => one - zero_mW));
  const all = seatings.flat();
  const low = all.find((one) => one <= 0);
  if (low !== undefined) {
    throw new MeterpairError({
      code: 'reading-not-positive',
      message: 'A reading of zero or less cannot be corrected by a factor.',
      found: `${significant(low, 4)} mW`,
      expected: 'a reading above 0 mW with the zero of the display subtracted',
    });
  }
  // Each seating counts once, however many readings were taken in it.
  const indication_mW = mean(seatings.map((list) => mean(list)));
  const settled = settledReading(factors, indication_mW, read_at_s);
  return {
    wavelength_nm,
    indication_mW,
    reading_mW: settled.reading_mW,
    readings: all.length,
    seatings: seatings.length,
    scatter: scatterOf(seatings, indication_mW),
    settling: settled.standardUncertainty,
    cautions: [
      ...settled.cautions,
      ...settingCautions(wavelength_nm, setting_nm),
      ...recheckDue(factors, dayOf(date)),
    ],
  };
}

function dayOf(date: string | undefined): string {
  if (date === undefined) return today();
  if (typeof date === 'string' && isDay(date)) return date;
  throw argumentWrong('The day of a reading must be a date.', date, DAY_EXPECTED);
}

const EXPECTED = '{ reading_mW: 42, wavelength_nm: 520 }';

function seatingsOf(given: NewReading['reading_mW']): readonly (readonly number[])[] {
  const lists = Array.isArray(given)
    ? given.every((one) => Array.isArray(one))
      ? (given as readonly (readonly number[])[])
      : [given as readonly number[]]
    : [[given as number]];
  const wrong = lists.flat().filter((one) => typeof one !== 'number' || !Number.isFinite(one));
  if (wrong.length > 0 || lists.length === 0 || lists.some((list) => list.length === 0)) {
    throw argumentWrong(
      'A reading must be a number of mW, a list of them, or a list of lists.',
      foundIn(given, wrong[0]),
      EXPECTED,
    );
  }
  return lists;
}

/** What was given in place of numbers, and that 4,9 is written 4.9. */
function foundIn(given: unknown, wrong: unknown): string {
  if (given === undefined) return 'nothing';
  if (typeof wrong !== 'string') return quotedShort(given);
  const text = wrong.slice(0, 40);
  const comma = /^\s*[+-]?\d+,\d+\s*$/.test(text);
  return `the text '${text}'${comma ? '; a number has a point and no quotation marks: ' : ''}${comma ? text.trim().replace(',', '.') : ''}`;
}

const quotedShort = (given: unknown): string =>
  (JSON.stringify(given) ?? String(given)).slice(0, 80);

/** Pooled over the seatings. */
function scatterOf(
  seatings: readonly (readonly number[])[],
  level: number,
): TakenReading['scatter'] {
  let squares = 0;
  let dof = 0;
  for (const list of seatings) {
    if (list.length < 2) continue;
    squares += (list.length - 1) * standardDeviation(list) ** 2;
    dof += list.length - 1;
  }
  return dof === 0 ? null : { sd: Math.sqrt(squares / dof) / level, dof };
}

function settingCautions(wavelength_nm: number, setting_nm: number | undefined): Warning[] {
  if (setting_nm === undefined) return [];
  requireShape(setting_nm, 'A wavelength setting in nm', 'number');
  if (Math.abs(setting_nm - wavelength_nm) <= RIGHT_SETTING_NM) return [];
  return [
    {
      code: 'setting-wrong',
      message: `The candidate was set to ${setting_nm} nm for light of ${wavelength_nm} nm: what that does to the reading is not known, and U does not hold it.`,
    },
  ];
}
