/** Both files of the bench as they stand: settings, rows, and the study measured so far. */
import type { ErrorParts } from '../error.js';
import { throwFaults } from '../record/faults.js';
import { parseStudy } from '../record/parseStudy.js';
import { checkedSettings, type StudySettings } from '../record/studySettings.js';
import type { Series, Study } from '../vocabulary.js';
import { type Sheet, sheetOf } from './sheet.js';
import { inSeries, isMeasured, type RowsOfSeries, rowsOf, type SheetRow } from './sheetRows.js';

/** What is read from the folder. */
export interface BenchFiles {
  /** Content of study.json, parsed. */
  readonly study: unknown;
  /** Text of runs.csv. */
  readonly runs: string;
  /** Text of traces.csv, where there is one. */
  readonly traces?: string | undefined;
}

/** What the state is made from; the entries of the bench start from it as well. */
export interface Bench {
  readonly settings: StudySettings;
  readonly sheet: Sheet;
  readonly rows: readonly SheetRow[];
  readonly groups: readonly RowsOfSeries[];
  /** `null`: nothing measured yet. */
  readonly study: Study | null;
  /** The series of the last measured row; `null`: nothing measured yet. */
  readonly open: RowsOfSeries | null;
}

/**
 * Reads both files as they stand.
 *
 * @throws what `parseStudy` throws, and csv-invalid for a table with one row a lap
 */
export function readBench({ study: object, runs, traces }: BenchFiles): Bench {
  const settings = checkedSettings(object);
  const sheet = sheetOf(runs);
  const rows = rowsOf(sheet, settings.sources ?? []);
  throwFaults(plannedFaults(rows, settings));
  const groups = inSeries(rows);
  const last = rows.findLast(isMeasured);
  return {
    settings,
    sheet,
    rows,
    groups,
    study: last === undefined ? null : parseStudy(object, { runs, traces }),
    open: last === undefined ? null : (groups.find((group) => group.rows.includes(last)) ?? null),
  };
}

/** Planned rows that nobody could measure; measured ones are read by `parseStudy`. */
function plannedFaults(rows: readonly SheetRow[], settings: StudySettings): readonly ErrorParts[] {
  const names = settings.sources?.map(({ name }) => name);
  return rows
    .filter((row) => !isMeasured(row))
    .flatMap((row): ErrorParts[] => {
      const place = { file: 'runs.csv', row: row.row } as const;
      if (row.meter === null) {
        const message = 'This planned run does not say which meter it is of.';
        const expected = 'reference or candidate';
        return [{ code: 'cell-unknown-word', ...place, column: 'meter', message, expected }];
      }
      if (names === undefined || names.includes(row.source)) return [];
      const message = 'study.json lists no source of this name.';
      const expected = names.join(', ');
      const found = `"${row.source}"`;
      return [{ code: 'cell-unknown-word', ...place, column: 'source', message, found, expected }];
    });
}

/** The series of the last measured row, as the analysis reads it. */
export function seriesInHand({ study, open }: Pick<Bench, 'study' | 'open'>): Series | null {
  const row = open?.rows.findLast(isMeasured)?.row;
  return study?.series.find(({ runs }) => runs.some((run) => run.row === row)) ?? null;
}
