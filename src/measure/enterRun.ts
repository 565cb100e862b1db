/** An entry of the bench becomes a row of runs.csv, or a question, or is refused. */
import { parseStudy } from '../record/parseStudy.js';
import { findSlips } from '../record/slips/findSlips.js';
import type { Study, Suspect } from '../vocabulary.js';
import { type Answer, refused } from './answer.js';
import { type Bench, type BenchFiles, readBench } from './bench.js';
import { settingAbove } from './nextRun.js';
import type { Entry } from './requests.js';
import { type Cells, numberText, withCells } from './sheet.js';
import { isMeasured, type SheetRow } from './sheetRows.js';
import { startedText } from './startedText.js';
import { TYPED_NUMBER } from './words.js';

/**
 * The table with the entry in the next planned row.
 *
 * @throws as `parseStudy`: nothing goes to disk that could not be read back
 */
export function enterRun(files: BenchFiles, entry: Entry): Answer {
  const bench = readBench(files);
  const next = bench.rows[bench.rows.findLastIndex(isMeasured) + 1];
  if (next === undefined || next.row !== entry.row) {
    return refused('Another row is next by now, so nothing was written.');
  }
  const typed = [entry.reading, entry.zero, entry.peak, entry.setting];
  if (entry.reading === '' || typed.some((text) => text !== '' && !TYPED_NUMBER.test(text))) {
    return refused('A plain number is needed, such as 46.2.');
  }
  const runs = withCells(bench.sheet, next.row, cellsOf(bench, next, entry));
  const study = parseStudy(files.study, { ...files, runs });
  const asked = entry.checked ? undefined : unlikely(study, bench.study, next.row);
  if (asked === undefined) return { kind: 'written', file: 'runs.csv', text: runs };
  const { quantity = 'reading', message } = asked;
  return { kind: 'question', quantity, message: bare(message) };
}

function cellsOf(bench: Bench, next: SheetRow, entry: Entry): Cells {
  const { sheet } = bench;
  const number = (text: string) => numberText(sheet, text);
  const setting = entry.setting === '' ? settingAbove(bench, next.row) : number(entry.setting);
  const started = startedText(bench, next, entry);
  return {
    reading: number(entry.reading),
    ...(entry.zero === '' ? {} : { zero: number(entry.zero) }),
    ...(entry.peak === '' ? {} : { peak: number(entry.peak) }),
    ...(setting === '' ? {} : { setting_nm: setting }),
    ...(started === null ? {} : { started_at: started }),
    ...(entry.checked ? { checked: 'typed twice, as the display showed it' } : {}),
    // With the unit row by row a row without one cannot be read.
    ...(sheet.columns.found.has('unit') ? { unit: next.unit } : {}),
  };
}

/** The slip that this row brings; one that was there before was asked about then. */
function unlikely(study: Study, before: Study | null, row: number): Suspect | undefined {
  const known = new Set(
    before === null ? [] : findSlips(before).map(({ rows, kind }) => `${kind} ${rows.join()}`),
  );
  return findSlips(study).find(
    ({ rows, kind }) => rows.includes(row) && !known.has(`${kind} ${rows.join()}`),
  );
}

/** Without the row and the advice for somebody who sits at the file: here the display is at hand. */
function bare(message: string): string {
  const told = message
    .replace(/^runs\.csv, rows? [^:]*: /, '')
    .replace(/[;,] (?:mend it|delete one)[^;]*$/, '.');
  return told.charAt(0).toUpperCase() + told.slice(1);
}
