import type { DataFrame } from 'danfojs';
import { type CellKind, cellText } from '../findings/finding.js';
import type { Result, Study } from '../vocabulary.js';
import { showHtml } from './display.js';
import { type CellValue, type TableRow, tableHtml } from './tableHtml.js';

type Cell = string | number | null;
type Record = Readonly<{ [column: string]: Cell }>;

/** What a frame is made of. */
export interface Framed {
  readonly study: Study;
  readonly result: Result;
}

const RECORDS = {
  runs: runRecords,
  series: seriesRecords,
  factors: factorRecords,
  budget: budgetRecords,
} satisfies { readonly [of: string]: (from: Framed) => readonly Record[] };

/**
 * The runs of a study, its series with a factor, its factors by level of power, or the lines of its
 * budgets as a data frame, to filter, sort and group by hand. Columns are called as in result.json;
 * `kept` is `yes` or `no`.
 *
 * A column in which a number is missing is left out: the library takes a missing number for zero when it
 * means or adds up. It takes about a second to load, so it is loaded here and nowhere else.
 */
export async function toFrame(of: keyof typeof RECORDS, from: Framed): Promise<DataFrame> {
  return frameOf(withoutGaps(RECORDS[of](from)));
}

/**
 * Records of your own as a data frame.
 *
 * @param rows one record a row, all with the same keys
 */
export async function frameOf(rows: readonly object[]): Promise<DataFrame> {
  const danfo = await quietly(() => import('danfojs'));
  return new danfo.DataFrame(rows.map((row) => ({ ...row })));
}

/** Shows a data frame as a table, its numbers as those of every other table. */
export function showFrame(frame: DataFrame): void {
  showHtml(tableHtml(frameRows(frame)));
}

/**
 * The rows of a data frame as texts under their headings, for showing; relative quantities in percent. Row
 * names stand under the empty key, unless they only tell which rows are left.
 */
export function frameRows(frame: DataFrame): readonly TableRow[] {
  const values = frame.values as readonly (readonly CellValue[])[];
  const named = frame.index.some((name) => typeof name === 'string');
  return values.map((row, place) => ({
    ...(named ? { '': String(frame.index[place]) } : {}),
    ...Object.fromEntries(
      frame.columns.map((column, at) => {
        const kind = kindOf(column);
        return [kind === 'fraction' ? `${column} / %` : column, shown(kind, row[at])];
      }),
    ),
  }));
}

/** Kinds of number by how a column is called; grouping puts its word behind the name. */
const KINDS: readonly (readonly [RegExp, CellKind])[] = [
  [/_count$/, 'count'],
  [/percent/, 'percent'],
  [/^(?:relative_|share)/, 'fraction'],
  [/_mW/, 'power'],
  [/^dof/, 'dof'],
  [/^(?:factor|low|high)/, 'value'],
];

const kindOf = (column: string): CellKind =>
  KINDS.find(([name]) => name.test(column))?.[1] ?? 'number';

function shown(kind: CellKind, value: CellValue): CellValue {
  if (typeof value !== 'number') return value;
  return cellText({ kind }, Number.isFinite(value) ? value : null);
}

function runRecords({ study, result }: Framed): readonly Record[] {
  return study.series.flatMap(({ id, source, wavelength_nm, runs }) => {
    const excluded = result.series.find((one) => one.id === id)?.excluded ?? [];
    return runs.map((one) => ({
      series: id,
      source,
      wavelength_nm,
      run: one.run,
      lap: one.lap,
      meter: one.meter,
      reading_mW: one.reading_mW,
      peak_mW: one.peak_mW,
      zero_mW: one.zero_mW,
      time_s: one.time_s,
      setting_nm: one.setting_nm,
      kept: one.exclude !== null || excluded.some(({ run }) => run === one.run) ? 'no' : 'yes',
    }));
  });
}

function seriesRecords({ result }: Framed): readonly Record[] {
  return result.series
    .filter((one) => one.factor.value !== null)
    .map(({ id, source, wavelength_nm, laps, factor, ...one }) => ({
      series: id,
      source,
      wavelength_nm,
      laps,
      difference_percent: one.difference_percent.mean,
      order_bias_percent: one.drift.order_bias_percent,
      factor: factor.value,
      low: factor.low,
      high: factor.high,
      relative_standard_uncertainty: factor.relative_standard_uncertainty,
      dof: factor.dof,
      verdict: one.verdict,
    }));
}

function factorRecords({ result }: Framed): readonly Record[] {
  return result.wavelengths.flatMap(({ wavelength_nm, levels, verdict }) =>
    levels.map((level) => ({
      wavelength_nm,
      centre_mW: level.centre_mW,
      factor: level.factor,
      low: level.low,
      high: level.high,
      relative_standard_uncertainty: level.relative_standard_uncertainty,
      dof: level.dof,
      verdict,
    })),
  );
}

function budgetRecords({ result }: Framed): readonly Record[] {
  return result.wavelengths.flatMap(({ wavelength_nm, budget }) =>
    budget.map(({ name, kind, type, relative_standard_uncertainty, dof, share }) => ({
      wavelength_nm,
      name,
      kind,
      type,
      relative_standard_uncertainty,
      dof,
      share,
    })),
  );
}

function withoutGaps(records: readonly Record[]): readonly Record[] {
  const whole = Object.keys(records[0] ?? {}).filter((column) =>
    records.every((one) => one[column] !== null),
  );
  return records.map((one) => Object.fromEntries(whole.map((column) => [column, one[column]])));
}

/** The numerical library greets on the console while it loads; that is no part of a document. */
async function quietly<T>(load: () => Promise<T>): Promise<T> {
  const { log, warn, info } = console;
  const hush = () => undefined;
  Object.assign(console, { log: hush, warn: hush, info: hush });
  try {
    return await load();
  } finally {
    Object.assign(console, { log, warn, info });
  }
}
