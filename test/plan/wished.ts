import { analyse } from '../../src/analyse.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import type { ComparisonWishes } from '../../src/plan/comparisonWishes.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { plannedStudy } from '../../src/simulate/plannedStudy.js';
import type { seededRandom } from '../../src/statistics/random.js';

/** Wishes that two short series fulfil. */
export const base: ComparisonWishes = {
  wanted: 0.04,
  confidence: 0.95,
  certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
  noise: { reference: 0.008, candidate: 0.008 },
  placement: 0.01,
  display: { level_mW: 50, step_mW: { reference: 0.05, candidate: 0.05 } },
};

/** One study at the planned bench, analysed as any study is. */
export function analysed(
  wishes: ComparisonWishes,
  design: { readonly series: number; readonly laps: number },
  random: ReturnType<typeof seededRandom>,
) {
  const study = { protocol: { order: 'ABBA-BAAB' as const }, between_series_percent: 1 };
  const made = plannedStudy({ wishes, design, study, later: 20 }, random);
  const read = parseStudy(JSON.parse(made.files['study.json'] ?? ''), {
    runs: made.files['runs.csv'] ?? '',
  });
  const result = analyse(read);
  return { made, read, result, factors: factorsOf(read, result) };
}
