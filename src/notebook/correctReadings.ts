import type { ErrorParts } from '../error.js';
import { type CorrectedRow, correctTable } from '../factors/correctTable.js';
import { readingsTable } from '../factors/readingsTable.js';
import { correctedTable } from '../findings/correctedTable.js';
import { counted, formatInterval, formatNumber, NO_NUMBER } from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import { today } from '../record/days.js';
import { throwFaults } from '../record/faults.js';
import { regularText } from '../record/regularFile.js';
import { groupedBy } from '../statistics/groupedBy.js';
import type { Factors } from '../vocabulary.js';
import type { TableRow } from './tableHtml.js';

export interface CorrectedReadings {
  /** One a reading, to show. */
  readonly rows: readonly TableRow[];
  /** What goes with them: each thing once, with the readings that it is about. */
  readonly cautions: readonly string[];
  /** The table with its six further columns, as CSV. */
  readonly csv: string;
}

/**
 * Corrects a table of readings of the candidate. A row that cannot be corrected says why and stops no other.
 *
 * @param readings CSV, or the path of a file that ends in .csv
 *   A row that states no day is of today.
 * @throws csv-invalid, column-missing and others for a table that cannot be read
 */
export async function correctReadings(
  factors: Factors,
  readings: string,
): Promise<CorrectedReadings> {
  const path = readings.trim();
  const isFile = /\.csv$/i.test(path);
  const text = isFile
    ? await regularText(path, path, 'a table of readings, saved as CSV')
    : readings;
  const faults: ErrorParts[] = [];
  const read = readingsTable(text, isFile ? path : 'the readings', faults);
  throwFaults(faults);
  if (read === null) return { rows: [], cautions: [], csv: '' };
  const done = correctTable(factors, read.rows, today());
  const names = read.rows.map(({ reading, row }) =>
    reading === null
      ? `row ${row.row}`
      : `${formatNumber(reading.reading_mW)} mW at ${formatNumber(reading.wavelength_nm)} nm`,
  );
  return {
    rows: read.rows.map(({ reading }, i) => ({
      'Wavelength in nm': reading?.wavelength_nm ?? null,
      'Candidate shows in mW': reading?.reading_mW ?? null,
      ...shown(done[i]),
    })),
    cautions: [...read.warnings.map(({ message }) => message), ...saidOnce(done, names)],
    csv: correctedTable(read, done),
  };
}

function shown({ corrected: found, words }: CorrectedRow): TableRow {
  return {
    'Factor K': formatNumber(found?.factor ?? null, { keepZeros: true }),
    'Corrected power':
      found === null ? NO_NUMBER : formatUncertain(found.value, found.U, { unit: 'mW' }),
    'Interval in mW': formatInterval(found?.low ?? null, found?.high ?? null),
    k: formatNumber(found?.k ?? null, { digits: 3, keepZeros: true }),
    Remarks:
      found === null
        ? words.join(' ')
        : words.length === 0
          ? 'none'
          : counted(words.length, 'caution', 'cautions'),
  };
}

function saidOnce(done: readonly CorrectedRow[], names: readonly string[]): readonly string[] {
  const about = groupedBy(
    done.flatMap(({ words }, i) => words.map((word) => [word, names[i]] as const)),
  );
  return [...about].map(([word, of]) =>
    of.length === done.length && of.length > 1 ? word : `${of.join(', ')}: ${word}`,
  );
}
