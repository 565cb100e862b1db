/** Files → Study: everything that was recorded, checked, in one record. */
import { argumentWrong, type ErrorParts } from '../error.js';
import type { Study, Warning } from '../vocabulary.js';
import { dataSha256, readingsSha256 } from './dataSha256.js';
import { entrySources } from './entrySources.js';
import { throwFaults } from './faults.js';
import { opinionList, opinionsValue } from './opinionList.js';
import { runEntries } from './runEntries.js';
import { seriesList } from './seriesList.js';
import { findSlips } from './slips/findSlips.js';
import { studyDate } from './studyDate.js';
import { DEFAULTS } from './studySchema.js';
import { studySettings } from './studySettings.js';
import { type TableText, tableText } from './tableText.js';
import { traceFaults, traceWarnings } from './traceDoubts.js';
import { traceList } from './traceList.js';

/** The files of a study beside study.json. */
export interface StudyFiles {
  readonly runs: string;
  /** Text of traces.csv. */
  readonly traces?: string | undefined;
  /** Content of opinions.json, parsed or as text. */
  readonly opinions?: unknown;
}

/**
 * What was recorded, as one checked record: runs put together into series and laps, powers in mW
 * with zeros subtracted, times in s since the first run of the series, defaults filled in and listed
 * in `warnings`. Reads nothing from disk.
 *
 * `studyObject` is the parsed content of study.json. The forms of all files, the defaults and the
 * recipe of `data_sha256` stand in docs/file-formats.md.
 *
 * @throws study-json-invalid, study-field-wrong (study.json), opinions-invalid (opinions.json),
 * csv-invalid, no-rows, column-missing, column-twice, column-unknown, cell-missing,
 * cell-not-a-number, cell-out-of-range, cell-unknown-word, row-inconsistent (runs.csv, traces.csv);
 * argument-wrong when `files.runs` is no text. Up to ten faults are reported at once: the first is
 * the error, the rest stand in its `others`.
 *
 * @example
 * const study = parseStudy(
 *   { reference: { name: 'bench' }, candidate: { name: 'drawer' } },
 *   { runs: 'meter,reading_mW,wavelength_nm\nreference,46.2,520\ncandidate,41.8,520' },
 * );
 * study.series[0]?.runs.length; // 2
 */
export function parseStudy(studyObject: unknown, files: StudyFiles): Study {
  requireTexts(files);
  const { traces } = files;
  return studyOf(studyObject, {
    ...files,
    traces: traces === undefined ? undefined : tableText(traces),
  });
}

/** The same, with the traces as they lie on disk. @throws as `parseStudy` */
export function studyOf(
  studyObject: unknown,
  files: Omit<StudyFiles, 'traces'> & { readonly traces: TableText | undefined },
): Study {
  const faults: ErrorParts[] = [];
  const warnings: Warning[] = [];
  const settings = studySettings(studyObject, faults, warnings);
  const table = runEntries(files.runs, faults, warnings);
  const opinionsGiven = opinionsValue(files.opinions, faults);
  throwFaults(faults);
  // Both are there: whatever withholds one of them has left a fault.
  if (settings === null || table === null) throw argumentWrong('The study cannot be read.');
  const sources = entrySources(table, settings.sources, faults);
  throwFaults(faults);
  const order = settings.protocol.order ?? DEFAULTS.order;
  const assumed = table.layout === 'side-by-side' && settings.protocol.order === null;
  if (assumed) warnings.push(orderDefault());
  const { series, byName } = seriesList({ table, settings, sources, order, faults, warnings });
  const opinions = opinionList(opinionsGiven, sources, faults, warnings);
  throwFaults(faults);
  const recorded = files.traces !== undefined && hasText(files.traces) ? files.traces : undefined;
  const traces = recorded === undefined ? [] : traceList(recorded, byName, faults, warnings);
  faults.push(...traceFaults(traces));
  throwFaults(faults);
  warnings.push(...traceWarnings(traces, series));
  const study: Study = {
    ...settings,
    record: { ...settings.record, date: studyDate(settings.record.date, table.entries, warnings) },
    sources,
    protocol: assumed ? { ...settings.protocol, order } : settings.protocol,
    layout: table.layout,
    series,
    traces,
    opinions,
    data_sha256: dataSha256({
      study: studyObject,
      runs: files.runs,
      traces: recorded,
      opinions: opinionsGiven,
    }),
    readings_sha256: readingsSha256(table.entries),
    warnings,
  };
  throwFaults(unexplained(table.doubts, study));
  return study;
}

function hasText(table: TableText): boolean {
  for (const piece of table.pieces()) if (piece.trim() !== '') return true;
  return false;
}

/** Doubts about rows in which no slip of the pen is found; a row that has one is named by it. */
function unexplained(doubts: readonly ErrorParts[], study: Study): readonly ErrorParts[] {
  if (doubts.length === 0) return [];
  const rows = new Set(findSlips(study).flatMap((suspect) => suspect.rows));
  return doubts.filter(({ row }) => row === undefined || !rows.has(row));
}

function orderDefault(): Warning {
  return {
    code: 'order-default',
    message: `study.json does not say which meter went first in each lap (protocol.order); ${DEFAULTS.order} is assumed. With a drifting source the factor depends on it.`,
  };
}

function requireTexts(files: unknown): void {
  if (typeof files !== 'object' || files === null) {
    throw argumentWrong('parseStudy needs the texts of the files.', files, '{ runs: "…" }');
  }
  const runs: unknown = Reflect.get(files, 'runs');
  const traces: unknown = Reflect.get(files, 'traces');
  if (typeof runs !== 'string') {
    throw argumentWrong('files.runs has to be the text of runs.csv.', typeof runs, 'a string');
  }
  if (traces !== undefined && typeof traces !== 'string') {
    throw argumentWrong(
      'files.traces has to be the text of traces.csv.',
      typeof traces,
      'a string',
    );
  }
}
