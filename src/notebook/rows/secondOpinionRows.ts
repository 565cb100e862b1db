import { KIND_WORDS, SUPPORT_WORDS } from '../../findings/findingWords.js';
import { formatNumber, TWO_DIGITS } from '../../findings/formatNumber.js';
import { formatUncertain } from '../../findings/formatUncertain.js';
import type { Opinion, OpinionComparison, Result, Study } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** What opinions.json states, and what a value so stated can do at all. */
export function statedOpinionRows(study: Study): readonly TableRow[] {
  return study.opinions.map((one) => ({
    Source: one.source,
    'Value from': KIND_WORDS[one.kind],
    'Value in mW': formatNumber(one.value_mW),
    'U in mW': formatNumber(one.expanded_uncertainty_mW),
    k: formatNumber(one.coverage_factor),
    Date: one.date ?? 'not stated',
    'Can contradict': canContradict(one),
  }));
}

function canContradict(one: Opinion): string {
  if (one.expanded_uncertainty_mW === null || one.coverage_factor === null) return 'nobody';
  return one.kind === 'maker' ? 'a meter that shows more' : 'a meter on either side';
}

/** Both scores of every value that has an uncertainty, with what they divide the difference by. */
export function scoreRows(result: Result): readonly TableRow[] {
  return result.opinions.flatMap((opinion) =>
    opinion.comparisons
      .filter((one) => one.zeta !== null && one.meter !== 'corrected-candidate')
      .map((one) => {
        const u = uncertaintyOfDifference(one, opinion.standard_uncertainty_mW ?? 0);
        return {
          Source: opinion.source,
          'Value from': KIND_WORDS[opinion.kind],
          'Value ± u in mW': formatUncertain(opinion.value_mW, opinion.standard_uncertainty_mW),
          Meter: one.meter,
          'Shows ± u in mW': formatUncertain(one.value_mW, one.standard_uncertainty_mW),
          'Difference ± u in mW': formatUncertain(one.difference_mW, u),
          ζ: formatNumber(one.zeta, TWO_DIGITS),
          E_n: one.en === null ? 'no claim to test' : formatNumber(one.en, TWO_DIGITS),
          Outcome: one.verdict ?? 'decides nothing',
        };
      }),
  );
}

/** What the score was formed with; where the difference is 0, the sum of squares. */
function uncertaintyOfDifference(one: OpinionComparison, theirs: number): number {
  const { difference_mW: difference, zeta } = one;
  return difference === null || zeta === null || zeta === 0
    ? Math.hypot(one.standard_uncertainty_mW ?? 0, theirs)
    : difference / zeta;
}

/** Which meter each value speaks for. */
export function supportRows(result: Result): readonly TableRow[] {
  return result.opinions.map((one) => ({
    Source: one.source,
    'Wavelength in nm': one.wavelength_nm,
    'Value from': KIND_WORDS[one.kind],
    Says: SUPPORT_WORDS[one.supports],
  }));
}
