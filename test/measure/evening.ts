/** A demo evening: the virtual bench stands in for the two meters. Invented. */
import { runSheet } from '../../src/plan/runSheet.js';
import { simulateSeries } from '../../src/simulate/bench.js';
import { seededRandom } from '../../src/statistics/random.js';
import type { MeterRole } from '../../src/vocabulary.js';

export const STUDY = {
  title: 'Demo evening (invented)',
  reference: {
    name: 'Bench head R',
    resolution_mW: 0.1,
    rated_max_mW: 5000,
    expanded_uncertainty_percent: 3,
    coverage_factor: 2,
    wavelength_setting: true,
  },
  candidate: { name: 'Drawer meter C', resolution_mW: 0.1, wavelength_setting: false },
  sources: [
    { name: 'green bench diode', wavelength_nm: 520, label_class: '3R', label_max_mW: 5 },
    { name: 'near-infrared module', wavelength_nm: 808 },
  ],
  protocol: { order: 'ABBA-BAAB', read_at_s: 2, placement: 'jig' },
  tolerance_percent: 6,
} as const;

export const LAPS = 4;

/** runs.csv as a plan writes it. */
export const SHEET = runSheet({ sources: STUDY.sources, laps: LAPS, order: 'ABBA-BAAB' });

/** What both displays show, run by run, in the order of the sheet. */
export interface Shown {
  readonly meter: MeterRole;
  readonly zero: string;
  readonly reading: string;
  readonly peak: string;
}

/** True K of each source. */
export const FACTORS = [1.12, 0.88] as const;

/** @param laps of the first source: more than the plan has, for laps that are added */
export function shownRuns(laps: readonly number[] = [LAPS, LAPS]): readonly Shown[] {
  const random = seededRandom(20_261_128);
  return FACTORS.flatMap((factor, source) =>
    simulateSeries(
      {
        laps: laps[source] ?? LAPS,
        order: 'ABBA-BAAB',
        level_mW: source === 0 ? 71 : 240,
        factor,
        noise: { reference: 0.003, candidate: 0.004 },
        source: { noise: 0.002, drift: { linear_per_run: -0.001 } },
        resolution_mW: { reference: 0.1, candidate: 0.1 },
        zero_mW: { reference: 0.2, candidate: 0.3 },
        zero_recorded: true,
        peak_excess: 0.02,
      },
      random,
    ).series.runs.map(({ meter, reading_mW, zero_mW, peak_mW }) => ({
      meter,
      zero: (zero_mW ?? 0).toFixed(1),
      reading: (reading_mW + (zero_mW ?? 0)).toFixed(1),
      peak: ((peak_mW ?? 0) + (zero_mW ?? 0)).toFixed(1),
    })),
  );
}

/** The moment at which run n of the evening starts: 45 s apart, ms since 1970. */
export const startOf = (run: number): number => Date.UTC(2026, 2, 14, 18, 0, 0) + 45_000 * run;
