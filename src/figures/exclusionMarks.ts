/** How runs that were left out look, by the kind of reason. */
import { EXCLUSION_WORDS } from '../findings/findingWords.js';
import type { ExclusionKind } from '../vocabulary.js';
import { ALARM, CANDIDATE_COLOUR, INK } from './figure.js';

export const EXCLUSION_KINDS: readonly ExclusionKind[] = ['declared', 'cold-start', 'outlier'];

const MARKS = {
  declared: { symbol: 'x-thin-open', colour: ALARM },
  'cold-start': { symbol: 'square-open', colour: CANDIDATE_COLOUR },
  outlier: { symbol: 'star-triangle-down-open', colour: INK },
} as const;

export function exclusionMark(kind: ExclusionKind) {
  const { symbol, colour } = MARKS[kind];
  return {
    name: `left out: ${EXCLUSION_WORDS[kind]}`,
    marker: { symbol, color: colour, size: 10, line: { width: 2.2, color: colour } },
  };
}
