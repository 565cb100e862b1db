import type { AgreementResult, EquivalenceResult, Result } from '../vocabulary.js';
import {
  formatEstimate,
  formatInterval,
  formatNumber,
  formatProbability,
  formatWithin,
  TWO_DIGITS,
} from './formatNumber.js';
import { levelSentences } from './levelSentences.js';
import { confidenceWords, withSign } from './words.js';

/** What the means of the series say of agreement, each series counting once. */
export function meansSentences({ agreement }: Result): readonly string[] {
  const { equivalence } = agreement;
  return [
    ratio(agreement),
    ranks(agreement),
    equivalent('As read', equivalence.before),
    equivalent('Corrected', equivalence.after),
    trend(agreement),
    ...levelSentences(agreement),
    sideNote(agreement),
  ];
}

function ratio({ ratio_limits: found }: AgreementResult): string {
  if (found.ratio === null) return `Ratio candidate ÷ reference: ${found.why}`;
  const limits =
    found.limits.low === null
      ? ''
      : `; limits of agreement for one more lap ${formatInterval(found.limits.low, found.limits.high)}`;
  return `Ratio candidate ÷ reference: ${formatEstimate(found.ratio, found.low, found.high)}${limits}. ${found.why}`.trim();
}

function ranks({ wilcoxon: found }: AgreementResult): string {
  const level =
    found.achieved_confidence === null ? '' : ` at ${confidenceWords(found.achieved_confidence)}`;
  const interval =
    found.low_percent === null
      ? ''
      : ` (${formatInterval(found.low_percent, found.high_percent)} %${level})`;
  const p = found.p === null ? '' : `, p ${withSign(formatProbability(found.p))}`;
  const size =
    found.low_percent === null
      ? formatNumber(found.estimate_percent, TWO_DIGITS)
      : formatWithin(found.estimate_percent, found.low_percent, found.high_percent);
  return `By ranks alone: mean difference ${size} %${interval}${p}. ${found.why}`.trim();
}

function equivalent(head: string, found: EquivalenceResult): string {
  if (found.low === null) return `${head}: ${found.why}`;
  const shown = found.decision === 'equivalent' ? 'shown' : 'not shown';
  const margins = found.margins.map((one) => formatNumber(one)).join(' to ');
  return `${head}: the mean ratio is ${shown} to lie within the tolerance, ${margins} (${confidenceWords(found.confidence)} interval ${formatInterval(found.low, found.high)}).`;
}

function trend({ proportional_bias: found }: AgreementResult): string {
  const slope =
    found.slope === null
      ? ''
      : `slope ${formatEstimate(found.slope, found.low, found.high)} of the logarithm of the ratio against that of the power. `;
  return `Does the ratio change with power: ${slope}${found.why}`;
}

function sideNote({ concordance: found }: AgreementResult): string {
  const value =
    found.low === null
      ? formatNumber(found.value, TWO_DIGITS)
      : formatEstimate(found.value, found.low, found.high);
  return `Concordance correlation: ${found.value === null ? '' : `${value}. `}${found.why}`;
}
