/** The two layouts of runs.csv: one row a run, or one row a lap. */
import type { ErrorParts } from '../error.js';
import {
  type ColumnPlan,
  type Columns,
  findColumns,
  missingColumn,
  quantityOf,
  withUnits,
} from './columns.js';
import type { RunLayout } from './runTable.js';
import type { Table } from './table.js';

const FILE = 'runs.csv';
const SHARED_WORDS = ['series', 'source', 'exclude', 'checked', 'note', 'filter', 'started_at'];
const POWERS = ['reading', 'peak', 'zero'];

/** One row a run, in the order they happened. */
const TIDY: ColumnPlan = {
  powers: POWERS,
  words: ['meter', 'unit', ...SHARED_WORDS],
  numbers: ['wavelength_nm', 'setting_nm'],
};

/** The same with the unit in a column of its own. */
const TIDY_WITH_UNIT: ColumnPlan = { ...TIDY, powers: [], byRow: POWERS };

/** One row a lap. */
const SIDE_BY_SIDE: ColumnPlan = {
  powers: ['reference', 'candidate'],
  words: SHARED_WORDS,
  numbers: ['wavelength_nm'],
};

export const isKnownHeading = (heading: string): boolean =>
  quantityOf(heading, TIDY) !== null || quantityOf(heading, SIDE_BY_SIDE) !== null;

export function planOf(table: Table, layout: RunLayout): ColumnPlan {
  if (layout === 'side-by-side') return SIDE_BY_SIDE;
  const unit = table.headings.some((heading) => quantityOf(heading, TIDY)?.quantity === 'unit');
  return unit ? TIDY_WITH_UNIT : TIDY;
}

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
  return [
    ...unitTwice(columns, layout),
    ...missing(columns, layout),
    ...misplaced(columns, layout),
  ];
}

function missing(columns: Columns, layout: RunLayout): ErrorParts[] {
  const wanted = layout === 'tidy' ? ['meter', 'reading'] : ['reference', 'candidate'];
  return wanted
    .filter((quantity) => !columns.found.has(quantity))
    .filter((quantity) => !withOwnUnit(columns).some((heading) => isOf(heading, quantity)))
    .map((quantity) =>
      missingColumn(
        columns,
        quantity === 'meter' || columns.found.has('unit') ? [quantity] : withUnits(quantity),
      ),
    );
}

/** Headings that state a unit beside a column `unit`. */
function withOwnUnit(columns: Columns): readonly string[] {
  if (!columns.found.has('unit')) return [];
  return columns.unknown.filter((heading) => POWERS.some((power) => isOf(heading, power)));
}

function isOf(heading: string, quantity: string): boolean {
  return quantityOf(heading, TIDY)?.quantity === quantity;
}

function unitTwice(columns: Columns, layout: RunLayout): ErrorParts[] {
  if (layout !== 'tidy') return [];
  return withOwnUnit(columns).map((heading) => {
    const power = quantityOf(heading, TIDY)?.quantity ?? '';
    return {
      code: 'column-unknown',
      file: FILE,
      column: heading,
      message: 'The column unit states the unit of each row, and this heading states one as well.',
      found: `"${heading}" beside "${columns.found.get('unit')?.heading ?? 'unit'}"`,
      expected: `either ${power} and unit, or ${power}_mW without a column unit`,
    };
  });
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
      message: isOf(heading, 'unit')
        ? 'This column belongs to the layout with one row a run; with one row a lap each heading carries its unit.'
        : 'This column belongs to the layout with one row a run; with one row a lap nobody can tell which of the two runs it is about.',
      found: `"${heading}"`,
      expected: isOf(heading, 'unit')
        ? 'the unit in the headings, for example reference_mW and candidate_W, and this column left out'
        : 'one row a run, with the columns meter and reading_mW; or the column left out',
    }));
}
