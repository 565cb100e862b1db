import { argumentWrong } from '../../error.js';
import { formatNumber, TWO_DIGITS } from '../../findings/formatNumber.js';
import { formatUncertain } from '../../findings/formatUncertain.js';
import {
  type AsNewResult,
  asNewBound,
  compatibilityScore,
  type StatedPower,
} from '../../opinions/secondOpinion.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/**
 * The same two values, had theirs been known better or worse.
 *
 * @param input `times`: what their standard uncertainty is multiplied by
 */
export function scoreByUncertaintyRows(input: {
  readonly ours: StatedPower;
  readonly theirs: StatedPower;
  readonly times: readonly number[];
}): readonly TableRow[] {
  const { ours, theirs, times } = input;
  const stated = theirs.standardUncertainty_mW;
  return (stated === null ? [] : times).map((factor) => {
    const u = factor * (stated ?? 0);
    const score = compatibilityScore({ ours, theirs: { ...theirs, standardUncertainty_mW: u } });
    return {
      'Their U (k = 2) in mW': formatNumber(2 * u, TWO_DIGITS),
      'in % of the value': formatNumber((200 * u) / theirs.value_mW, TWO_DIGITS),
      'Difference in mW': formatUncertain(
        score.difference_mW,
        Math.hypot(u, ours.standardUncertainty_mW ?? 0),
        { show: 'value' },
      ),
      ζ: formatNumber(score.zeta, TWO_DIGITS),
      E_n: formatNumber(score.en, TWO_DIGITS),
      Outcome: score.verdict ?? 'decides nothing',
      'would still agree, if off by up to, in %': formatNumber(
        (200 * Math.hypot(u, ours.standardUncertainty_mW ?? 0)) / theirs.value_mW,
        TWO_DIGITS,
      ),
    };
  });
}

/**
 * What a maker's as-new value says of each meter: as it is stated, and if it had an uncertainty.
 *
 * @param options `relative_standard_uncertainty`: the one to suppose, a fraction
 * @throws argument-wrong for one that is not above 0
 */
export function asNewRows(
  result: Result,
  options: { readonly relative_standard_uncertainty: number },
): readonly TableRow[] {
  const { relative_standard_uncertainty: supposed } = options;
  if (!(supposed > 0) || !Number.isFinite(supposed)) {
    throw argumentWrong('The uncertainty to suppose must be above 0.', supposed);
  }
  return result.opinions
    .filter((opinion) => opinion.kind === 'maker')
    .flatMap(({ source, value_mW, standard_uncertainty_mW, comparisons }) =>
      comparisons.flatMap((one) => {
        if (one.value_mW === null || one.meter === 'corrected-candidate') return [];
        const now = {
          value_mW: one.value_mW,
          standardUncertainty_mW: one.standard_uncertainty_mW,
        };
        const bound = (u: number | null) =>
          asNewBound({ now, asNew: { value_mW, standardUncertainty_mW: u } });
        // A source that the analysis does not judge is not judged under a supposition either.
        const judged = bound(standard_uncertainty_mW).why === one.why;
        return [
          {
            Source: source,
            'As new in mW': formatUncertain(value_mW, standard_uncertainty_mW),
            Meter: one.meter,
            'Shows ± u in mW': formatUncertain(one.value_mW, one.standard_uncertainty_mW),
            'As stated': judged ? boundWords(bound(standard_uncertainty_mW)) : 'not judged',
            [`If u were ${formatNumber(supposed, { as: 'percent' })}`]: judged
              ? boundWords(bound(supposed * value_mW))
              : 'not judged',
          },
        ];
      }),
    );
}

function boundWords(bound: AsNewResult): string {
  if (bound.verdict === null) return 'decides nothing';
  return bound.verdict === 'possible'
    ? 'possible; nothing follows'
    : `reads too high, by ${formatNumber(bound.atLeast, { as: 'percent', digits: 2 })} at least`;
}
