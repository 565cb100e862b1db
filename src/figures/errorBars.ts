/** Bars of an interval, the same in every figure. */

/** A value between the ends of its interval. */
export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** The value between both ends; nothing where one of the three is missing. */
export const known = (
  value: number | null,
  low: number | null,
  high: number | null,
): readonly Spread[] =>
  value === null || low === null || high === null ? [] : [{ value, low, high }];

export interface BarStyle {
  readonly colour: string;
  readonly thickness: number;
  /** Length of the caps in px (default 5). */
  readonly width?: number;
}

/** What a trace takes as `error_x` or `error_y`: from `low` to `high`, however far each is off. */
export function errorBars(points: readonly Spread[], style: BarStyle) {
  return {
    type: 'data' as const,
    symmetric: false as const,
    array: points.map((point) => point.high - point.value),
    arrayminus: points.map((point) => point.value - point.low),
    color: style.colour,
    thickness: style.thickness,
    width: style.width ?? 5,
  };
}
