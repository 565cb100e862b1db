/** From what was written down to the factor of each wavelength: the steps that everything else asks. */

import { type DisplayStep, displayStep, type Steps } from '../readings/displayStep.js';
import { type OneKind, oneKindOfReading } from '../readings/oneKind.js';
import { settingRatios } from '../readings/settingRatio.js';
import { eachMeter } from '../record/meters.js';
import { analyseSeries, type SeriesAnalysis } from '../series/analyseSeries.js';
import type { InfraredResult, Study, Suspect } from '../vocabulary.js';
import { analyseInfrared, unisolatedSeries } from './analyseInfrared.js';
import { analyseWavelengths, type WavelengthAnalysis } from './analyseWavelengths.js';

export interface ReadToFactors {
  /** Every reading of one kind. */
  readonly study: Study;
  readonly displays: Readonly<Record<'reference' | 'candidate', DisplayStep>>;
  readonly steps: Steps;
  readonly readings: OneKind;
  readonly series: readonly SeriesAnalysis[];
  readonly infrared: readonly InfraredResult[];
  /** Series that hold more than the wanted line, by id. */
  readonly unisolated: ReadonlySet<string>;
  readonly wavelengths: WavelengthAnalysis;
}

/**
 * @param recorded the study as read
 * @param suspects entries that are not settled: their series give no verdict, lend no spread, and have
 *   no cold start
 */
export function readingsToFactors(recorded: Study, suspects: readonly Suspect[]): ReadToFactors {
  const displays = eachMeter((meter) => displayStep(recorded[meter], recorded));
  const steps = eachMeter((meter) => displays[meter].step_mW);
  const readings = oneKindOfReading(recorded, (one) => settingRatios(one, recorded.confidence));
  const { study } = readings;
  const series = study.series
    .filter((one) => one.kind === 'comparison')
    .map((one) =>
      analyseSeries(
        one,
        study,
        steps,
        suspects.filter((suspect) => suspect.series === one.id),
      ),
    );
  const infrared = analyseInfrared(study, series);
  // Behind a filter, or with infrared in the beam, the meters do not look at the same light.
  const unisolated = unisolatedSeries(study);
  const wavelengths = analyseWavelengths({ study, series, readings, unisolated, steps, suspects });
  return { study, displays, steps, readings, series, infrared, unisolated, wavelengths };
}
