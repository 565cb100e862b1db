/** Numbers read off a film of a display become a trace of the run. */
import Papa from 'papaparse';
import { MeterpairError } from '../error.js';
import { unitShift } from '../record/columns.js';
import { numberCell } from '../record/numberCell.js';
import { parseStudy } from '../record/parseStudy.js';
import { type Answer, refused } from './answer.js';
import { type BenchFiles, readBench } from './bench.js';
import type { FilmedPoint } from './requests.js';
import { isMeasured } from './sheetRows.js';
import { TYPED_NUMBER } from './words.js';

const COLUMNS = ['series', 'run', 'meter', 'elapsed_s', 'reading_mW'] as const;

/** Fewer do not make a curve. */
const LEAST = 3;

/**
 * traces.csv with the film of a run that is written down; what stands in it already keeps its place.
 *
 * @param film.row of runs.csv
 * @throws as `parseStudy`: nothing goes to disk that could not be read back
 */
export function filmRun(
  files: BenchFiles,
  film: { readonly row: number; readonly points: readonly FilmedPoint[] },
): Answer {
  const { rows, study } = readBench(files);
  const own = rows.find((one) => one.row === film.row);
  const series = study?.series.find((one) => one.runs.some((run) => run.row === film.row));
  if (own === undefined || series === undefined || !isMeasured(own)) {
    return refused('The run has to be written down before its film is.');
  }
  const points = [...film.points].sort((a, b) => a.elapsed_s - b.elapsed_s);
  if (points.length < LEAST) return refused(`A film needs ${LEAST} numbers or more.`);
  if (points.some(({ reading }) => !TYPED_NUMBER.test(reading))) {
    return refused('A plain number is needed, such as 46.2.');
  }
  const run = series.runs.find((one) => one.row === film.row)?.run;
  if (study?.traces.some((trace) => trace.series === series.id && trace.run === run)) {
    return refused('traces.csv has a trace of this run already, and nothing is written over.');
  }
  // In a series that was taken up again the runs of all its parts are counted on.
  const named = rows.filter((one) => isMeasured(one) && one.series === own.series);
  const shift = unitShift(own.unit) ?? 0;
  const lines = points.map(({ elapsed_s, reading }) => ({
    series: own.series || series.id,
    run: String(named.indexOf(own) + 1),
    meter: own.meter ?? '',
    elapsed_s: String(Math.round(elapsed_s * 1000) / 1000),
    reading_mW: inMilliwatt(reading, shift),
  }));
  const traces = withLines(files.traces ?? '', lines);
  parseStudy(files.study, { ...files, traces });
  return { kind: 'written', file: 'traces.csv', text: traces };
}

function inMilliwatt(reading: string, shift: number): string {
  const marks = { comma: 'none', point: 'none' } as const;
  const cell = numberCell(reading.replace(',', '.'), { separator: ',', marks }, shift);
  return 'value' in cell ? String(cell.value) : reading;
}

function withLines(
  before: string,
  lines: readonly Readonly<Record<(typeof COLUMNS)[number], string>>[],
): string {
  const old = before.trim() === '' ? COLUMNS.join(',') : before.replace(/\s+$/, '');
  const parsed = Papa.parse<string[]>(old.replace(/^\uFEFF/, ''), { preview: 1 });
  const headings = (parsed.data[0] ?? []).map((heading) => heading.trim());
  const lost = COLUMNS.find((name) => !headings.includes(name));
  if (lost !== undefined) {
    throw new MeterpairError({
      code: 'column-missing',
      file: 'traces.csv',
      column: lost,
      message: 'The film cannot be added to this table.',
      expected: `the headings ${COLUMNS.join(', ')}`,
    });
  }
  const newline = old.includes('\r\n') ? '\r\n' : '\n';
  const cells = lines.map((line) =>
    headings
      .map((heading) => COLUMNS.find((name) => name === heading))
      .map((name) => (name === undefined ? '' : line[name])),
  );
  const added = Papa.unparse(cells, { delimiter: parsed.meta.delimiter, newline });
  return `${old}${newline}${added}${newline}`;
}
