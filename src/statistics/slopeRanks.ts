/** Slopes of all pairs of points by rank, without ever having them all. */
import { sortedPlaces } from './sortedPlaces.js';
import { extremes } from './summary.js';

/** Two points, by their places in a list. */
export type Pair = readonly [first: number, second: number];

export interface SlopeRanks {
  /** Pairs of points with different x. */
  readonly total: number;
  /** The pair whose slope has a rank, counted from 1, the smallest first. */
  readonly at: (rank: number) => Pair;
}

/** So many pairs, and so many for each point, are looked at one by one. */
const FEW = 4000;
const FEW_EACH = 0.3;
/** Slopes drawn to narrow a range, and how far beside the rank they are taken, in standard deviations. */
const DRAWN = 400;
const BESIDE = 3;
/** From this part of all slopes on they lie nearly evenly, and a place between two bounds is taken from it. */
const EVEN = 1 / 50;
/** How far beside that place, as a part of the range. */
const BESIDE_EVEN = 0.02;
/** Such a step has to leave less than this part of the slopes, or pairs are drawn again. */
const WON = 0.3;
/** So many bounds are kept for further ranks. */
const MOST_BOUNDS = 40;
/** Relative to y − b·x. */
const ALIKE = 1e-11;
/** How often a slope is looked for at which rounding decides nothing, each time elsewhere. */
const MOST_TRIES = 8;
const GOLDEN = 0.6180339887498949;
/** Of a difference of two products, relative to the largest of them. */
const ROUNDING = 1e-15;

/**
 * A pair has a slope below b where the later point lies lower in y − b·x: the number of such pairs is
 * that of the inversions of a list, counted while it is sorted. A range of slopes around the rank is
 * narrowed by drawing pairs, until the pairs left in it are few; those alone are then written out. What
 * is found is exact, but for slopes that rounding alone tells apart, and does not depend on the draws.
 * Memory grows as the points, time as n log n.
 *
 * @param x finite
 * @param y as many
 * Source: Matoušek, Information Processing Letters 39 (1991) 183; the counting: Knuth, The Art of
 * Computer Programming 3, 5.2.4.
 */
export function slopeRanks(x: readonly number[], y: readonly number[]): SlopeRanks {
  const order = sortedPlaces(x, sortedPlaces(y));
  const points = {
    order,
    x: Float64Array.from(order, (at) => x[at]),
    y: Float64Array.from(order, (at) => y[at]),
  };
  const n = order.length;
  let total = (n * (n - 1)) / 2;
  for (let from = 0, i = 1; i <= n; i++) {
    if (points.x[i] === points.x[from]) continue;
    total -= ((i - from) * (i - from - 1)) / 2;
    from = i;
  }
  const found: Ranked[] = [];
  const bounds: Bound[] = [
    { slope: Number.NEGATIVE_INFINITY, below: 0 },
    { slope: Number.POSITIVE_INFINITY, below: total },
  ];
  const at = (rank: number): Pair => {
    const has = (one: Ranked) => rank > one.below && rank <= one.below + one.slopes.length;
    let known = found.find(has);
    if (known === undefined) {
      known = around(points, bounds, rank);
      found.push(known);
    }
    const pair = known.pairs[known.slopes.indexOf(known.sorted[rank - known.below - 1])];
    return [order[pair[0]], order[pair[1]]];
  };
  return { total, at };
}

interface Points {
  /** Places in the lists as given, in the order of x, then y. */
  readonly order: Uint32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** A slope and how many pairs have a smaller one. */
interface Bound {
  readonly slope: number;
  readonly below: number;
}

/** All pairs whose ranks follow `below`, and their slopes as they are and sorted. */
interface Ranked {
  readonly below: number;
  readonly pairs: readonly Pair[];
  readonly slopes: Float64Array;
  readonly sorted: Float64Array;
}

function ranked(points: Points, below: number, pairs: readonly Pair[]): Ranked {
  const slopes = Float64Array.from(pairs, (pair) => slopeOf(points, pair));
  return { below, pairs, slopes, sorted: slopes.slice().sort() };
}

/** The pair at a rank, with those at the ranks beside it; adds to the bounds that are known. */
function around(points: Points, bounds: Bound[], rank: number): Ranked {
  const few = FEW + FEW_EACH * points.order.length;
  const place = places(points.order.length);
  const total = bounds[1].below;
  let [low, high] = bounds;
  const narrow = (found: Bound): void => {
    bounds.push(found);
    if (found.below < rank) low = found.slope > low.slope ? found : low;
    else high = found.slope < high.slope ? found : high;
  };
  for (const known of bounds.slice(2)) narrow(known);
  bounds.length = Math.min(bounds.length, MOST_BOUNDS);
  let evenly = true;
  while (high.below - low.below > few) {
    const count = high.below - low.below;
    if (evenly && count < EVEN * total && Number.isFinite(high.slope - low.slope)) {
      for (const [from, to] of evenBounds(low, high, rank, few)) {
        narrow(clearBound(points, from, to));
      }
      evenly = high.below - low.below < WON * count;
      continue;
    }
    const sample = drawn(points, low, high, place);
    const part = (rank - low.below) / count;
    const beside = BESIDE * Math.sqrt(DRAWN * part * (1 - part)) + 1;
    let narrowed = false;
    for (const place of [part * DRAWN - beside, part * DRAWN + beside].map(Math.round)) {
      const [before, after] = [sample[place - 1]?.slope, sample[place]?.slope];
      if (before === undefined || after === undefined) continue;
      if (after - before <= alikeAt(points, before)) continue;
      narrow(clearBound(points, before, after));
      narrowed = true;
    }
    if (narrowed) continue;
    // Slopes of readings in steps are often the same: the rank is among those, or on one side of all.
    const { slope, pair } = sample[Math.floor(part * (DRAWN - 1))];
    const alike = alikeAt(points, slope);
    narrow(clearBound(points, slope - 2 * alike, slope - alike));
    narrow(clearBound(points, slope + alike, slope + 2 * alike));
    if (low.slope <= slope && slope <= high.slope) return ranked(points, rank - 1, [pair]);
  }
  return ranked(points, low.below, pairsBetween(points, low.slope, high.slope));
}

/** Slopes so near to this one are taken for the same: what rounding leaves of y − b·x, many times over. */
function alikeAt({ x, y }: Points, slope: number): number {
  const [first, last] = [x[0], x[x.length - 1]];
  const largest = (low: number, high: number) => Math.max(-low, high);
  const size = largest(...extremes(y)) + Math.abs(slope) * largest(first, last);
  return (ALIKE * size) / (last - first);
}

/** Two ranges, below and above a rank, in which to put bounds, where the slopes lie evenly between two. */
function evenBounds(low: Bound, high: Bound, rank: number, few: number) {
  const width = high.slope - low.slope;
  const count = high.below - low.below;
  const middle = low.slope + (width * (rank - low.below)) / count;
  const beside = width * Math.max(BESIDE_EVEN, few / (4 * count));
  return [
    [middle - 1.5 * beside, middle - beside],
    [middle + beside, middle + 1.5 * beside],
  ] as const;
}

const slopeOf = ({ x, y }: Points, [a, b]: Pair): number => (y[b] - y[a]) / (x[b] - x[a]);

/** Pairs drawn evenly from a range of slopes, the smallest slope first. */
function drawn(points: Points, low: Bound, high: Bound, place: () => number) {
  const sample: { readonly slope: number; readonly pair: Pair }[] = [];
  const { x, y } = points;
  while (sample.length < DRAWN) {
    const [a, b] = [place(), place()];
    const slope = (y[b] - y[a]) / (x[b] - x[a]);
    // Equal x give no number, or an infinite one.
    if (!(slope >= low.slope && slope < high.slope) || x[a] === x[b]) continue;
    sample.push({ slope, pair: [a, b] });
  }
  return sample.sort((a, b) => a.slope - b.slope);
}

/** Places below n in a fixed, mixed order (xorshift, Marsaglia 2003): no result depends on them. */
function places(n: number): () => number {
  let state = 2463534242;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return Math.floor(((state >>> 0) / 2 ** 32) * n);
  };
}

/**
 * A slope between two others at which no two points lie so close in y − b·x that rounding could turn
 * them round.
 */
function clearBound(points: Points, from: number, to: number): Bound {
  let bound: Bound = { slope: from, below: 0 };
  for (let tried = 0; tried < MOST_TRIES; tried++) {
    const slope = from + (to - from) * ((0.5 + tried * GOLDEN) % 1);
    const { inversions, clear } = counted(points, slope);
    bound = { slope, below: inversions };
    if (clear) break;
  }
  return bound;
}

/** How many pairs y − b·x turns round in the order of x, and whether rounding has no say in it. */
function counted({ x, y }: Points, slope: number) {
  const { count, sorted } = inversions(y.map((value, i) => value - slope * x[i]));
  const size = Math.max(Math.abs(sorted[0]), Math.abs(sorted[sorted.length - 1]), Math.abs(y[0]));
  let clear = true;
  for (let i = 1; i < sorted.length && clear; i++) {
    const gap = sorted[i] - sorted[i - 1];
    // Equal ones are the same point twice, at almost every slope.
    clear = gap === 0 || gap > ROUNDING * size;
  }
  return { inversions: count, clear };
}

/** The list sorted, and how many pairs of it stood the wrong way round. */
export function inversions(values: Float64Array) {
  const n = values.length;
  let list = values.slice();
  let other = new Float64Array(n);
  let count = 0;
  for (let width = 1; width < n; width *= 2) {
    for (let from = 0; from < n; from += 2 * width) {
      const middle = Math.min(from + width, n);
      const end = Math.min(from + 2 * width, n);
      let [left, right] = [from, middle];
      for (let to = from; to < end; to++) {
        if (left < middle && (right >= end || list[left] <= list[right])) other[to] = list[left++];
        else {
          count += middle - left;
          other[to] = list[right++];
        }
      }
    }
    [list, other] = [other, list];
  }
  return { count, sorted: list };
}

/** Every pair with a slope between two: those that change their order in y − b·x from one to the other. */
function pairsBetween(points: Points, low: number, high: number): Pair[] {
  const before = orderAt(points, low);
  const rank = new Uint32Array(before.length);
  orderAt(points, high).forEach((at, place) => {
    rank[at] = place;
  });
  const pairs: Pair[] = [];
  let list = before;
  for (let width = 1; width < list.length; width *= 2) {
    const next = new Uint32Array(list.length);
    for (let from = 0; from < list.length; from += 2 * width) {
      const middle = Math.min(from + width, list.length);
      const end = Math.min(from + 2 * width, list.length);
      let [left, right] = [from, middle];
      for (let to = from; to < end; to++) {
        if (left < middle && (right >= end || rank[list[left]] < rank[list[right]])) {
          next[to] = list[left++];
        } else {
          for (let one = left; one < middle; one++) pairs.push([list[one], list[right]]);
          next[to] = list[right++];
        }
      }
    }
    list = next;
  }
  return pairs;
}

/** The points in the order of y − b·x. */
function orderAt({ x, y }: Points, slope: number): Uint32Array {
  if (slope === Number.NEGATIVE_INFINITY) return Uint32Array.from(x, (_, i) => i);
  const rest =
    slope === Number.POSITIVE_INFINITY
      ? x.map((value) => -value)
      : y.map((value, i) => value - slope * x[i]);
  return sortedPlaces(rest);
}
