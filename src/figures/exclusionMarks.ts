/** How runs that were left out look, by the kind of reason. */
import type { ExclusionKind } from '../vocabulary.js';
import { ALARM, CANDIDATE_COLOUR, INK } from './figure.js';
import type { MarkStyle } from './marks.js';

export const EXCLUSION_KINDS: readonly ExclusionKind[] = ['declared', 'cold-start', 'outlier'];

const MARKS = {
  declared: { symbol: 'x-thin-open', colour: ALARM },
  'cold-start': { symbol: 'square-open', colour: CANDIDATE_COLOUR },
  outlier: { symbol: 'star-triangle-down-open', colour: INK },
} as const;

/** What runs that were left out for such a reason look like. */
export const exclusionMark = (kind: ExclusionKind): MarkStyle => ({
  ...MARKS[kind],
  size: 10,
  rim: 2.2,
});
