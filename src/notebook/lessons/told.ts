import { decimalOf, leadingPlace, printDecimal, roundDecimal } from '../../findings/decimal.js';
import { formatNumber } from '../../findings/formatNumber.js';
import type { TableRow } from '../tableHtml.js';
import type { Coverage, CoverageLine, Share } from './counts.js';

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

/** "86 ± 1": how many of a hundred. */
export function ofHundred({ fraction, standardUncertainty }: Share): string {
  return told(100 * fraction, 100 * standardUncertainty);
}

/** Half-width in percent: no digit beyond what the mean of so many intervals bears, three at most. */
export function halfWidth({ halfWidth, halfWidthError }: Coverage): string {
  const [mean = ''] = told(100 * halfWidth, 100 * halfWidthError).split(' ');
  const short = formatNumber(100 * halfWidth, { digits: 3, keepZeros: true });
  return mean.length < short.length ? mean : short;
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
