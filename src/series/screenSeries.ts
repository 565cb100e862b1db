/** What of a series is left out, what is suspected, and the drift model of what is kept. */

import { nullIfTooFew } from '../error.js';
import type { Steps } from '../readings/displayStep.js';
import { METERS, runsOn } from '../record/meters.js';
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
  const found = { suspected, rivalEffects, flagged };
  if (!study.protocol.exclude_outliers || flagged.length === 0) {
    return { ...found, excluded: inOrder(screened), kept, model };
  }
  const reasons = new Map(flagged.map((flag) => [flag.run, flag.message]));
  const out = new Set(screened.map((exclusion) => exclusion.run));
  const outliers = balancedExclusions(series, 'outlier', reasons).filter(
    (exclusion) => !out.has(exclusion.run),
  );
  const excluded = inOrder([...screened, ...outliers]);
  const left = runsWithout(series, excluded);
  return { ...found, excluded, kept: left, model: modelOf(left, cold.degree) };
}

function inOrder(exclusions: readonly Exclusion[]): Exclusion[] {
  return [...exclusions].sort((a, b) => a.run - b.run);
}

/** The drift model, or `null` where the runs cannot tell meter and drift apart. */
export function modelOf(runs: readonly Run[], leastDegree = 0): DriftModel | null {
  const usable = runs.every((run) => run.reading_mW > 0);
  if (!usable || METERS.some((meter) => runsOn(runs, meter).length === 0)) return null;
  return nullIfTooFew(() => driftModel(runs, { leastDegree }));
}
