import type { Study } from '../vocabulary.js';
import { oneKindOfReading } from './oneKind.js';
import { settingRatios } from './settingRatio.js';

/** By the study as read, because fitting its traces takes a while and several pictures ask. */
const taken = new WeakMap<Study, Study>();

/**
 * A study with every reading as the analysis takes it, in mW: what pictures and tables of readings beside
 * the result have to show, because its factors and intervals are about these.
 *
 * @param study as read
 */
export function asTaken(study: Study): Study {
  const known = taken.get(study);
  if (known !== undefined) return known;
  const found = oneKindOfReading(study, (one) => settingRatios(one, study.confidence)).study;
  taken.set(study, found);
  return found;
}
