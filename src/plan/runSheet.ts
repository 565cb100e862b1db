import Papa from 'papaparse';
import { argumentWrong } from '../error.js';
import {
  WAVELENGTH_EXPECTED,
  WAVELENGTH_MAX_NM,
  WAVELENGTH_MIN_NM,
} from '../record/studySchema.js';
import { requireOptions } from '../statistics/options.js';
import type { MeterRole, RunOrder } from '../vocabulary.js';
import { requireLaps, runOrder } from './runOrder.js';

export interface RunSheetOptions {
  /** Sources as in study.json; each gets its own series. */
  readonly sources: readonly { readonly name: string; readonly wavelength_nm: number }[];
  readonly laps: number;
  readonly order: RunOrder;
  /** Series per source, the heads taken away and seated again in between (default 1). */
  readonly seriesPerSource?: number;
}

/** One plan serves the table and the sheet to print, so both know all of its names. */
export const SHEET_OPTIONS = {
  sources: true,
  laps: true,
  order: true,
  seriesPerSource: true,
  title: true,
  slowerTimeConstant_s: { maybe: 'above-zero' },
  readAt_s: { maybe: 'above-zero' },
  warmUp_min: { maybe: 'above-zero' },
} as const;

export interface PlannedRun {
  readonly series: string;
  readonly source: string;
  readonly wavelength_nm: number;
  /** 1-based within the series. */
  readonly run: number;
  readonly lap: number;
  readonly meter: MeterRole;
}

const COLUMNS = [
  'series',
  'source',
  'meter',
  'reading_mW',
  'peak_mW',
  'zero_mW',
  'started_at',
  'setting_nm',
  'exclude',
  'note',
];

/**
 * A table of runs to fill in at the bench, in the order in which to do them: runs.csv with empty
 * cells for what is measured. `setting_nm` stays empty too, for what the meter was really set to.
 *
 * @returns CSV text with lines ended by \n
 * @throws argument-wrong for no source, names that are empty or used twice, a wavelength out of
 *   range, or laps and series that are not whole numbers of at least 1
 */
export function runSheet(options: RunSheetOptions): string {
  const rows = plannedRuns(options).map((run) => ({
    series: run.series,
    source: run.source,
    meter: run.meter,
    note: `lap ${run.lap}`,
  }));
  return `${Papa.unparse(rows, { columns: COLUMNS, newline: '\n' })}\n`;
}

/** @throws argument-wrong for a source whose wavelength no power meter measures */
export function requireWavelengths(sources: RunSheetOptions['sources']): void {
  const odd = sources.find(
    ({ wavelength_nm: nm }) => !(nm >= WAVELENGTH_MIN_NM && nm <= WAVELENGTH_MAX_NM),
  );
  if (odd !== undefined) {
    throw argumentWrong(
      `The wavelength of the source "${odd.name}" is none that a power meter measures.`,
      `${odd.wavelength_nm} nm`,
      WAVELENGTH_EXPECTED,
    );
  }
}

/** The runs of a plan, in the order in which to do them. @throws argument-wrong as `runSheet`. */
export function plannedRuns(options: RunSheetOptions): readonly PlannedRun[] {
  requireOptions(options, SHEET_OPTIONS);
  const { sources, laps, order, seriesPerSource = 1 } = options;
  requireLaps(laps);
  if (!Number.isSafeInteger(seriesPerSource) || seriesPerSource < 1) {
    throw argumentWrong('Series per source must be a whole number.', seriesPerSource);
  }
  if (sources.length === 0) throw argumentWrong('A plan needs at least one source.');
  const names = sources.map((source) => source.name.trim());
  if (names.some((name, i) => name === '' || names.indexOf(name) !== i)) {
    throw argumentWrong('Every source needs a name of its own.', names.join(', '));
  }
  requireWavelengths(sources);
  const meters = runOrder(order, laps);
  // Every source once before any of them again: a source has time to cool, and the heads move.
  return Array.from({ length: seriesPerSource }, (_, repeat) =>
    sources.flatMap(({ wavelength_nm }, i) =>
      meters.map((meter, j) => ({
        series: seriesPerSource === 1 ? names[i] : `${names[i]} / ${repeat + 1}`,
        source: names[i],
        wavelength_nm,
        run: j + 1,
        lap: Math.floor(j / 2) + 1,
        meter,
      })),
    ),
  ).flat();
}
