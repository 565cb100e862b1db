/** The rows of a table of readings with what they come to once corrected. */
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
 */
export function correctedTable(read: ReadingsTable, done: readonly CorrectedRow[]): string {
  const { table, rows, decimalComma } = read;
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
  const { value, U, k, low, high } = found;
  const place = twoDigitPlace(decimalOf(U), 'half-up');
  const at = (power: number, rule: RoundingRule) =>
    printDecimal(roundDecimal(decimalOf(power), place, rule));
  return [
    at(value, 'half-even'),
    at(U, 'half-up'),
    k.toFixed(2),
    at(low, 'floor'),
    at(high, 'ceiling'),
  ];
}
