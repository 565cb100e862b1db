/** What must not be parted at the end of a line: a number and its unit, a sign and its number. */

const NO_BREAK = '\u00a0';
const UNITS = 'mW|nm|µW|W|mm|s|%|°C|dof|months|series|laps|runs';

/** The same text with no-break spaces between a number and its unit, after ±, and after a class or run. */
export function unbroken(text: string): string {
  return text
    .replace(new RegExp(`(\\d|∞) (?=(?:${UNITS})(?![\\p{L}\\d]))`, 'gu'), `$1${NO_BREAK}`)
    .replace(/([±×<>=]) (?=[U\d−∞])/g, `$1${NO_BREAK}`)
    .replace(/(?<![\p{L}\d])([Cc]lass|run|row|step|p|U|K|k|u|ν|ζ) (?=[\d=±<>])/gu, `$1${NO_BREAK}`)
    .replaceAll(' / ', `${NO_BREAK}/${NO_BREAK}`);
}
