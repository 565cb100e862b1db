import { analyse } from '../analyse.js';
import { counted, formatNumber } from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import type { Result, Series, Study } from '../vocabulary.js';

/** K and the difference of one series alone: repeatability, drift and order, nothing of the certificate. */
export function closedSentence(study: Study, series: Series): string {
  const result = analyse({
    ...study,
    series: [series],
    traces: study.traces.filter((trace) => trace.series === series.id),
    opinions: [],
  });
  const one = result.series.find(({ id }) => id === series.id);
  const { value, low, high } = one?.factor ?? { value: null, low: null, high: null };
  const name = `Series "${series.id}"`;
  if (one === undefined || value === null || low === null || high === null) {
    return `${name}: no K. ${one?.why ?? ''}`.trim();
  }
  const open = result.suspects.length;
  const difference = one.difference_percent.mean;
  return [
    `${name}: K = ${formatUncertain(value, Math.max(value - low, high - value))}, relative to this reference alone and for this placement, from ${lapsOf(one)}.`,
    difference === null
      ? ''
      : `The candidate reads ${formatNumber(Math.abs(difference), { digits: 2 })} % ${difference < 0 ? 'low' : 'high'} of the reference.`,
    open === 0
      ? ''
      : `${counted(open, 'entry looks', 'entries look')} like a slip; until settled, K is as typed.`,
  ]
    .filter((part) => part !== '')
    .join(' ');
}

/** How many laps count, and of how many where some were left out. */
function lapsOf({ laps, used }: Result['series'][number]): string {
  const kept = Math.min(used.reference, used.candidate);
  return kept === laps ? `${laps} laps` : `${kept} of ${laps} laps`;
}
