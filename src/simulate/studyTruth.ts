import type { Scenario } from './scenario.js';
import type { SeriesTruth, WrittenSeries } from './scenarioSeries.js';

/** What truth.json holds. */
export interface StudyTruth {
  readonly invented: true;
  readonly made_by: string;
  readonly seed: number;
  readonly series: readonly SeriesTruth[];
  readonly sources: readonly {
    readonly name: string;
    readonly wavelength_nm: number;
    /** Highest true power of any run without a filter at the moment of reading, mW. */
    readonly highest_power_mW: number | null;
  }[];
}

/** What a scenario hid, in the form of truth.json. */
export function studyTruth(scenario: Scenario, written: readonly WrittenSeries[]): StudyTruth {
  const bare = (source: string) =>
    written
      .filter((one, at) => one.truth.source === source && scenario.series[at]!.filter === undefined)
      .flatMap((one) => one.truth.power_mW);
  return {
    invented: true,
    made_by: 'the virtual bench of this package (node scripts/make-demo.mjs)',
    seed: scenario.seed,
    sources: scenario.study.sources.map(({ name, wavelength_nm }) => {
      const powers = bare(name);
      const highest_power_mW = powers.length === 0 ? null : sixDigits(Math.max(...powers));
      return { name, wavelength_nm, highest_power_mW };
    }),
    series: written.map(({ truth }) => ({
      ...truth,
      factor_to_truth: sixDigits(truth.factor_to_truth),
      factor_to_reference: sixDigits(truth.factor_to_reference),
      apparent_factor: sixDigits(truth.apparent_factor),
      power_mW: truth.power_mW.map(sixDigits),
      beam: truth.beam?.map((part) => ({ ...part, power_mW: sixDigits(part.power_mW) })) ?? null,
    })),
  };
}

/** Six digits tell everything, and the last digits of a machine's exponential tell nothing. */
function sixDigits(value: number): number {
  return Number(value.toPrecision(6));
}
