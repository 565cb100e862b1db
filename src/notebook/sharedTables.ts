/** The tables of a comparison to share, one CSV file each: those of the report, as the report prints them. */
import { answer } from '../findings/answer.js';
import { budgetMatrix, budgetOrigins } from '../findings/budgetFinding.js';
import { csvText } from '../findings/csvText.js';
import { withoutControls } from '../findings/escape.js';
import { cellText, type Finding, headOf } from '../findings/finding.js';
import { NO_NUMBER } from '../findings/formatNumber.js';
import { hazardFinding } from '../findings/hazardFinding.js';
import { differences, leftOut, seriesFactors } from '../findings/seriesFindings.js';
import { changes, opinions, power } from '../findings/spokenFindings.js';
import { seriesList } from '../findings/studyFindings.js';
import type { Result, Study } from '../vocabulary.js';

export interface SharedFile {
  readonly name: string;
  readonly text: string;
}

/** Tables that have a row, by file name: `factors.csv`, `budget.csv`, … */
export function sharedTables(study: Study, result: Result): readonly SharedFile[] {
  const tables: Readonly<Record<string, Finding>> = {
    factors: answer(result),
    hazard: hazardFinding(result),
    budget: budgetMatrix(result),
    'budget-origins': budgetOrigins(result),
    series: seriesList(study, result),
    'series-factors': seriesFactors(result),
    differences: differences(result),
    'left-out': leftOut(result),
    power: power(result),
    opinions: opinions(result),
    'then-and-now': changes(result),
  };
  return Object.entries(tables)
    .filter(([, { rows }]) => rows.length > 0)
    .map(([name, found]) => ({ name: `${name}.csv`, text: tableCsv(found) }));
}

/** With a byte-order mark, so that spreadsheets read ± and − as what they are; no number: an empty cell. */
function tableCsv({ columns, rows }: Finding): string {
  const cells = rows.map((row) =>
    row.map((cell, i) => {
      const text = withoutControls(cellText(columns[i], cell));
      return text === NO_NUMBER ? '' : text;
    }),
  );
  return `\ufeff${csvText(columns.map(headOf), cells)}`;
}
