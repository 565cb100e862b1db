import type { Study } from '../vocabulary.js';
import { oneKindOfReading } from './oneKind.js';
import { settingRatios } from './settingRatio.js';

/** By the study as read, because fitting its traces takes a while and several pictures ask. */
const taken = new WeakMap<Study, Study>();

/**
 * A study with every reading as the analysis takes it, in mW: what pictures and tables of readings beside
 * the result have to show, because its factors and intervals are about these. A series about the wavelength
 * setting stays as read: what the settings are worth is its question.
 *
 * @param study as read
 */
export function asTaken(study: Study): Study {
  const known = taken.get(study);
  if (known !== undefined) return known;
  const one = oneKindOfReading(study, (series) => settingRatios(series, study.confidence)).study;
  const series = one.series.map((brought, i) =>
    brought.kind === 'setting' ? study.series[i] : brought,
  );
  const found = { ...one, series };
  taken.set(study, found);
  return found;
}
