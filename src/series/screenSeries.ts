/** What of a series is left out, what is suspected, and the drift model of what is kept. */

import { nullIfTooFew } from '../error.js';
import type { Steps } from '../readings/displayStep.js';
import { stepUncertainty } from '../statistics/roundedDisplay.js';
import type { Exclusion, Flag, Run, Series, Study } from '../vocabulary.js';
import { balancedExclusions, runsWithout } from './balanced.js';
import { type ColdStarts, coldStarts } from './coldStarts.js';
import { declaredExclusions } from './declared.js';
import { type DriftModel, driftModel } from './driftModel.js';
import { outlierFlags } from './outliers.js';

/** What screening and estimating need to know of a study. */
export type FactorSettings = Pick<Study, 'protocol' | 'confidence'>;

export interface Screened {
  readonly excluded: readonly Exclusion[];
  readonly suspected: readonly Exclusion[];
  readonly rivalEffects: readonly number[];
  readonly kept: readonly Run[];
  readonly model: DriftModel | null;
  readonly flagged: readonly Flag[];
}

/** Declared exclusions, then cold starts, then flags (and outliers where the protocol says so). */
export function screenSeries(series: Series, study: FactorSettings, steps: Steps): Screened {
  const rounding = (run: Run) =>
    (stepUncertainty(steps[run.meter] ?? 0) / run.reading_mW) * run.scale;
  const declared = declaredExclusions(series, study.protocol);
  const cold: ColdStarts = study.protocol.exclude_cold_starts
    ? coldStarts(series, runsWithout(series, declared), rounding)
    : { excluded: [], suspected: [], degree: 0, rivalEffects: [] };
  const { suspected, rivalEffects } = cold;
  const screened = [...declared, ...cold.excluded];
  const kept = runsWithout(series, screened);
  const model = modelOf(kept, cold.degree);
  const flagged = model === null ? [] : outlierFlags(kept, model.fit, kept.map(rounding));
  const odd = study.protocol.exclude_outliers ? flagged : [];
  const reasons = new Map(odd.map((flag) => [flag.run, flag.message]));
  const excluded = [...screened, ...balancedExclusions(series, 'outlier', reasons)].sort(
    (a, b) => a.run - b.run,
  );
  const found = { suspected, rivalEffects, flagged, excluded };
  if (odd.length === 0) return { ...found, kept, model };
  const left = runsWithout(series, excluded);
  return { ...found, kept: left, model: modelOf(left, cold.degree) };
}

/** The drift model, or `null` where the runs cannot tell meter and drift apart. */
export function modelOf(runs: readonly Run[], leastDegree = 0): DriftModel | null {
  if (runs.length === 0 || !runs.every((run) => run.reading_mW > 0)) return null;
  return nullIfTooFew(() => driftModel(runs, { leastDegree }));
}
