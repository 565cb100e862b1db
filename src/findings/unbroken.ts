/** What must not be parted at the end of a line: a number and its unit, a sign and its number. */

const NO_BREAK = '\u00a0';
const NO_BREAK_HYPHEN = '\u2011';
const UNITS = 'mW|nm|µW|W|mm|s|%|°C|dof|months|series|laps|runs';

/** The same text with no-break spaces between a number and its unit, around ±, and after a class or run. */
export function unbroken(text: string): string {
  return text
    .replace(new RegExp(`(\\d|∞) (?=(?:${UNITS})(?![\\p{L}\\d]))`, 'gu'), `$1${NO_BREAK}`)
    .replace(/([±×<>=]) (?=[U\d−∞])/g, `$1${NO_BREAK}`)
    .replace(/(?<![\p{L}\d])([Cc]lass|run|row|step|p|U|K|k|u|ν|ζ) (?=[\d=±<>])/gu, `$1${NO_BREAK}`)
    .replace(/(\d) (?=±\u00a0)/g, `$1${NO_BREAK}`)
    .replaceAll(' / ', `${NO_BREAK}/${NO_BREAK}`);
}

/** The same text with no-break hyphens in dates: for a page, which parts them there and is not typed from. */
export const wholeDates = (text: string): string =>
  text.replace(/\b(\d{4})-(\d\d)-(\d\d)\b/g, `$1${NO_BREAK_HYPHEN}$2${NO_BREAK_HYPHEN}$3`);
