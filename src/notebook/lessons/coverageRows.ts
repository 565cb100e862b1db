import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import type { TableRow } from '../tableHtml.js';
import type { CoverageLine } from './coverageFigure.js';
import type { Coverage } from './coverageOf.js';
import { studentFactor } from './lapEstimate.js';
import type { RuleCoverage } from './ruleCoverage.js';

/** "85.6": how many of a hundred. */
export function ofHundred({ fraction }: Pick<Coverage, 'fraction'>): string {
  return formatNumber(100 * fraction, { digits: 3, keepZeros: true });
}

/** Half-width and share of intervals that hold the truth, one row a number of laps. */
export function coverageRows(lines: readonly CoverageLine[]): readonly TableRow[] {
  return (lines[0]?.points ?? []).map(({ laps }, i) => ({
    Laps: laps,
    ...Object.fromEntries(
      lines.flatMap(({ name, points }) => {
        const coverage = points[i]?.coverage;
        return [
          [`± in %, ${name}`, coverage === undefined ? null : formatRelative(coverage.halfWidth)],
          [`Hold it, of 100, ${name}`, coverage === undefined ? null : ofHundred(coverage)],
        ];
      }),
    ),
  }));
}

/** The same for intervals that were made in different ways from the same laps. */
export function namedCoverageRows(
  list: readonly { readonly name: string; readonly coverage: Coverage }[],
): readonly TableRow[] {
  return list.map(({ name, coverage }) => ({
    Intervals: name,
    Number: coverage.times,
    'Half-width in %': formatRelative(coverage.halfWidth),
    'Hold the truth, of 100': ofHundred(coverage),
  }));
}

/** What each rule for leaving laps out makes of the promise, one column a kind of day. */
export function ruleRows(days: readonly RuleCoverage[]): readonly TableRow[] {
  return (days[0]?.rules ?? []).map(({ name }, i) => ({
    'Left out': name,
    ...Object.fromEntries(
      days.flatMap((day) => {
        const coverage = day.rules[i]?.coverage;
        return coverage === undefined
          ? []
          : [
              [`± in %, ${day.name}`, formatRelative(coverage.halfWidth)],
              [`Hold it, of 100, ${day.name}`, ofHundred(coverage)],
            ];
      }),
    ),
  }));
}

/** Student's t for intervals from so many laps. */
export function studentRows(laps: readonly number[], confidence = 0.95): readonly TableRow[] {
  return laps.map((number) => ({
    Laps: number,
    'Degrees of freedom': number - 1,
    t: formatNumber(studentFactor(number, confidence), { digits: 4, keepZeros: true }),
  }));
}
