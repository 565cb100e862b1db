import type { Series, Study, Suspect } from '../../vocabulary.js';
import { type Entry, entriesOf } from './entries.js';
import { fineSlips } from './fineSlips.js';
import { grossSlips } from './grossSlips.js';
import { keptCourses } from './ordinaryCourses.js';
import { peakSlips } from './peakSlips.js';
import type { Repair } from './repairs.js';
import { type RepeatedRow, repeatedRows } from './repeatedRows.js';
import { entryMessage, lapMessage, repeatedMessage, wholeMessage } from './slipMessage.js';
import { movePoint, shownValue } from './typedNumber.js';
import { type SeriesLevel, seriesLevel, type WholeSlip, wholeSlips } from './wholeSeries.js';

/**
 * Which entries look like a slip of the pen? Each is held against its neighbours, before any
 * statistics: another decimal place, two digits exchanged, the two meters of a lap exchanged, a
 * unit, a row written twice, a whole series exchanged or in another unit; and what is impossible
 * without any slip that explains it. Runs with a reason in `exclude` and entries marked `checked`
 * are never named. Nothing is changed.
 *
 * @returns one entry a slip, in the order of the rows; powers in mW.
 *
 * Source: this project's own; docs/methods/slips.md has the thresholds and what they deliver.
 */
export function findSlips(study: Study): readonly Suspect[] {
  const courses = keptCourses();
  const levels: SeriesLevel[] = [];
  const suspects: Suspect[] = [];
  for (const series of study.series) {
    const repeated = repeatedRows(series);
    const copies = new Set(repeated.flatMap(({ runs }) => runs));
    const entries = entriesOf(series).filter(({ run }) => !copies.has(run));
    const { repairs, mended } = fineSlips(entries, grossSlips(entries), courses);
    suspects.push(
      ...repeated.map((row) => repeatedSuspect(series, row)),
      ...repairs.map((repair) => entrySuspect(series, entries, repair)),
      ...peakSlips(entries, mended)
        .filter(({ index }) => !isExchanged(repairs, index))
        .map(({ index, ...slip }) => oneNumber(series, entries[index]!, slip)),
    );
    const level = seriesLevel(series, entries, mended);
    if (level !== null) levels.push(level);
  }
  suspects.push(...wholeSlips(study, levels).map(wholeSuspect));
  return suspects.sort((a, b) => a.row - b.row);
}

/** The peaks of a lap went with its readings: they are in doubt already. */
const isExchanged = (repairs: readonly Repair[], at: number): boolean =>
  repairs.some(
    ({ kind, changes }) => kind === 'exchanged' && changes.some(({ index }) => index === at),
  );

function entrySuspect(series: Series, entries: readonly Entry[], repair: Repair): Suspect {
  const entry = entries[repair.changes[0]!.index]!;
  if (repair.kind !== 'exchanged') return oneNumber(series, entry, repair);
  const rows = [...new Set(repair.changes.map(({ index }) => entries[index]!.run.row))];
  const { row, meter } = entry.run;
  const { kind, found, likely } = repair;
  const parts = { row, rows, series: series.id, meter, kind, found, likely };
  return { ...parts, message: lapMessage(parts) };
}

function oneNumber(
  series: Series,
  { run }: Entry,
  slip: Pick<Suspect, 'kind' | 'found' | 'likely'> & {
    readonly quantity: 'reading' | 'peak' | 'zero';
  },
): Suspect {
  const { kind, found, likely, quantity } = slip;
  const { row, meter } = run;
  const parts = { row, rows: [row], series: series.id, meter, kind, found, likely, quantity };
  return { ...parts, message: entryMessage(parts) };
}

function repeatedSuspect(series: Series, { runs, of }: RepeatedRow): Suspect {
  const run = runs[0]!;
  const { row, meter } = run;
  return {
    row,
    rows: [row],
    series: series.id,
    meter,
    kind: 'repeated',
    found: shownValue(run.reading_mW, run.zero_mW),
    likely: null,
    message: repeatedMessage(row, of, series.id),
  };
}

function wholeSuspect({ series, kind, meter, move, or }: WholeSlip): Suspect {
  const runs = series.runs.filter((run) => meter === 'both' || run.meter === meter);
  const first = runs[0]!;
  const partner =
    series.runs.find((run) => run.lap === first.lap && run.meter !== first.meter) ??
    series.runs.find((run) => run.meter !== first.meter)!;
  const found = shownValue(first.reading_mW, first.zero_mW);
  const other = shownValue(partner.reading_mW, partner.zero_mW);
  const parts = {
    row: first.row,
    rows: [...new Set(runs.map((run) => run.row))],
    series: series.id,
    meter: first.meter,
    kind,
    found,
    likely: move === null ? null : kind === 'exchanged' ? other : movePoint(found, move),
  };
  return { ...parts, message: wholeMessage({ ...parts, or }) };
}
