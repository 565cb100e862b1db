/** traces.csv: readings against time within single runs. */
import type { ErrorParts } from '../error.js';
import { suggestion } from '../statistics/didYouMean.js';
import type { Series, Trace, Warning } from '../vocabulary.js';
import { type CheckedRow, refuse, requiredNumberOf, textOf, wordFault } from './cells.js';
import {
  type ColumnPlan,
  type Columns,
  findColumns,
  missingColumns,
  quantityOf,
  unknownColumns,
  withUnits,
} from './columns.js';
import { either, whileShown } from './faults.js';
import { type GrowingTrace, plainTraces } from './plainTraces.js';
import { checkPower } from './runCells.js';
import { readTable } from './table.js';
import type { TableText } from './tableText.js';
import { unitsInCells } from './unitsInCells.js';

const FILE = 'traces.csv';
const PLAN: ColumnPlan = {
  powers: ['reading'],
  words: ['series', 'meter'],
  numbers: ['run', 'elapsed_s'],
};

/** Where a row belongs. */
type Owner = Pick<Trace, 'series' | 'run' | 'meter'>;
type Growing = Owner & GrowingTrace;

/**
 * Reads traces.csv and checks it against the runs: `run` is the number of the run within its series,
 * counted from 1 in the order things happened, and on through all parts of a series that was taken up
 * again. `byName`: the parts of each name in runs.csv. Faults and warnings go to the given lists.
 */
export function traceList(
  text: TableText,
  byName: ReadonlyMap<string, readonly Series[]>,
  faults: ErrorParts[],
  warnings: Warning[],
): readonly Trace[] {
  const plain = plainList(text, byName);
  if (plain !== null) return plain;
  const typed = readTable(text.whole(), FILE, isKnown, faults);
  if (typed === null) return [];
  const table = unitsInCells(typed);
  const columns = findColumns(table, PLAN, faults);
  const missing = missingFrom(columns, byName);
  faults.push(...missing);
  if (missing.length > 0) return [];
  warnings.push(...unknownColumns(columns, PLAN));
  const found = new Map<string, Growing>();
  const runs = runsOf(byName);
  for (const row of table.rows) {
    const at = { columns, row, faults };
    const elapsed = requiredNumberOf(at, 'elapsed_s');
    const reading = requiredNumberOf(at, 'reading');
    const owner = ownerOf(at, runs);
    if (elapsed === null || reading === null || owner === null) continue;
    checkPower(at, 'reading', reading);
    const trace = traceOf(owner, found);
    const before = trace.elapsed_s.at(-1);
    if (before !== undefined && elapsed < before) {
      refuse(at, 'elapsed_s', {
        code: 'row-inconsistent',
        message: `Time runs backwards within run ${owner.run} of the series "${owner.series}".`,
        found: `${elapsed} s after ${before} s`,
        expected: 'the readings of a run in the order in which they were taken',
      });
    }
    trace.elapsed_s.push(elapsed);
    trace.reading_mW.push(reading);
  }
  return [...found.values()];
}

const isKnown = (name: string) => quantityOf(name, PLAN) !== null;

function missingFrom(columns: Columns, byName: ReadonlyMap<string, unknown>): ErrorParts[] {
  const needed = [['run'], ['meter'], ['elapsed_s'], withUnits('reading')];
  return missingColumns(columns, byName.size > 1 ? [['series'], ...needed] : needed);
}

function traceOf(owner: Owner, found: Map<string, Growing>): Growing {
  const key = JSON.stringify([owner.series, owner.run]);
  const trace = found.get(key) ?? { ...owner, elapsed_s: [], reading_mW: [] };
  found.set(key, trace);
  return trace;
}

/** The traces of a file without anything unusual, or `null`: it is read cell by cell. */
function plainList(
  text: TableText,
  byName: ReadonlyMap<string, readonly Series[]>,
): readonly Trace[] | null {
  const [first = ''] = text.pieces();
  const heading = first.slice(0, first.indexOf('\n') + 1);
  const faults: ErrorParts[] = [];
  const table = readTable(heading, FILE, isKnown, faults);
  if (table === null || /"|^sep=/i.test(heading)) return null;
  const columns = findColumns(table, PLAN, faults);
  if (faults.length + columns.unknown.length + columns.several.size > 0) return null;
  if (missingFrom(columns, byName).length > 0) return null;
  const reading = columns.found.get('reading')!;
  const places = {
    count: table.headings.length,
    elapsed: columns.found.get('elapsed_s')!.index,
    reading: reading.index,
    shift: Number(reading.shift),
    // Where it does not separate, a comma may be a decimal mark.
    strange: table.separator === ',' ? ['"'] : ['"', ','],
  };
  const found = new Map<string, Growing>();
  const runs = runsOf(byName);
  const owner = (cells: readonly string[], row: number) => {
    const one = ownerOf({ columns, row: { row, cells }, faults }, runs);
    return one === null ? null : traceOf(one, found);
  };
  const body = after(heading, text.pieces());
  return plainTraces(body, table.separator, places, owner) ? [...found.values()] : null;
}

function* after(heading: string, pieces: Iterable<string>): Generator<string> {
  let skip = heading.length;
  for (const piece of pieces) {
    if (piece.length > skip) yield piece.slice(skip);
    skip = 0;
  }
}

type OwnRun = Series['runs'][number] & { readonly id: string };

/** The runs of each name in order, with the part that they stand in. */
function runsOf(
  byName: ReadonlyMap<string, readonly Series[]>,
): ReadonlyMap<string, readonly OwnRun[]> {
  return new Map(
    [...byName].map(([name, parts]) => [
      name,
      parts.flatMap((part) => part.runs.map((one) => ({ id: part.id, ...one }))),
    ]),
  );
}

function ownerOf(at: CheckedRow, byName: ReadonlyMap<string, readonly OwnRun[]>): Owner | null {
  const name = textOf(at, 'series');
  const ids = [...byName.keys()];
  const called = name === '' && ids.length === 1 ? (ids[0] ?? '') : name;
  const all = byName.get(called);
  if (all === undefined) {
    return refuse(at, 'series', {
      ...wordFault(name, {
        empty: 'The cell is empty, and runs.csv holds more than one series.',
        unknown: () =>
          `runs.csv holds no series of this name.${whileShown(at.faults, () => suggestion(name, ids))}`,
      }),
      expected: `the name of a series of runs.csv: ${either(ids)}`,
    });
  }
  const number = requiredNumberOf(at, 'run');
  if (number === null) return null;
  const run = all[number - 1];
  if (run === undefined) {
    return refuse(at, 'run', {
      code: 'cell-out-of-range',
      message: `The series "${called}" has no run of this number.`,
      found: String(number),
      expected: `a whole number from 1 to ${all.length}, counted within the series in the order of runs.csv`,
    });
  }
  const meter = textOf(at, 'meter');
  if (meter.toLowerCase() !== run.meter) {
    const known = /^(?:reference|candidate)$/i.test(meter);
    return refuse(at, 'meter', {
      code: meter === '' ? 'cell-missing' : known ? 'row-inconsistent' : 'cell-unknown-word',
      message: `Run ${number} of the series "${called}" is one of the ${run.meter} (runs.csv, row ${run.row}).`,
      found: meter === '' ? 'an empty cell' : `"${meter}"`,
      expected: run.meter,
    });
  }
  return { series: run.id, run: run.run, meter: run.meter };
}
