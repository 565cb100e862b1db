/** The tables of a comparison to share, one CSV file each. */
import { csvText } from '../findings/csvText.js';
import { withoutControls } from '../findings/escape.js';
import type { Result, Study } from '../vocabulary.js';
import {
  budgetRows,
  changeRows,
  differenceRows,
  exclusionEffectRows,
  exclusionRows,
  factorRows,
  hazardRows,
  levelRows,
  opinionRows,
  powerRows,
  seriesFactorRows,
  seriesRows,
} from './rows/index.js';
import type { CellValue, TableRow } from './tableHtml.js';

export interface SharedFile {
  readonly name: string;
  readonly text: string;
}

/** Tables that have a row, by file name: `factors.csv`, `budget.csv`, … */
export function sharedTables(study: Study, result: Result): readonly SharedFile[] {
  const tables: Readonly<Record<string, readonly TableRow[]>> = {
    factors: factorRows(result),
    'levels-of-power': levelRows(result),
    hazard: hazardRows(result),
    budget: budgetRows(result),
    series: seriesRows(study, result),
    'series-factors': seriesFactorRows(result),
    differences: differenceRows(result),
    'left-out': exclusionRows(study, result),
    'left-out-effects': exclusionEffectRows(result),
    power: powerRows(result),
    opinions: opinionRows(result),
    'then-and-now': changeRows(result),
  };
  return Object.entries(tables)
    .filter(([, rows]) => rows.length > 0)
    .map(([name, rows]) => ({ name: `${name}.csv`, text: tableCsv(rows) }));
}

/** With a byte-order mark, so that spreadsheets read ± and − as what they are. */
function tableCsv(rows: readonly TableRow[]): string {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const cell = (value: CellValue) => (value === null || value === undefined ? '' : String(value));
  const cells = rows.map((row) => columns.map((column) => withoutControls(cell(row[column]))));
  return `\ufeff${csvText(columns, cells)}`;
}
