import { decimalOf, leadingPlace, printDecimal, roundDecimal } from '../../findings/decimal.js';
import type { TableRow } from '../tableHtml.js';
import type { Coverage, CoverageLine } from './counts.js';

/**
 * "86 ± 1": what repetitions found, with no digit beyond what so many of them can tell. Behind ±
 * stand two standard errors, to one digit.
 */
export function told(value: number, standardError: number): string {
  const reach = decimalOf(2 * standardError);
  const first = leadingPlace(roundDecimal(reach, leadingPlace(reach) ?? 0, 'half-up'));
  if (first === null) return printDecimal(decimalOf(value));
  const [shown, spread] = [decimalOf(value), reach].map((one) =>
    roundDecimal(one, first, 'half-up'),
  );
  return `${printDecimal(shown ?? reach)} ± ${printDecimal(spread ?? reach)}`;
}

/** "86 ± 1": how many of a hundred intervals held the truth. */
export function ofHundred({ fraction, standardUncertainty }: Coverage): string {
  return told(100 * fraction, 100 * standardUncertainty);
}

/** Half-width in percent, with as many digits as the mean of so many intervals bears. */
export function halfWidth(coverage: Coverage): string {
  return told(100 * coverage.halfWidth, 100 * coverage.halfWidthError).split(' ')[0] ?? '';
}

/** Half-width and share of intervals that hold the truth, one row a number of laps. */
export function coverageRows(lines: readonly CoverageLine[]): readonly TableRow[] {
  return (lines[0]?.points ?? []).map(({ laps }, i) => ({
    Laps: laps,
    ...Object.fromEntries(lines.flatMap(({ name, points }) => cells(name, points[i]?.coverage))),
  }));
}

/** Two cells: how wide the intervals of this name are, and how many of them hold the truth. */
export function cells(name: string, coverage: Coverage | undefined): [string, string | null][] {
  return [
    [`± in %, ${name}`, coverage === undefined ? null : halfWidth(coverage)],
    [`Hold it, of 100, ${name}`, coverage === undefined ? null : ofHundred(coverage)],
  ];
}
