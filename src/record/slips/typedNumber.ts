/** Numbers as somebody types them, so that a slip can be undone digit by digit. */

/** Digits that survive subtracting a zero and adding it again. */
const SIGNIFICANT = 12;

/** What the display showed: the reading with its zero put back, without the noise of arithmetic. */
export function shownValue(net_mW: number, zero_mW: number | null): number {
  return Number((net_mW + (zero_mW ?? 0)).toPrecision(SIGNIFICANT));
}

/** Within what decimal numbers lose in binary; a number far below one step is none of it. */
export function isWhole(steps: number): boolean {
  return Math.abs(steps - Math.round(steps)) < 1e-9 * Math.max(1, Math.abs(steps));
}

/** Decimals of a number as written: 2 for 4.62, 0 for 46. */
export function decimalPlaces(value: number): number {
  const [digits = '', exponent = '0'] = String(value).split('e');
  const fraction = digits.split('.')[1]?.length ?? 0;
  return Math.max(0, fraction - Number(exponent));
}

/** A decimal point that slips by three places is another unit. */
export const kindOfMove = (places: number) =>
  Math.abs(places) === 3 ? ('unit' as const) : ('decimal-place' as const);

/** The number with its decimal point moved by `places` to the right: exactly 46.2 from 4.62 and 1. */
export function movePoint(value: number, places: number): number {
  const [digits = '0', exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + places}`);
}

/**
 * The numbers that differ from a positive one by two neighbouring digits exchanged, across the
 * decimal point as well. `places`: the decimals that the display shows, so that 46 is taken as 46.0
 * where there is one.
 */
export function exchangedDigits(value: number, places: number): number[] {
  const text = value.toFixed(Math.min(20, Math.max(places, decimalPlaces(value))));
  if (!/^\d+(?:\.\d+)?$/.test(text)) return [];
  const point = text.includes('.') ? text.indexOf('.') : text.length;
  const digits = text.replace('.', '');
  const found = new Set<number>();
  for (let at = 0; at + 1 < digits.length; at += 1) {
    const left = digits.slice(0, at);
    const pair = `${digits[at + 1]}${digits[at]}`;
    const turned = `${left}${pair}${digits.slice(at + 2)}`;
    // No display shows 06.4.
    if (point > 1 && turned.startsWith('0')) continue;
    found.add(Number(`${turned.slice(0, point)}.${turned.slice(point)}`));
  }
  return [...found].filter((other) => other !== value && other > 0);
}
