/** Words for what the power, a second opinion and an earlier study say; the same everywhere. */
import type {
  ChangeOfFactor,
  ExclusionKind,
  OpinionComparison,
  OpinionResult,
  PowerBend,
  PowerDependence,
  PowerOffset,
  ReChecks,
} from '../vocabulary.js';
import { formatNumber } from './formatNumber.js';

export const EXCLUSION_WORDS: Readonly<Record<ExclusionKind, string>> = {
  declared: 'declared by the user',
  'cold-start': 'cold start',
  outlier: 'statistical outlier',
};

export const BEND_WORDS: Readonly<Record<PowerBend['verdict'], string>> = {
  'reads-low-at-the-top': 'candidate reads low at the top',
  'reads-high-at-the-top': 'candidate reads high at the top',
  'not-shown': 'no bend shown',
  'not-computable': 'cannot be told',
};

export const OFFSET_WORDS: Readonly<Record<PowerOffset['verdict'], string>> = {
  'offset-shown': 'offset shown',
  'offset-not-shown': 'no offset shown',
  'not-computable': 'cannot be told',
};

export const KIND_WORDS: Readonly<Record<OpinionResult['kind'], string>> = {
  certificate: 'certificate',
  maker: 'maker, as new',
  'third-meter': 'third meter',
};

export const COMPARED_WORDS: Readonly<Record<OpinionComparison['meter'], string>> = {
  reference: 'reference',
  candidate: 'candidate, as read',
  'corrected-candidate': 'candidate, corrected (leans on the reference)',
};

/** `null` is a comparison that decides nothing. */
export function comparisonWords({ verdict, too_high_at_least_percent }: OpinionComparison): string {
  if (verdict === null) return 'decides nothing';
  if (verdict !== 'too-high') return verdict;
  return `reads too high, by ${formatNumber(too_high_at_least_percent, { digits: 2 })} % at least`;
}

export const SUPPORT_WORDS: Readonly<Record<OpinionResult['supports'], string>> = {
  reference: 'speaks for the reference',
  candidate: 'speaks for the candidate',
  both: 'agrees with both',
  neither: 'contradicts both',
  undecided: 'does not decide',
};

export const CHANGE_WORDS: Readonly<Record<ChangeOfFactor['verdict'], string>> = {
  within: 'still serves',
  moved: 'has moved',
  'not-shown': 'neither shown',
  'not-comparable': 'cannot be compared',
};

/** Whether a chart of re-checks shows more than chance. */
export function controlWords(chart: Pick<ReChecks, 'in_control' | 'centre'>): string {
  if (chart.centre === null) return 'no chart';
  if (chart.in_control === null) return 'cannot be told';
  return chart.in_control ? 'in control' : 'out of control';
}

/** "450 nm", or all of them. */
export function placeOf(one: PowerDependence): string {
  return one.wavelength_nm === null ? 'All wavelengths' : `${formatNumber(one.wavelength_nm)} nm`;
}

/** Entries that say something: a bend, an offset or a prediction that could be computed. */
export function spoken(entries: readonly PowerDependence[]): readonly PowerDependence[] {
  return entries.filter(
    (one) =>
      one.bend.at_top_percent !== null ||
      one.bend_by_pooled_scatter.at_top_percent !== null ||
      one.offset.offset_mW !== null ||
      one.prediction.predicted > 0,
  );
}
