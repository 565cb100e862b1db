/** What a reader typed, as numbers. */

export type TypedAnswer = string | number;

/** One number, a range, nothing yet, or the reason why the text cannot be read. */
export type ReadAnswer =
  | { readonly kind: 'none' }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'range'; readonly low: number; readonly high: number }
  | { readonly kind: 'unclear'; readonly why: string };

const NUMBER = String.raw`[+-]?\s*(?:\d{1,3}(?: \d{3})+(?:[.,]\d+)?|\d*[.,]?\d+)(?:e[+-]?\d+)?`;
const UNIT = String.raw`%|per ?cent|(?:out )?of (?:a |one )?(?:100|hundred)|[mµμu]?w\b|nm\b|s(?:ec(?:onds?)?)?\b`;
const QUANTITY = String.raw`(${NUMBER})\s*(${UNIT})?`;
const APART = String.raw`\s*(?:\bto\b|\band\b|\bup to\b|\.{2,3}|;|, |-)\s*`;
const ONE = new RegExp(`^${QUANTITY}$`);
const TWO = new RegExp(`^${QUANTITY}${APART}${QUANTITY}$`);
const AROUND = new RegExp(String.raw`^${QUANTITY}\s*(?:±|\+ ?/? ?-)\s*${QUANTITY}$`);
const FRACTION = new RegExp(String.raw`^(${NUMBER})\s*/\s*(${NUMBER})$`);

/** How many of the question's unit one of the typed unit is. */
const SCALES: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  '%': { '': 1, '%': 1 },
  mW: { '': 1, mw: 1, w: 1000, µw: 0.001 },
  nm: { '': 1, nm: 1 },
  s: { '': 1, s: 1 },
  '': { '': 1, '%': 0.01 },
};

/**
 * Reads an answer as people type it: decimal point or comma, any minus sign, the unit or none,
 * "80 to 90", "85 ± 5", "85 of 100", "1/3".
 *
 * @param unit what the question asks for: `%`, `of 100`, `mW`, `nm`, `s`, or nothing for a plain number
 */
export function readAnswer(typed: TypedAnswer, unit = ''): ReadAnswer {
  if (typeof typed === 'number') return single(typed);
  const text = tidy(typed);
  if (text === '') return { kind: 'none' };
  if (/\d[.,]\d+[.,]\d/.test(text)) {
    return unclear('a number with two points or commas can be read in more than one way.');
  }
  const [one, two, around, parts] = [ONE, TWO, AROUND, FRACTION].map((form) => form.exec(text));
  const at = (value = '', own = '', other = '') => inUnit(numberOf(value), own || other, unit);
  if (one) return single(at(one[1], one[2]));
  if (parts) {
    const [top, below] = [numberOf(parts[1] ?? ''), numberOf(parts[2] ?? '')];
    return single(below === 100 ? inUnit(top, '%', unit) : inUnit(top / below, '', unit));
  }
  if (around) {
    const [middle, half] = [
      at(around[1], around[2], around[4]),
      at(around[3], around[4], around[2]),
    ];
    if (typeof middle === 'string' || typeof half === 'string') return single(middle);
    return { kind: 'range', low: middle - Math.abs(half), high: middle + Math.abs(half) };
  }
  if (two) {
    const [a, b] = [at(two[1], two[2], two[4]), at(two[3], two[4], two[2])];
    if (typeof a === 'string' || typeof b === 'string') return single(a);
    return { kind: 'range', low: Math.min(a, b), high: Math.max(a, b) };
  }
  return unclear(`no number was found in "${typed.trim()}".`);
}

function single(value: number | string): ReadAnswer {
  if (typeof value === 'string') return unclear(value);
  return Number.isFinite(value)
    ? { kind: 'number', value }
    : unclear('that is not a finite number.');
}

const unclear = (why: string): ReadAnswer => ({ kind: 'unclear', why });

const numberOf = (text: string) => Number(text.replace(/\s/g, '').replace(',', '.'));

/** The number in the unit of the question, or why it cannot be. */
function inUnit(value: number, typed: string, unit: string): number | string {
  const asked = unit === 'of 100' ? '%' : unit;
  const given = /^per|of|%/.test(typed) ? '%' : typed.replace(/^s.*/, 's').replace(/[uμ]/, 'µ');
  const scale = SCALES[asked]?.[given];
  if (scale !== undefined) return value * scale;
  const what = unit === '' ? 'a number without a unit' : unit;
  return `the question asks for ${what}, and the answer is in ${typed.replace(/w$/, 'W')}.`;
}

/** Signs, spaces and letters in one form; words and brackets around a number dropped. */
function tidy(typed: string): string {
  return typed
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[−–—‒]/g, '-')
    .replace(/…/g, '..')
    .replace(/[[\](){}'"]/g, '')
    .replace(/\s+/g, ' ')
    .replace(/^\s*(?:k|r|u)?\s*(?:[=≈~±]|\+ ?\/? ?-|about|around|ca\.?|between|from)?\s*/, '')
    .replace(/\s*[.!]?\s*$/, '');
}
