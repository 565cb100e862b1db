/** Small studies for the tests of the analysis, one row a lap. */
import { parseStudy } from '../src/record/parseStudy.js';
import type { Study } from '../src/vocabulary.js';

export interface PlannedSeries {
  readonly id: string;
  readonly nm: number;
  /** Reference and candidate of each lap, in mW. */
  readonly laps: readonly (readonly [number, number])[];
  /** Name of the source; default: one for each wavelength. */
  readonly source?: string;
}

/** The same lap over and over: no scatter, no drift. */
export const steady = (reference: number, candidate: number, laps = 6) =>
  Array.from({ length: laps }, () => [reference, candidate] as const);

export interface StudyChanges {
  readonly reference?: object;
  readonly candidate?: object;
  readonly study?: object;
  readonly opinions?: readonly object[];
}

export function studyOf(series: readonly PlannedSeries[], changes: StudyChanges = {}): Study {
  const sourceOf = (one: PlannedSeries) => one.source ?? `laser ${one.nm}`;
  const sources = new Map(series.map((one) => [sourceOf(one), one.nm]));
  const rows = series.flatMap((one) =>
    one.laps.map(([r, c]) => `${one.id},${sourceOf(one)},${r},${c}`),
  );
  return parseStudy(
    {
      title: 'Invented readings for a test',
      reference: { name: 'Meter R', resolution_mW: 0.001, ...changes.reference },
      candidate: { name: 'Meter C', resolution_mW: 0.001, ...changes.candidate },
      sources: [...sources].map(([name, wavelength_nm]) => ({ name, wavelength_nm })),
      protocol: { order: 'ABBA' },
      tolerance_percent: 5,
      ...changes.study,
    },
    {
      runs: `series,source,reference_mW,candidate_mW\n${rows.join('\n')}\n`,
      ...(changes.opinions === undefined ? {} : { opinions: JSON.stringify(changes.opinions) }),
    },
  );
}

/** Every number of a record, with its place: to see that none is NaN or infinite. */
export function numbersIn(value: unknown, place = ''): readonly (readonly [string, number])[] {
  if (typeof value === 'number') return [[place, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]) => numbersIn(one, `${place}.${key}`));
}

export const notFinite = (value: unknown) =>
  numbersIn(value).filter(([, number]) => !Number.isFinite(number));
