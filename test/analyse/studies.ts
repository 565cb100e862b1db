/** Invented studies for the tests of the whole analysis. */
import { parseStudy } from '../../src/record/parseStudy.js';
import type { Study } from '../../src/vocabulary.js';

export interface Lap {
  readonly reference: number;
  readonly candidate: number;
}

export interface Made {
  readonly id: string;
  readonly source?: string;
  readonly laps: readonly Lap[];
  /** 'R' or 'C' first, lap after lap; default R. */
  readonly first?: string;
  /** Moment of each run, s; default 45 s apart. */
  readonly times?: readonly number[];
  /** Reasons by run number. */
  readonly exclude?: Readonly<Record<number, string>>;
}

const HEAD = 'series,source,meter,reading_mW,started_at,exclude';

/** The rows of runs.csv of some series, one run a row. */
export function rowsOf(series: readonly Made[]): string {
  const rows = series.flatMap(({ id, source = 'green', laps, first = 'R', times, exclude = {} }) =>
    laps.flatMap((lap, i) => {
      const pair = [
        ['reference', lap.reference],
        ['candidate', lap.candidate],
      ] as const;
      const order = first[i % first.length] === 'R' ? pair : [pair[1], pair[0]];
      return order.map(([meter, reading], half) => {
        const run = 2 * i + half;
        const time = times?.[run] ?? 45 * run;
        return [id, source, meter, reading, time, exclude[run + 1] ?? ''].join(',');
      });
    }),
  );
  return `${[HEAD, ...rows].join('\n')}\n`;
}

export const SETTINGS = {
  title: 'Invented',
  reference: { name: 'bench meter', resolution_mW: 0.01, expanded_uncertainty_percent: 3 },
  candidate: { name: 'drawer meter', resolution_mW: 0.01 },
  sources: [
    { name: 'green', wavelength_nm: 520 },
    { name: 'red', wavelength_nm: 650 },
  ],
  tolerance_percent: 5,
};

export function studyWith(series: readonly Made[], settings: object = SETTINGS): Study {
  return parseStudy(settings, { runs: rowsOf(series) });
}

/** Laps whose readings scatter in a fixed, invented way. */
export function steadyLaps(count: number, level = 50, factor = 1.1, scatter = 0.003): Lap[] {
  return Array.from({ length: count }, (_, i) => ({
    reference: level * (1 + scatter * Math.sin(7 * i + 1)),
    candidate: (level / factor) * (1 + scatter * Math.cos(11 * i + 2)),
  }));
}
