/** The rows of a table of readings with what they come to once corrected. */
import { MeterpairError } from '../error.js';
import type { CorrectedRow } from '../factors/correctTable.js';
import type { ReadingsTable } from '../factors/readingsTable.js';
import type { CorrectedReading } from '../vocabulary.js';
import { csvText } from './csvText.js';
import { decimalOf, printDecimal, type RoundingRule, roundDecimal } from './decimal.js';
import { twoDigitPlace } from './formatNumber.js';

const ADDED = ['corrected_mW', 'U_mW', 'k', 'low_mW', 'high_mW', 'cautions'] as const;

/**
 * CSV with the columns of the input, as typed and in its own way of writing numbers, and six more. U has two
 * significant digits and the others its last place; the interval is rounded outwards.
 *
 * @throws column-twice where the table has one of the six
 */
export function correctedTable(read: ReadingsTable, done: readonly CorrectedRow[]): string {
  const { table, rows, decimalComma } = read;
  const taken = table.headings.find((one) => ADDED.some((own) => own === one.trim()));
  if (taken !== undefined) {
    throw new MeterpairError({
      code: 'column-twice',
      file: table.file,
      column: taken,
      message: 'The table has a column already that the correction adds.',
      expected: 'the table without it, or with another heading there',
    });
  }
  const number = (text: string) => (decimalComma ? text.replace('.', ',') : text);
  return csvText(
    [...table.headings, ...ADDED],
    rows.map(({ row }, i) => [
      ...table.headings.map((_, column) => row.cells[column] ?? ''),
      ...numbersOf(done[i].corrected).map(number),
      done[i].words.join(' '),
    ]),
    table.separator,
  );
}

function numbersOf(found: CorrectedReading | null): readonly string[] {
  if (found === null) return ['', '', '', '', ''];
  const { value, U, k } = found;
  return [
    atPlaceOf(U, value, 'half-even'),
    atPlaceOf(U, U, 'half-up'),
    k.toFixed(2),
    ...outwards(found),
  ];
}

/** Both ends of a corrected reading in mW, to the last place of its U and rounded outwards. */
export function outwards({
  U,
  low,
  high,
}: Pick<CorrectedReading, 'U' | 'low' | 'high'>): readonly [low: string, high: string] {
  return [atPlaceOf(U, low, 'floor'), atPlaceOf(U, high, 'ceiling')];
}

const atPlaceOf = (U: number, power: number, rule: RoundingRule) =>
  printDecimal(roundDecimal(decimalOf(power), twoDigitPlace(decimalOf(U), 'half-up'), rule));
