/** What is next at the bench: a function of study.json and runs.csv alone. */
import { findSlips } from '../record/slips/findSlips.js';
import type { MeterRole, Series, Study } from '../vocabulary.js';
import { alarms } from './alarms.js';
import { type Bench, type BenchFiles, readBench, seriesInHand } from './bench.js';
import { closedSentence } from './closedSeries.js';
import { type ClosingOutlook, closingOutlook } from './closingOutlook.js';
import { nextRun, type RunStep } from './nextRun.js';
import { type PlotPoint, plotPoints } from './plotPoints.js';
import { repeatabilitySentence } from './repeatability.js';
import { isClosed, isMeasured, type SheetRow } from './sheetRows.js';
import { type StartTime, startTime } from './startedText.js';

export interface BenchInput extends BenchFiles {
  /** Wanted U of a corrected reading, a fraction; `null`: the tolerance of the study. */
  readonly wanted: number | null;
}

export type Step =
  | RunStep
  | ({ readonly do: 'close' } & ClosingOutlook)
  | { readonly do: 'compare' };

/** A run that is written down, for the list from which runs are taken back. */
export interface WrittenRun {
  readonly row: number;
  readonly run: number;
  readonly meter: MeterRole;
  /** As it stands in the file, with its unit. */
  readonly shown: string;
  readonly exclude: string | null;
}

/** A run whose film can be read: one that is written down, or the next one. */
export interface FilmableRun {
  readonly row: number;
  readonly name: string;
  readonly unit: string;
  /** Seconds after the first lit frame at which its reading is due; `null`: when it has settled. */
  readonly read_at_s: number | null;
  /** Of the next run, whose reading is still to come off the film; `null`: it is written down. */
  readonly next: { readonly zero: boolean; readonly time: StartTime } | null;
}

/** Everything the page shows. Nothing in it tells K or a difference of a series that is open. */
export interface BenchState {
  readonly title: string;
  readonly step: Step;
  readonly runs: readonly WrittenRun[];
  readonly filmable: readonly FilmableRun[];
  readonly plot: readonly PlotPoint[];
  readonly repeatability: string;
  /** Entries that look like a slip and are not settled yet. */
  readonly questions: readonly string[];
  /** To be read before the next switch-on. */
  readonly alarms: readonly string[];
  readonly notices: readonly string[];
  /** What closed series say; empty while a series is open. */
  readonly closed: readonly string[];
}

/**
 * What is next, and what has been done so far.
 *
 * @throws as `readBench`
 */
export function benchState(input: BenchInput): BenchState {
  const bench = readBench(input);
  const { settings, study } = bench;
  const series = seriesInHand(bench);
  const step = stepOf(bench, input.wanted);
  return {
    title: settings.title,
    step,
    runs: series?.runs.map((run) => writtenRun(run, bench.rows)) ?? [],
    filmable: [...writtenFilms(bench), ...nextFilm(bench, step)],
    plot: series === null ? [] : plotPoints(series),
    repeatability: series === null ? '' : repeatabilitySentence(series),
    questions: study === null ? [] : findSlips(study).map(({ message }) => message),
    alarms: study === null || series === null ? [] : alarms(study, series),
    notices: noticesOf(study, series),
    closed: closedToShow(bench, step),
  };
}

function stepOf(bench: Bench, wanted: number | null): Step {
  const { open, rows, study } = bench;
  const series = seriesInHand(bench);
  if (study !== null && series !== null && open?.rows.every(isMeasured) && !isClosed(open)) {
    return { do: 'close', ...closingOutlook(study, series, bench, wanted ?? study.tolerance) };
  }
  const next = rows[rows.findLastIndex(isMeasured) + 1];
  return next === undefined ? { do: 'compare' } : nextRun(bench, next);
}

/** K is shown between series and after the last one, never beside runs that are still being taken. */
function closedToShow({ study, groups }: Bench, step: Step): readonly string[] {
  if (study === null || step.do === 'close' || (step.do === 'run' && step.run > 1)) return [];
  return groups
    .filter((group) => group.rows.every(isMeasured))
    .flatMap((group) => {
      const row = group.rows.at(-1)?.row;
      return study.series.find(({ runs }) => runs.some((run) => run.row === row)) ?? [];
    })
    .map((one) => closedSentence(study, one));
}

function writtenFilms({ study, rows, settings }: Bench): readonly FilmableRun[] {
  const { read_at_s } = settings.protocol;
  return (study?.series ?? []).flatMap(({ id, runs }) =>
    runs.map(({ row, run, meter }) => ({
      row,
      name: `"${id}", run ${run}, ${meter}`,
      unit: rows.find((one) => one.row === row)?.unit ?? 'mW',
      read_at_s,
      next: null,
    })),
  );
}

function nextFilm(bench: Bench, step: Step): readonly FilmableRun[] {
  if (step.do !== 'run') return [];
  const { row, series, source, run, meter, unit, read_at_s, asks } = step;
  const name = `"${series || source}", run ${run}, ${meter}`;
  return [{ row, name, unit, read_at_s, next: { zero: asks.zero, time: startTime(bench, row) } }];
}

function writtenRun(
  { row, run, meter, exclude }: Series['runs'][number],
  rows: readonly SheetRow[],
): WrittenRun {
  const own = rows.find((one) => one.row === row);
  const shown = own === undefined ? '' : `${own.reading} ${own.unit}`;
  return { row, run, meter, shown, exclude };
}

const SAID_ELSEWHERE = ['not-yet-measured', 'series-begun', 'above-rated-max'];

/** What the files give cause to say of this series and of the whole; progress is no news here. */
function noticesOf(study: Study | null, series: Series | null): readonly string[] {
  return (study?.warnings ?? [])
    .filter(({ code }) => !SAID_ELSEWHERE.includes(code))
    .filter((one) => one.series === undefined || one.series === series?.id)
    .map(({ message }) => message);
}
