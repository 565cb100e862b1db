/** Published figures as plain data, and how far ours agree with them. */

export type Found = number | null | undefined;

export interface Figure {
  readonly quantity: string;
  /** As printed, digit for digit; figures that are printed together are parted by a comma and a space. */
  readonly printed: readonly string[];
  /** Ours, one for each printed figure. Computed once. */
  readonly ours: () => readonly Found[];
  /** Allowed distance where it is not half a unit of the last printed digit. */
  readonly within?: number | undefined;
  /** The same as a part of the printed figure. */
  readonly relative?: number | undefined;
  /** Why that distance, or what else has to be said of the figure. */
  readonly note?: string | undefined;
  /** The figure was not read anywhere: it is from memory. */
  readonly memory?: true | undefined;
}

export interface PublishedSource {
  readonly source: string;
  /** Where the figures were read, if not in the source itself. */
  readonly read?: string;
  readonly figures: readonly Figure[];
}

type Remarks = Pick<Figure, 'within' | 'relative' | 'note' | 'memory'>;

export function figure(
  quantity: string,
  printed: string,
  ours: () => Found | readonly Found[],
  remarks: Remarks = {},
): Figure {
  let kept: readonly Found[] | undefined;
  return {
    quantity,
    printed: printed.split(', '),
    ours: () => {
      kept ??= [ours()].flat();
      return kept;
    },
    ...remarks,
  };
}

/** The value of a step function of no arguments, computed when it is first asked for. */
export function once<T>(compute: () => T): () => T {
  let kept: { readonly value: T } | undefined;
  return () => {
    kept ??= { value: compute() };
    return kept.value;
  };
}

const mantissa = (printed: string) => printed.toLowerCase().replace(/e.*$/, '');
const exponent = (printed: string) => Number(/e(.*)$/i.exec(printed)?.[1] ?? 0);
const decimals = (printed: string) => mantissa(printed).split('.')[1]?.length ?? 0;

/** Half a unit of the last printed digit. */
export function halfUnit(printed: string): number {
  return 0.5 * 10 ** (exponent(printed) - decimals(printed));
}

/** How far ours may be from what is printed. */
export function allowed(one: Figure, printed: string): number {
  if (one.relative !== undefined) return one.relative * Math.abs(Number(printed));
  // A printed figure lies in the middle of what it stands for; the rest is for the binary digits.
  return one.within ?? halfUnit(printed) * (1 + 1e-9);
}

/** Significant digits of a printed figure; of a printed zero, its decimals. */
export function digitsOf(printed: string): number {
  const digits = mantissa(printed).replace(/[^0-9]/g, '');
  return Math.max(1, Number(printed) === 0 ? decimals(printed) : digits.replace(/^0+/, '').length);
}

/** How many of the printed digits ours has, rounded to as many. */
export function digitsThatAgree(printed: string, ours: number): number {
  const all = digitsOf(printed);
  const distance = Math.abs(ours - Number(printed));
  for (let fewer = 0; fewer < all; fewer++) {
    if (distance <= halfUnit(printed) * 10 ** fewer * (1 + 1e-9)) return all - fewer;
  }
  return 0;
}

/**
 * Ours as it is shown beside the printed figure: one digit more. Of long ones eleven digits at most,
 * and one more than agree: what lies behind differs between versions of Node.
 */
export function shown(printed: string, ours: number): string {
  const digits = digitsOf(printed);
  if (digits >= 11) {
    const kept = Math.min(11, digitsThatAgree(printed, ours) + 1);
    return /e/i.test(printed) ? ours.toExponential(kept - 1) : ours.toPrecision(kept);
  }
  if (/e/i.test(printed)) return ours.toExponential(digits);
  const text = ours.toFixed(Math.min(decimals(printed) + 1, 20));
  return /[1-9]/.test(text) ? text : text.replace('-', '');
}
