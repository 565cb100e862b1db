import { counted, formatNumber } from '../../findings/formatNumber.js';
import type { Meter, Study } from '../../vocabulary.js';

/** What a study holds, and what its author stated and did not state. */
export function studySentences(study: Study): readonly string[] {
  const runs = study.series.reduce((sum, series) => sum + series.runs.length, 0);
  return [
    study.title,
    `Reference: ${meter(study.reference)}.`,
    `Candidate: ${meter(study.candidate)}.`,
    `${counted(study.series.length, 'series', 'series')}, ${counted(runs, 'run', 'runs')}, ` +
      `${counted(study.sources.length, 'source', 'sources')}.`,
    `A corrected reading serves if it is off by no more than ` +
      `${formatNumber(study.tolerance, { as: 'percent' })}` +
      `${study.tolerance_stated ? '' : ' (the study states no tolerance; this is the default)'}. ` +
      `Intervals are at ${formatNumber(study.confidence, { as: 'percent' })} confidence.`,
  ];
}

function meter(one: Meter): string {
  const resolution =
    one.resolution_mW === null
      ? 'resolution not stated'
      : `display steps of ${formatNumber(one.resolution_mW, { unit: 'mW' })}`;
  if (one.role === 'candidate') return `${one.name}, ${resolution}`;
  const calibration =
    one.expanded_uncertainty_percent === null
      ? 'uncertainty not stated, so every factor is relative to this reference only'
      : `expanded uncertainty ${formatNumber(one.expanded_uncertainty_percent, { unit: '%' })} ` +
        `(k = ${formatNumber(one.coverage_factor)})`;
  return `${one.name}, ${resolution}, ${calibration}`;
}
