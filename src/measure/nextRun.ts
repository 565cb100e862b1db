/** The run that comes next, and all that has to be known to take it. */
import { CAUTIONS } from '../plan/runSheetText.js';
import type { MeterRole, Source } from '../vocabulary.js';
import type { Bench } from './bench.js';
import { isMeasured, type RowsOfSeries, rowsAround, type SheetRow } from './sheetRows.js';

export interface RunStep {
  readonly do: 'run';
  /** Row of runs.csv that the entry fills. */
  readonly row: number;
  readonly series: string;
  readonly source: string;
  readonly wavelength_nm: number | null;
  readonly meter: MeterRole;
  readonly meter_name: string;
  /** 1-based within the series, of how many. */
  readonly run: number;
  readonly runs: number;
  readonly lap: number;
  readonly laps: number;
  readonly unit: string;
  /** What is asked for beside the reading. */
  readonly asks: { readonly setting: boolean; readonly zero: boolean; readonly peak: boolean };
  /** What to set the meter to, in words; `null`: it has nothing to set. */
  readonly set: string | null;
  /** Seconds after switch-on at which to read; `null`: when it has settled. */
  readonly read_at_s: number | null;
  /** What to do before the first run of a series; `null` within it. */
  readonly before: string | null;
  /** To be read before the first switch-on of the source. */
  readonly cautions: readonly string[];
}

/** Beyond these nobody blinks in time: no class 2 there (IEC 60825-1). */
const VISIBLE_NM = [400, 700] as const;

export function nextRun(bench: Bench, next: SheetRow): RunStep {
  const { settings, groups, sheet } = bench;
  const group = groups.find(({ rows }) => rows.includes(next)) ?? { series: '', rows: [next] };
  const run = group.rows.indexOf(next) + 1;
  const meter = next.meter ?? 'reference';
  const set = settingOf(bench, group, next);
  return {
    do: 'run',
    row: next.row,
    series: next.series,
    source: next.source,
    wavelength_nm: next.wavelength_nm,
    meter,
    meter_name: settings[meter].name,
    run,
    runs: group.rows.length,
    lap: Math.ceil(run / 2),
    laps: Math.ceil(group.rows.length / 2),
    unit: next.unit,
    asks: {
      setting: set.asked,
      zero: sheet.columns.found.has('zero'),
      peak: sheet.columns.found.has('peak'),
    },
    set: set.words,
    read_at_s: settings.protocol.read_at_s,
    before: run > 1 ? null : beforeSeries(groups, group),
    cautions: cautionsFor(
      settings.sources?.find(({ name }) => name === next.source),
      next,
    ),
  };
}

/**
 * The setting is asked for once a series and meter, and then taken from the rows above; in a series of
 * one meter, whose settings are compared, it is asked for every time.
 */
function settingOf(
  { settings }: Bench,
  { rows }: RowsOfSeries,
  next: SheetRow,
): { readonly asked: boolean; readonly words: string | null } {
  const has = settings[next.meter ?? 'reference'].wavelength_setting;
  const nm = next.wavelength_nm;
  if (has === false || nm === null) return { asked: false, words: null };
  if (has === null) return { asked: false, words: `if it has a wavelength setting: ${nm} nm` };
  const known = next.setting || carriedSetting(rows, next);
  if (known === '' && isAlone(rows)) {
    return { asked: true, words: 'set to one of the wavelengths that this series compares' };
  }
  return { asked: known === '', words: `set to ${known || nm} nm` };
}

const isAlone = (rows: readonly SheetRow[]): boolean =>
  rows.length > 1 && new Set(rows.map(({ meter }) => meter)).size === 1;

const carriedSetting = (rows: readonly SheetRow[], next: SheetRow): string =>
  isAlone(rows)
    ? ''
    : (rows.findLast((row) => isMeasured(row) && row.meter === next.meter)?.setting ?? '');

/** The setting that a row takes over from the run of its meter above; empty where none is known. */
export function settingAbove({ groups }: Bench, row: number): string {
  const rows = rowsAround(groups, row);
  const own = rows.find((one) => one.row === row);
  if (own === undefined || own.setting !== '') return own?.setting ?? '';
  return carriedSetting(rows, own);
}

function beforeSeries(groups: readonly RowsOfSeries[], group: RowsOfSeries): string {
  const earlier = groups.slice(0, groups.indexOf(group));
  const source = group.rows[0]?.source;
  const same = earlier.at(-1)?.rows[0]?.source === source;
  if (same) return 'Block the beam. Take both heads out and put them back, as for a later use.';
  const warm = 'Let it warm up before the first run.';
  if (earlier.length === 0) return `Beam blocked, heads in place. ${warm}`;
  return `Switch the laser off and change to "${source}". Put both heads in place anew. ${warm}`;
}

function cautionsFor(source: Source | undefined, row: SheetRow): readonly string[] {
  const nm = row.wavelength_nm;
  const unseen = nm !== null && (nm < VISIBLE_NM[0] || nm > VISIBLE_NM[1]);
  const label = source?.label_class ?? null;
  const power = source?.label_max_mW ?? null;
  return [
    [
      `"${row.source}"${nm === null ? '' : `, ${nm} nm${unseen ? ': invisible or nearly so, and no less harmful' : ''}`}.`,
      label === null ? 'No class is stated.' : `The label says class ${label}`,
      label !== null && power !== null ? `and ${power} mW; do not rely on it.` : '',
      label !== null && power === null ? '; do not rely on it.' : '',
    ]
      .filter((part) => part !== '')
      .join(' ')
      .replace(' ;', ';'),
    ...CAUTIONS,
  ];
}
