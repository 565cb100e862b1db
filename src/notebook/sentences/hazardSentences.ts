import { LASER_CAUTIONS, labelWords } from '../../findings/words.js';
import { HAZARD_CAUTION } from '../../hazard/hazard.js';
import type { HazardResult, Result } from '../../vocabulary.js';

/** Why each source is judged as it is, those first whose label understates, and the cautions. */
export function hazardSentences(result: Result): readonly string[] {
  const understated = result.hazard.filter((one) => one.label_understates === true);
  const others = result.hazard.filter((one) => one.label_understates !== true);
  return [
    ...understated.map(
      (one) => `More hazardous than labelled (${labelWords(one)}): ${one.source}. ${reason(one)}`,
    ),
    ...others.map((one) => `${one.source}: ${reason(one)}`),
    HAZARD_CAUTION,
    ...LASER_CAUTIONS,
  ];
}

/** The caution stands once, at the end. */
function reason(one: HazardResult): string {
  return one.why.replace(HAZARD_CAUTION, '').trim();
}
