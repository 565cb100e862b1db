/** Analysed series and sources, taken from small made studies, to hand to one chapter at a time. */
import type { SeriesAnalysis } from '../src/series/analyseSeries.js';
import type { SeriesResult, Study, Suspect } from '../src/vocabulary.js';
import { type ReadToFactors, readingsToFactors } from '../src/wavelengths/readingsToFactors.js';
import type { WavelengthInput } from '../src/wavelengths/wavelengthBudget.js';
import { type Member, member } from '../src/wavelengths/wavelengthMembers.js';
import { steady, studyOf } from './seriesStudy.js';

/** Six equal laps, K = reference ÷ candidate: no scatter, no drift. */
export function analysed(
  changes: Partial<SeriesResult> = {},
  [reference, candidate]: readonly [number, number] = [110, 100],
): SeriesAnalysis {
  const { id = 'a', wavelength_nm: nm = 638 } = changes;
  const study = studyOf([{ id, nm, laps: steady(reference, candidate) }]);
  const [found] = readingsToFactors(study, []).series;
  return { ...found, result: { ...found.result, ...changes } };
}

export const resultOf = (changes: Partial<SeriesResult> = {}): SeriesResult =>
  analysed(changes).result;

/** What a study comes to before anything is asked of it, and its series as members. */
export function chapterOf(
  study: Study,
  suspects: readonly Suspect[] = [],
): ReadToFactors & { readonly input: WavelengthInput; readonly members: readonly Member[] } {
  const chapter = readingsToFactors(study, suspects);
  const { series, readings, unisolated, steps } = chapter;
  return {
    ...chapter,
    input: { study: chapter.study, series, readings, unisolated, steps, suspects },
    members: series.flatMap(member),
  };
}

export const suspectIn = (series: string, changes: Partial<Suspect> = {}): Suspect => ({
  row: 4,
  rows: [4],
  series,
  meter: 'candidate',
  kind: 'digits',
  found: 901,
  likely: 910,
  message: 'Compare with the display again.',
  ...changes,
});
