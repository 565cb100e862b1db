import { COMPARED_WORDS, comparisonWords, KIND_WORDS } from '../../findings/findingWords.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { valueText } from '../../report/opinionTable.js';
import type { Result } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** Every value from elsewhere beside what the meters show of the same source. */
export function opinionRows(result: Result): readonly TableRow[] {
  return result.opinions.flatMap((opinion) =>
    opinion.comparisons.map((one) => ({
      Source: opinion.source,
      'Value from': KIND_WORDS[opinion.kind],
      'Value ± u in mW': valueText(opinion.value_mW, opinion.standard_uncertainty_mW),
      Meter: COMPARED_WORDS[one.meter],
      'Shows ± u in mW': valueText(one.value_mW, one.standard_uncertainty_mW),
      'Difference in %': formatNumber(one.difference_percent, { digits: 2 }),
      ζ: formatNumber(one.zeta, { digits: 2 }),
      E_n: formatNumber(one.en, { digits: 2 }),
      Outcome: comparisonWords(one),
    })),
  );
}
