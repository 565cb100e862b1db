/** Does the correction need an offset beside the factor? */

import type { PowerOffset, Study } from '../vocabulary.js';
import { gainOrGainAndOffset } from './lines/gainOrGainAndOffset.js';
import { type PowerPoint, readingsOf, tooFew, unless } from './powerPoints.js';

export const NO_OFFSET: PowerOffset = {
  verdict: 'not-computable',
  offset_mW: null,
  low_mW: null,
  high_mW: null,
  factor: null,
  p: null,
  why: '',
};

export function offset(points: readonly PowerPoint[], study: Study): PowerOffset {
  return unless(tooFew(points, 4), NO_OFFSET, () => {
    const found = gainOrGainAndOffset(readingsOf(points), { confidence: study.confidence });
    const { offset_mW, factor } = found.gain_and_offset;
    return {
      verdict: found.verdict,
      offset_mW: offset_mW.value,
      low_mW: offset_mW.interval?.[0] ?? null,
      high_mW: offset_mW.interval?.[1] ?? null,
      factor: factor.value,
      p: found.p,
      why: found.why,
    };
  });
}
