/** The two layouts of runs.csv: one row a run, or one row a lap. */
import type { ErrorParts } from '../error.js';
import type { ColumnPlan, Columns } from './columns.js';
import { findColumns, missingColumn, quantityOf } from './columns.js';
import type { RunLayout } from './runTable.js';
import type { Table } from './table.js';

const FILE = 'runs.csv';
const SHARED_WORDS = ['series', 'source', 'exclude', 'note', 'filter', 'started_at'];

/** One row a run, in the order they happened. */
export const TIDY: ColumnPlan = {
  powers: ['reading', 'peak', 'zero'],
  words: ['meter', ...SHARED_WORDS],
  numbers: ['wavelength_nm', 'setting_nm'],
};

/** One row a lap. */
export const SIDE_BY_SIDE: ColumnPlan = {
  powers: ['reference', 'candidate'],
  words: SHARED_WORDS,
  numbers: ['wavelength_nm'],
};

const UNITS = ['mW', 'W', 'uW'];

/** The layout that the headings show; a fault goes to the list when they show none, or both. */
export function layoutOf(table: Table, faults: ErrorParts[]): RunLayout | null {
  const among = (plan: ColumnPlan, quantities: readonly string[]): string[] =>
    table.headings.filter((heading) =>
      quantities.includes(quantityOf(heading, plan)?.quantity ?? ''),
    );
  const tidy = among(TIDY, ['meter', 'reading']);
  const sideBySide = among(SIDE_BY_SIDE, ['reference', 'candidate']);
  if (tidy.length > 0 && sideBySide.length > 0) {
    faults.push({
      code: 'csv-invalid',
      file: FILE,
      row: 1,
      message: 'The columns mix two layouts: one row a run, and one row a lap.',
      found: [...tidy, ...sideBySide].join(', '),
      expected: 'either meter and reading_mW, or reference_mW and candidate_mW',
    });
    return null;
  }
  if (tidy.length > 0) return 'tidy';
  if (sideBySide.length > 0) return 'side-by-side';
  const nothing = findColumns(table, { powers: [], numbers: [], words: [] }, []);
  const guesses = [
    missingColumn(nothing, withUnits('reading')),
    missingColumn(nothing, ['meter']),
    missingColumn(nothing, withUnits('reference')),
    missingColumn(nothing, withUnits('candidate')),
  ].filter((fault) => fault.message.includes('misspelling'));
  if (guesses.length > 0) {
    faults.push(...guesses);
    return null;
  }
  faults.push({
    ...missingColumn(nothing, withUnits('reading')),
    message: 'The first row names neither meter and reading_mW nor reference_mW and candidate_mW.',
    expected:
      'headings in the first row: meter and reading_mW with one row a run, or reference_mW and candidate_mW with one row a lap; separated by commas, semicolons or tabs',
  });
  return null;
}

/** What the columns of a layout lack, and what does not belong there. */
export function columnFaults(columns: Columns, layout: RunLayout): ErrorParts[] {
  return [...missing(columns, layout), ...misplaced(columns, layout)];
}

function missing(columns: Columns, layout: RunLayout): ErrorParts[] {
  const wanted = layout === 'tidy' ? ['meter', 'reading'] : ['reference', 'candidate'];
  return wanted
    .filter((quantity) => !columns.found.has(quantity))
    .map((quantity) =>
      missingColumn(columns, quantity === 'meter' ? [quantity] : withUnits(quantity)),
    );
}

/** Side by side there is no place for a peak or a zero; passing over one would hide a hazard. */
function misplaced(columns: Columns, layout: RunLayout): ErrorParts[] {
  if (layout === 'tidy') return [];
  return columns.unknown
    .filter((heading) => quantityOf(heading, TIDY) !== null)
    .map((heading) => ({
      code: 'column-unknown',
      file: FILE,
      column: heading,
      message:
        'This column belongs to the layout with one row a run; with one row a lap nobody can tell which of the two runs it is about.',
      found: `"${heading}"`,
      expected: 'one row a run, with the columns meter and reading_mW; or the column left out',
    }));
}

function withUnits(quantity: string): string[] {
  return UNITS.map((unit) => `${quantity}_${unit}`);
}
