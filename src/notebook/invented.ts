/** Comparisons that the virtual bench makes up while a notebook runs, and the truth behind them. */
import { analyse } from '../analyse.js';
import { argumentWrong } from '../error.js';
import { factorsOf } from '../factors/factorsOf.js';
import { parseStudy } from '../record/parseStudy.js';
import { demoScenarios } from '../simulate/demo/demoScenarios.js';
import type { Scenario } from '../simulate/scenario.js';
import { virtualStudy } from '../simulate/virtualStudy.js';
import type { Factors } from '../vocabulary.js';

export interface InventedComparison {
  /** What the comparison found. */
  readonly factors: Factors;
  readonly truth: readonly TrueFactor[];
}

/** True factor to the reference that is used: its own error is in it, as it is in every reading. */
export interface TrueFactor {
  readonly wavelength_nm: number;
  readonly factor: number;
}

/** A scenario of the virtual bench, measured and analysed like a study in a folder. */
export function inventedComparison(scenario: Scenario): InventedComparison {
  const { files, truth } = virtualStudy(scenario);
  const study = parseStudy(JSON.parse(files['study.json'] ?? ''), {
    runs: files['runs.csv'] ?? '',
  });
  const series = truth.series.filter((one) => one.kind === 'comparison' && one.beam === null);
  return {
    factors: factorsOf(study, analyse(study)),
    truth: [...new Set(series.map((one) => one.wavelength_nm))]
      .sort((a, b) => a - b)
      .map((wavelength_nm) => {
        const own = series.filter((one) => one.wavelength_nm === wavelength_nm);
        const logs = own.map((one) => Math.log(one.factor_to_reference));
        return {
          wavelength_nm,
          factor: Math.exp(logs.reduce((sum, one) => sum + one, 0) / own.length),
        };
      }),
  };
}

/**
 * The demo study of this folder of data-demo, made anew.
 *
 * @throws argument-wrong for a folder that is not among them
 */
export function inventedDemo(folder: string): InventedComparison {
  const scenario = demoScenarios.find((one) => one.folder === folder);
  if (scenario === undefined) throw argumentWrong('There is no such demo study.', folder);
  return inventedComparison(scenario);
}

/** The only true factor of a comparison at one wavelength. */
export function onlyTruth({ truth }: InventedComparison): number {
  const [one] = truth;
  if (one === undefined || truth.length > 1) {
    throw argumentWrong('The comparison is not one at a single wavelength.', truth.length);
  }
  return one.factor;
}

/** What `onlyTruth` will be of this scenario of one wavelength, without measuring it. */
export function hiddenFactor({ series }: Scenario): number {
  const [one] = series;
  if (one === undefined) throw argumentWrong('The scenario has no series.');
  return one.bench.factor * (1 + (one.reference_error ?? 0));
}
