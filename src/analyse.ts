/**
 * The method, as a table of contents: one step after the other, each in a room of its own.
 */

import { analyseAgreement } from './agree/analyseAgreement.js';
import { argumentWrong } from './error.js';
import { analyseReChecks } from './factors/analyseReChecks.js';
import { analyseThenAndNow } from './factors/analyseThenAndNow.js';
import { inTimeOrder } from './factors/factorsToCompare.js';
import { analyseHazard } from './hazard/analyseHazard.js';
import { analyseOpinions } from './opinions/analyseOpinions.js';
import { analysePower } from './power/analysePower.js';
import { factorByPower } from './power/factorByPower.js';
import { meterAt, statedRelative } from './readings/certificate.js';
import { findSlips } from './record/slips/findSlips.js';
import { finerWarnings } from './record/slips/finerSlips.js';
import { withLikely } from './record/slips/withLikely.js';
import { withoutSuspects } from './record/slips/withoutSuspects.js';
import { seriesWarnings, stepWarnings, unisolatedWarnings } from './series/analyseWarnings.js';
import { suspectResults } from './series/suspectResults.js';
import type { Factors, Result, Study } from './vocabulary.js';
import { commonFactor } from './wavelengths/commonFactor.js';
import { readingsToFactors } from './wavelengths/readingsToFactors.js';

/**
 * From a study to its result: screening, differences, agreement, factors with their uncertainty,
 * the common factor, hazard against the label, and what the reader has to know.
 *
 * Pure, and without random draws: the same study gives the same result. Relative quantities are fractions, except in
 * fields whose name ends in `percent`. A number that the data cannot give is `null`, and `why` or
 * `warnings` say what it would need.
 *
 * @param recorded what `parseStudy` or `readStudy` returned
 * @param options `earlier`: the factors of an earlier study of the same meters, to see whether they have moved, or of several (in time order where all have a date, else as given): the last is compared
 *   with, and from two on all of them go on a control chart
 * @throws argument-wrong for what is no study
 */
export function analyse(
  recorded: Study,
  options: { readonly earlier?: Factors | readonly Factors[] | null } = {},
): Result {
  requireStudy(recorded);
  const suspects = findSlips(recorded);
  const typed = readingsToFactors(recorded, suspects);
  const open = suspects.length > 0;
  const mended = open ? readingsToFactors(withLikely(recorded, suspects), []) : typed;
  const without = open ? readingsToFactors(withoutSuspects(recorded, suspects), []) : typed;

  const { study, readings, series, wavelengths, unisolated, steps } = typed;
  const comparable = series.filter(({ result }) => !unisolated.has(result.id));
  const agreement = analyseAgreement(
    study,
    comparable,
    factorByPower(wavelengths.results, study.confidence),
  );
  const common = commonFactor(wavelengths.estimates, {
    tolerance: study.tolerance,
    confidence: study.confidence,
    shared: Math.max(
      0,
      ...wavelengths.estimates.map(
        ({ wavelength_nm }) => statedRelative(meterAt(study.reference, wavelength_nm)) ?? 0,
      ),
    ),
  });
  const power = analysePower(study, comparable);
  const opinions = analyseOpinions({
    study,
    series,
    wavelengths: wavelengths.results,
    steps,
    unisolated,
  });
  const hazard = analyseHazard(typed, open ? [mended] : []);
  const heading = {
    schema: 'meterpair.result/2',
    data_sha256: study.data_sha256,
    readings_sha256: study.readings_sha256,
    title: study.title,
    date: study.record.date,
    reference: study.reference.name,
    candidate: study.candidate.name,
    confidence: study.confidence,
    tolerance_percent: roundOff(100 * study.tolerance),
  } as const;
  const earlier = inTimeOrder([options.earlier ?? []].flat());
  const found = { ...heading, reading: readings.kind, wavelengths: wavelengths.results };
  const thenAndNow = analyseThenAndNow(earlier.at(-1) ?? null, found);
  const reChecks = analyseReChecks(earlier, found);
  return {
    ...heading,
    series: series.map(({ result }) => result),
    settings: readings.settings,
    reading: readings.kind,
    infrared: typed.infrared,
    agreement,
    wavelengths: wavelengths.results,
    common_factor: common,
    power: power.result,
    opinions: opinions.results,
    three_instruments: opinions.threeInstruments,
    then_and_now: thenAndNow.result,
    re_checks: reChecks.result,
    hazard: hazard.results,
    suspects: suspectResults(suspects, {
      typed: typed.series,
      without: without.series,
      likely: mended.series,
    }),
    warnings: [
      ...recorded.warnings,
      ...stepWarnings(typed.displays),
      ...finerWarnings(recorded),
      ...seriesWarnings(series.map(({ result }) => result)),
      ...unisolatedWarnings(unisolated),
      ...wavelengths.warnings,
      ...readings.warnings,
      ...power.warnings,
      ...opinions.warnings,
      ...thenAndNow.warnings,
      ...reChecks.warnings,
      ...hazard.warnings,
    ],
  };
}

/** A folder's name, or the promise of a study, is a common mistake. */
function requireStudy(study: unknown): void {
  if (study instanceof Promise) {
    throw argumentWrong('The study is not there yet.', 'a promise', 'await readStudy(folder)');
  }
  const whole = typeof study === 'object' && study !== null && 'series' in study;
  if (whole && Array.isArray(study.series)) return;
  throw argumentWrong(
    'analyse takes a study, not the place where it lies.',
    typeof study === 'string' ? `the text "${study}"` : typeof study,
    'what parseStudy or readStudy returned',
  );
}

/** 0.07 × 100 is 7.000000000000001 in binary. */
function roundOff(value: number): number {
  return Number(value.toPrecision(12));
}
