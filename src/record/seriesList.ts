/** The rows of runs.csv put together into series of numbered runs and laps. */

import type { ErrorParts } from '../error.js';
import { counted } from '../findings/formatNumber.js';
import { suggestion } from '../statistics/didYouMean.js';
import { groupedBy } from '../statistics/groupedBy.js';
import type { Run, RunOrder, Series, Source, Warning } from '../vocabulary.js';
import { headingOf, refuse } from './cells.js';
import { either, quoted } from './faults.js';
import { firstMeter, lapNumbers } from './laps.js';
import type { EntryReading, RunEntry, RunTable, WaitingRow } from './runTable.js';
import { runTimes } from './runTimes.js';
import { type SeriesGroup, seriesGroups } from './seriesGroups.js';
import { orderWarnings, ratedWarnings, settingWarnings } from './seriesWarnings.js';
import type { StudySettings } from './studySettings.js';

/** What a series is built with. */
export interface SeriesContext {
  readonly table: RunTable;
  readonly settings: StudySettings;
  readonly sources: readonly Source[];
  /** Order that decides a side-by-side table. */
  readonly order: RunOrder;
  readonly faults: ErrorParts[];
  readonly warnings: Warning[];
}

/** The series of a study, and which of them each name in runs.csv stands for. */
export interface SeriesList {
  readonly series: readonly Series[];
  /** Name as typed → its series in the order of time: more than one where it was taken up again. */
  readonly byName: ReadonlyMap<string, readonly Series[]>;
}

/** Every series in the order of the file. Faults and warnings go to the lists of the context. */
export function seriesList(context: SeriesContext): SeriesList {
  const named = new Map(context.sources.map((source) => [source.name, source]));
  const groups = seriesGroups(context.table, context.faults, context.warnings);
  const parts = groups.map((group) => [group.name, oneSeries(group, context, named)] as const);
  return { series: parts.map(([, series]) => series), byName: groupedBy(parts) };
}

function oneSeries(
  { id, entries }: SeriesGroup,
  context: SeriesContext,
  named: ReadonlyMap<string, Source>,
): Series {
  const { table, settings, sources, faults, warnings } = context;
  const sourceOf = (entry: RunEntry): Source | undefined =>
    entry.source === '' ? sources[0] : named.get(entry.source);
  const wavelengthOf = (entry: RunEntry): number =>
    entry.wavelength_nm ?? sourceOf(entry)?.wavelength_nm ?? 0;
  const uniform = (column: string, value: (entry: RunEntry) => string | number): void => {
    const odd = entries.find((entry) => value(entry) !== value(entries[0] ?? entry));
    if (odd === undefined) return;
    refuse({ columns: table.columns, row: odd, faults }, column, {
      code: 'row-inconsistent',
      message: `The series "${id}" changes its ${column.replace('_nm', '')} in this row.`,
      found: `${quoted(value(entries[0] ?? odd))} before and ${quoted(value(odd))} here`,
      expected: `one ${column.replace('_nm', '')} within a series; start a new series (column series) where it changes`,
    });
  };
  uniform('source', (entry) => sourceOf(entry)?.name ?? '');
  uniform('wavelength_nm', wavelengthOf);
  uniform('filter', (entry) => entry.filter);
  checkFilter(entries, context);
  const [first] = entries;
  const column = headingOf({ columns: table.columns, row: {} }, 'started_at');
  const { timed, time_s } = runTimes(id, entries, column, faults, warnings);
  const runs = numberedRuns(entries, time_s, context);
  const waiting = table.waiting.filter((row) => row.series === (first?.series ?? ''));
  const kind = kindOf(id, runs, waiting, context);
  const stated = table.layout === 'tidy' ? settings.protocol.order : null;
  warnings.push(
    ...(kind === 'comparison' && stated !== null ? orderWarnings(id, runs, stated) : []),
    ...(kind === 'comparison' ? settingWarnings(id, runs) : []),
    ...ratedWarnings(id, entries, settings),
  );
  return {
    id,
    source: (first === undefined ? undefined : sourceOf(first))?.name ?? '',
    wavelength_nm: first === undefined ? 0 : wavelengthOf(first),
    runs,
    timed,
    kind,
    filter: first?.filter || null,
  };
}

function numberedRuns(
  entries: readonly RunEntry[],
  time_s: readonly number[],
  { table, order }: SeriesContext,
): Run[] {
  const ordered: { entry: RunEntry; reading: EntryReading }[] = entries.flatMap((entry, index) => {
    const turned = table.layout === 'side-by-side' && firstMeter(order, index + 1) === 'candidate';
    const readings = turned ? [...entry.readings].reverse() : entry.readings;
    return readings.map((reading) => ({ entry, reading }));
  });
  const laps =
    table.layout === 'side-by-side'
      ? ordered.map((_, index) => Math.floor(index / 2) + 1)
      : lapNumbers(ordered.map(({ reading }) => reading.meter));
  return ordered.map(({ entry, reading }, index) => ({
    run: index + 1,
    lap: laps[index] ?? null,
    row: entry.row,
    meter: reading.meter,
    reading_mW: reading.reading_mW,
    scale: 1,
    peak_mW: reading.peak_mW,
    zero_mW: reading.zero_mW,
    time_s: time_s[index] ?? index,
    setting_nm: entry.setting_nm,
    exclude: entry.exclude,
    checked: entry.checked,
    note: entry.note,
  }));
}

function kindOf(
  id: string,
  runs: readonly Run[],
  waiting: readonly WaitingRow[],
  { table: { columns }, faults, warnings }: SeriesContext,
): Series['kind'] {
  const meters = new Set(runs.map((run) => run.meter));
  if (meters.size !== 1) return 'comparison';
  const only = runs[0]?.meter ?? 'reference';
  const other = only === 'reference' ? 'candidate' : 'reference';
  const settings = new Set(runs.flatMap((run) => run.setting_nm ?? []));
  const mayChange = waiting.length > 0 && settings.size === 1;
  if (mayChange || waiting.some(({ meter }) => meter === other)) {
    warnings.push({
      code: 'series-begun',
      series: id,
      message: `The series "${id}" has only begun: runs of the ${only} alone are measured, and there is nothing to compare yet.`,
    });
    return 'comparison';
  }
  if (settings.size < 2) {
    refuse({ columns, row: runs[0] ?? { row: 1 }, faults }, 'meter', {
      code: 'row-inconsistent',
      message: `The series "${id}" holds runs of the ${only} only, so there is nothing to compare.`,
      found: `${counted(runs.length, 'run', 'runs')} of the ${only}`,
      expected:
        'runs of both meters turn about; or, to learn what a wavelength setting is worth, one meter under two or more values of setting_nm',
    });
  }
  const unset = runs.find((run) => run.setting_nm === null && run.exclude === null);
  if (settings.size >= 2 && unset !== undefined) {
    refuse({ columns, row: unset, faults }, 'setting_nm', {
      code: 'cell-missing',
      message: `The series "${id}" compares wavelength settings of one meter, and this run states none.`,
      expected: 'the wavelength in nm that the meter was set to',
    });
  }
  return 'setting';
}

/** A filter that study.json says nothing of; among listed ones an unknown name is a misspelling. */
function checkFilter(
  entries: readonly RunEntry[],
  { table, settings, faults, warnings }: SeriesContext,
): void {
  const [first] = entries;
  const names = settings.filters.map((filter) => filter.name);
  if (first === undefined || first.filter === '' || names.includes(first.filter)) return;
  if (names.length === 0) {
    if (warnings.some((one) => one.code === 'filter-not-stated')) return;
    warnings.push({
      code: 'filter-not-stated',
      message: `runs.csv names the filter "${first.filter}", and study.json says nothing of it (filters). The power in front of it is not known.`,
    });
    return;
  }
  refuse({ columns: table.columns, row: first, faults }, 'filter', {
    code: 'cell-unknown-word',
    message: `study.json lists no filter of this name.${suggestion(first.filter, names)}`,
    found: `"${first.filter}"`,
    expected: either(names),
  });
}
