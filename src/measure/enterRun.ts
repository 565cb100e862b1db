/** An entry of the bench becomes a row of runs.csv, or a question, or is refused. */
import { MeterpairError } from '../error.js';
import { parseStudy } from '../record/parseStudy.js';
import { findSlips } from '../record/slips/findSlips.js';
import type { Study, Suspect } from '../vocabulary.js';
import { type Bench, type BenchFiles, readBench } from './bench.js';
import { settingAbove } from './nextRun.js';
import { type Cells, numberText, withCells } from './sheet.js';
import { isMeasured, type SheetRow } from './sheetRows.js';
import { startedText } from './startedText.js';
import { TYPED_NUMBER } from './words.js';

/** What was typed at the bench for one run. */
export interface Entry {
  /** Row of runs.csv that the page took to be the next. */
  readonly row: number;
  /** As typed; empty: not noted. */
  readonly reading: string;
  readonly zero: string;
  readonly peak: string;
  readonly setting: string;
  /** When the beam went on, ms since 1970; `null`: nobody knows, as of a film without a time. */
  readonly started_ms: number | null;
  /** Minutes that the local clock is ahead of UTC. */
  readonly ahead_min: number;
  /** Whether an unlikely entry was typed twice, so that it is what the display showed. */
  readonly checked: boolean;
}

export type Answer =
  | { readonly kind: 'written'; readonly runs: string }
  /** Unlikely: to be typed once more as the display shows it. */
  | {
      readonly kind: 'question';
      readonly quantity: 'reading' | 'peak' | 'zero';
      readonly message: string;
    }
  | { readonly kind: 'refused'; readonly message: string };

/** The table with the entry in the next planned row. */
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
  try {
    const runs = withCells(bench.sheet, next.row, cellsOf(bench, next, entry));
    const study = parseStudy(files.study, { ...files, runs });
    const asked = entry.checked ? undefined : unlikely(study, bench.study, next.row);
    if (asked === undefined) return { kind: 'written', runs };
    const { quantity = 'reading', message } = asked;
    return { kind: 'question', quantity, message: bare(message) };
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return refused(error.message);
  }
}

const refused = (message: string): Answer => ({ kind: 'refused', message });

function cellsOf(bench: Bench, next: SheetRow, entry: Entry): Cells {
  const { sheet } = bench;
  const number = (text: string) => numberText(sheet, text);
  const setting = entry.setting === '' ? settingAbove(bench, next.row) : number(entry.setting);
  const started = startedText(bench, next, entry);
  const cells: Cells = {
    reading: number(entry.reading),
    ...(entry.zero === '' ? {} : { zero: number(entry.zero) }),
    ...(entry.peak === '' ? {} : { peak: number(entry.peak) }),
    ...(setting === '' ? {} : { setting_nm: setting }),
    ...(started === null ? {} : { started_at: started }),
    ...(entry.checked ? { checked: 'typed twice, as the display showed it' } : {}),
    // With the unit row by row a row without one cannot be read.
    ...(sheet.columns.found.has('unit') ? { unit: next.unit } : {}),
  };
  return cells;
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
