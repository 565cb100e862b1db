/** The factor of one series with an interval that covers every explanation the runs leave open. */

import type { Steps } from '../readings/displayStep.js';
import type { Series, SeriesFactor } from '../vocabulary.js';
import { runsWithout } from './balanced.js';
import { type FactorSettings, modelOf, type Screened, screenSeries } from './screenSeries.js';
import { type FactorParts, seriesFactor } from './seriesFactor.js';

export const NO_FACTOR: SeriesFactor = {
  value: null,
  relative_standard_uncertainty: null,
  dof: null,
  low: null,
  high: null,
};

/** The factor of one series with its interval, after screening. */
export function estimateFactor(
  series: Series,
  study: FactorSettings,
  steps: Steps,
): {
  readonly factor: SeriesFactor;
  readonly parts: FactorParts | null;
  readonly screened: Screened;
} {
  const screened = screenSeries(series, study, steps);
  const { model } = screened;
  const parts = model === null ? null : seriesFactor(model, steps, study.confidence);
  const factor = withDoubts(parts?.factor ?? NO_FACTOR, otherEffects(series, screened));
  return { factor, parts, screened };
}

/**
 * Meter effects of the other explanations that the runs leave open: without a first lap that looks
 * cold, but not beyond doubt; with a curved drift in place of a cold start.
 */
function otherEffects(series: Series, screened: Screened): readonly number[] {
  const { excluded, suspected, rivalEffects, model } = screened;
  if (suspected.length === 0) return rivalEffects;
  // What the whole series shows of its drift still holds when a lap is taken away.
  const without = modelOf(
    runsWithout(series, [...excluded, ...suspected]),
    model?.evidentDegree ?? 0,
  );
  return without === null ? rivalEffects : [...rivalEffects, without.effect];
}

/** The interval stretched until it holds the factor under the other explanations as well. */
function withDoubts(factor: SeriesFactor, effects: readonly number[]): SeriesFactor {
  const { value, low, high, relative_standard_uncertainty: u } = factor;
  if (effects.length === 0 || value === null || low === null || high === null) return factor;
  // Shifted by what the other explanation moves the factor, not joined with its own interval: a
  // shorter series has a wide one because it has a lap less, which says nothing about the lap.
  const shifts = effects.map((effect) => Math.exp(-effect) / value);
  const stretched = {
    low: low * Math.min(1, ...shifts),
    high: high * Math.max(1, ...shifts),
  };
  // The standard uncertainty that a t interval of the same width would have.
  const widened = Math.log(stretched.high / stretched.low) / Math.log(high / low);
  return {
    ...factor,
    ...stretched,
    relative_standard_uncertainty: u === null || !Number.isFinite(widened) ? u : u * widened,
  };
}

/** What the interval had to be stretched for. */
export function doubts({ suspected, rivalEffects, excluded }: Screened): string[] {
  const [first] = suspected;
  const cold = excluded.find((exclusion) => exclusion.kind === 'cold-start');
  return [
    ...(first === undefined
      ? []
      : [
          `Run ${first.run} may be a cold start (${first.reason}); it is kept, and the interval covers the factor with and without it.`,
        ]),
    ...(rivalEffects.length === 0 || cold === undefined
      ? []
      : [
          `Run ${cold.run} is left out as a cold start, but a source that settles in a curve could look the same; the interval covers the factor of both.`,
        ]),
  ];
}
