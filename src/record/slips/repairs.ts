/** The finite list of slips that could stand behind the entries of a series. */
import { median } from 'simple-statistics';
import { groupedBy } from '../../statistics/groupedBy.js';
import { extremes } from '../../statistics/summary.js';
import type { SlipKind } from '../../vocabulary.js';
import type { Change } from './courseFit.js';
import type { Entry } from './entries.js';
import { decimalPlaces, exchangedDigits, kindOfMove, movePoint } from './typedNumber.js';

/** One slip undone: which entries change, and to what. */
export interface Repair {
  readonly kind: SlipKind;
  readonly quantity: 'reading' | 'zero';
  /** Place in the list of entries, and ln of the reading that it then has. */
  readonly changes: readonly Change[];
  readonly found: number;
  readonly likely: number | null;
}

/** Places by which a decimal point slips; three are a thousand, a unit. */
const SHIFTS = [-3, -2, -1, 1, 2, 3];

/** A smaller change of the reading is no slip worth stopping for. */
const LEAST_DIGITS = Math.log(1.07);
const LEAST_EXCHANGE = Math.log(1.05);

/** The decimal point of a reading moved back. */
export function pointRepairs(entries: readonly Entry[], index: number): Repair[] {
  const { run, shown } = entries[index]!;
  if (run.checked) return [];
  return SHIFTS.flatMap((places) => {
    const likely = movePoint(shown, places);
    const net = likely - (run.zero_mW ?? 0);
    if (net <= 0) return [];
    const changes = [{ index, y: Math.log(net) }];
    const kind = kindOfMove(places);
    return [{ kind, quantity: 'reading' as const, changes, found: shown, likely }];
  });
}

/**
 * The decimal point of a zero moved back, where the other zeros of the group speak for it: the typed
 * one stands apart from them, and the mended one among them and in steps of the display.
 *
 * @returns the repairs of an entry by its place in the list
 */
export function zeroRepairsOf(entries: readonly Entry[]): (index: number) => Repair[] {
  const beside = besideOthers(entries);
  return (index) => {
    const { run, shown, group, places } = entries[index]!;
    const zero = run.zero_mW;
    if (run.checked || zero === null || zero === 0) return [];
    const others = beside(group, zero);
    if (others === null) return [];
    const { middle, scatter } = others;
    const spread = Math.max(2 * 10 ** -places, 3 * scatter, 0.3 * Math.abs(middle));
    if (Math.abs(zero - middle) <= spread) return [];
    const decimals = Math.max(places, others.decimals());
    const shifts = SHIFTS.map((move) => ({ move, likely: movePoint(zero, move) }))
      .filter(({ likely }) => decimalPlaces(likely) <= decimals)
      .sort((a, b) => Math.abs(a.likely - middle) - Math.abs(b.likely - middle));
    return shifts.slice(0, 1).flatMap(({ move, likely }) => {
      const net = shown - likely;
      if (net <= 0 || Math.abs(likely - middle) > spread) return [];
      const kind = kindOfMove(move);
      const changes = [{ index, y: Math.log(net) }];
      return [{ kind, quantity: 'zero' as const, changes, found: zero, likely }];
    });
  };
}

interface OtherZeros {
  readonly middle: number;
  /** Median distance from the middle. */
  readonly scatter: number;
  /** Most decimals of any. */
  readonly decimals: () => number;
}

/**
 * The zeros of a group but for one of the given size; `null` for fewer than two. Displays show few
 * different zeros, so what is found is kept.
 */
function besideOthers(
  entries: readonly Entry[],
): (group: number, zero: number) => OtherZeros | null {
  const zeros = groupedBy(
    entries.flatMap(({ group, run: { zero_mW } }) =>
      zero_mW === null ? [] : [[group, zero_mW] as const],
    ),
  );
  const found = new Map<string, OtherZeros | null>();
  return (group, zero) => {
    const name = `${group} ${zero}`;
    const known = found.get(name);
    if (known !== undefined) return known;
    const all = zeros.get(group) ?? [];
    const own = all.indexOf(zero);
    const others = all.filter((_, i) => i !== own);
    const beside = others.length < 2 ? null : otherZeros(others);
    found.set(name, beside);
    return beside;
  };
}

function otherZeros(others: readonly number[]): OtherZeros {
  const middle = median([...others]);
  const scatter = median(others.map((other) => Math.abs(other - middle)));
  return { middle, scatter, decimals: () => extremes(others.map(decimalPlaces))[1] };
}

/** Two neighbouring digits of a reading exchanged back. */
export function digitRepairs(entries: readonly Entry[], index: number): Repair[] {
  const { run, shown, places, y: typed } = entries[index]!;
  if (run.checked) return [];
  return exchangedDigits(shown, places).flatMap((likely) => {
    const net = likely - (run.zero_mW ?? 0);
    if (net <= 0) return [];
    const y = Math.log(net);
    if (Math.abs(y - typed) < LEAST_DIGITS) return [];
    const changes = [{ index, y }];
    return [
      { kind: 'digits' as const, quantity: 'reading' as const, changes, found: shown, likely },
    ];
  });
}

/** The two meters of a lap exchanged back, one repair a lap. */
export function lapRepairs(entries: readonly Entry[]): Repair[] {
  const halves = new Map<number | null, number>();
  const partners = new Map<number, number>();
  entries.forEach(({ run: { lap } }, index) => {
    const half = halves.get(lap);
    if (half !== undefined) partners.set(half, index);
    halves.set(lap, index);
  });
  return entries.flatMap((first, a) => {
    const b = partners.get(a);
    const second = b === undefined ? undefined : entries[b];
    if (first.run.lap === null || b === undefined || second === undefined) return [];
    if (first.run.checked || second.run.checked) return [];
    if (Math.abs(first.y - second.y) < LEAST_EXCHANGE) return [];
    const changes = [
      { index: a, y: second.y },
      { index: b, y: first.y },
    ];
    const { shown: found } = first;
    return [{ kind: 'exchanged', quantity: 'reading', changes, found, likely: second.shown }];
  });
}
