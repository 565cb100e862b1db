import { correlation } from '../../agree/correlation.js';
import { limitsOfAgreement } from '../../agree/limitsOfAgreement.js';
import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import { mean } from '../../statistics/summary.js';
import type { TableRow } from '../tableHtml.js';
import type { NamedPairs } from './metersFigure.js';
import { percentDifferences } from './pairsOverRange.js';
import type { RangeFigures } from './rangeStudy.js';

/** Correlation beside what it does not tell, a row a candidate. */
export function pairRows(list: readonly NamedPairs[]): readonly TableRow[] {
  return list.map(({ name, pairs }) => {
    const percent = percentDifferences(pairs);
    const { low, high } = limitsOfAgreement(percent);
    return {
      Candidate: name,
      'Correlation r': formatNumber(correlation(pairs), { digits: 5 }),
      'Mean difference in %': formatNumber(Number(mean(percent).toFixed(2))),
      'Limits of agreement in %': formatInterval(low, high),
    };
  });
}

/** The same two meters over several ranges of power. */
export function rangeRows(studies: readonly RangeFigures[]): readonly TableRow[] {
  return studies.map(({ range_mW: [low, high], r, width }) => ({
    'Power in mW': `${low} to ${high}`,
    'Correlation r': formatNumber(r.mean, { digits: 3 }),
    '95 of 100 lie': formatInterval(...r.most),
    'Limits of agreement apart by %': formatNumber(width.mean, { digits: 3 }),
  }));
}
