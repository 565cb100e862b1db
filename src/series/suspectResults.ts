/** What the entries that look like slips of the pen do to the factors of their series. */
import { significant } from '../findings/formatNumber.js';
import type { Suspect, SuspectResult } from '../vocabulary.js';
import type { SeriesAnalysis } from './analyseSeries.js';

/** The series analysed as typed, without the suspects, and with their likely values. */
export interface Readings {
  readonly typed: readonly SeriesAnalysis[];
  readonly without: readonly SeriesAnalysis[];
  readonly likely: readonly SeriesAnalysis[];
}

export function suspectResults(
  suspects: readonly Suspect[],
  { typed, without, likely }: Readings,
): readonly SuspectResult[] {
  return suspects.map((suspect) => {
    const factorIn = (list: readonly SeriesAnalysis[]) =>
      list.find(({ result }) => result.id === suspect.series)?.result.factor.value ?? null;
    const factors = {
      factor_as_typed: factorIn(typed),
      factor_without: factorIn(without),
      factor_likely: suspect.likely === null ? null : factorIn(likely),
    };
    return { ...suspect, ...factors, why: words(suspect.series, factors) };
  });
}

function words(
  series: string,
  {
    factor_as_typed: typed,
    factor_without: without,
    factor_likely: likely,
  }: Pick<SuspectResult, 'factor_as_typed' | 'factor_without' | 'factor_likely'>,
): string {
  const said = (factor: number | null) =>
    factor === null ? 'no factor' : `K = ${significant(factor, 4)}`;
  const last = likely === null ? '' : `, with the likely value ${said(likely)}`;
  return `The series "${series}" gives ${said(typed)} as typed, without this entry ${said(without)}${last}.`;
}
