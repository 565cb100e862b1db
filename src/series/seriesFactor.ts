/** The factor of one series relative to this reference, with its interval. */

import type { Steps } from '../readings/displayStep.js';
import { eachMeter, runsOn } from '../record/meters.js';
import type { Part } from '../statistics/combineIndependent.js';
import { coverageFactor } from '../statistics/distributions.js';
import {
  lastingRounding,
  phaseSpread,
  scatterBeforeRounding,
} from '../statistics/roundedDisplay.js';
import { studentPlusRectangular } from '../statistics/studentPlusRectangular.js';
import { KNOWN_EXACTLY, type MeterRole, type SeriesFactor } from '../vocabulary.js';
import { bracketedEffect } from './bracketed.js';
import { type DriftModel, effectUncertainty, effectWeights } from './driftModel.js';

/** A rounding part below this is the noise of the arithmetic. */
const NEGLIGIBLE = 1e-9;

/** An interval that reaches beyond this factor either way says nothing (and may not be finite). */
export const WIDEST_FACTOR = 1000;

export interface FactorParts {
  readonly factor: SeriesFactor;
  /** Relative standard uncertainty and dof of the scatter part alone. */
  readonly scatter: Part;
  /** Relative standard uncertainty that each display's step leaves in the factor. */
  readonly rounding: { readonly reference: number; readonly candidate: number };
}

/**
 * K = exp(−effect) with the interval from the scatter of both meters (their own variances,
 * Satterthwaite's degrees of freedom) and from the rounding that does not average out.
 *
 * Where a display shows two neighbouring numbers and nothing else, the truth may lie at the edge
 * between them, and the interval reaches that far at least.
 *
 * The interval is symmetric on the log scale. Repeatability, drift and order only: nothing of the
 * reference's calibration.
 *
 * @returns `null` where the interval would reach beyond a factor of `WIDEST_FACTOR` either way, as
 *   with a display step far above the readings
 */
export function seriesFactor(
  model: DriftModel,
  steps: Steps,
  confidence: number,
): FactorParts | null {
  const scatter = effectUncertainty(model);
  const lasting = eachMeter((meter) => lastingPart(model, meter, steps[meter]));
  const edge = eachMeter((meter) => edgeDistance(model, meter, steps[meter]));
  const rectangular = Math.hypot(lasting.reference, lasting.candidate);
  const u = scatter.standardUncertainty;
  const joined = studentPlusRectangular({
    standardUncertainty: u,
    dof: scatter.dof,
    rectangular,
    confidence,
  });
  const half = Math.max(joined, Math.hypot(edge.reference, edge.candidate));
  if (!(half <= Math.log(WIDEST_FACTOR))) return null;
  const combined = Math.hypot(u, rectangular) * (half > joined ? half / joined : 1);
  return {
    factor: factorOf(model.effect, half, {
      standardUncertainty: combined,
      dof: u > 0 ? Math.min(KNOWN_EXACTLY, scatter.dof * (combined / u) ** 4) : KNOWN_EXACTLY,
    }),
    scatter,
    // In a budget the way to the edge counts as the half-width of a rectangle.
    rounding: eachMeter((meter) => Math.max(lasting[meter], edge[meter] / Math.sqrt(3))),
  };
}

/** The same factor by bracketing (a second road; no rounding part). */
export function bracketedFactor(model: DriftModel, confidence: number): SeriesFactor | null {
  const bracketed = bracketedEffect(model);
  if (bracketed === null) return null;
  const half = coverageFactor(confidence, bracketed.dof) * bracketed.standardUncertainty;
  if (!(half <= Math.log(WIDEST_FACTOR))) return null;
  return factorOf(bracketed.effect, half, bracketed);
}

/** K of a meter effect, with an interval that reaches so far either way on the log scale. */
function factorOf(effect: number, half: number, { standardUncertainty, dof }: Part): SeriesFactor {
  const value = Math.exp(-effect);
  return {
    value,
    relative_standard_uncertainty: standardUncertainty,
    dof,
    low: value * Math.exp(-half),
    high: value * Math.exp(half),
  };
}

/**
 * Relative standard uncertainty left by a display's step: the part that does not average out, for the scatter and the
 * drift that these runs have.
 */
function lastingPart(model: DriftModel, meter: MeterRole, step_mW: number | null): number {
  if (step_mW === null) return 0;
  const weights = effectWeights(model);
  const group = meter === 'reference' ? 0 : 1;
  const levels: number[] = [];
  const own: number[] = [];
  model.runs.forEach((run, i) => {
    if (run.meter !== meter) return;
    levels.push(Math.exp(model.fit.fitted[i]) / (step_mW * run.scale));
    own.push(weights[i]);
  });
  const level = levels.reduce((sum, x) => sum + x, 0) / levels.length;
  const scatter = scatterBeforeRounding(model.fit.variances[group] * level * level);
  const relative = lastingRounding(scatter, phaseSpread(levels, own)) / level;
  return relative < NEGLIGIBLE ? 0 : relative;
}

/**
 * How far the mean of a meter's readings lies from the edge between the only two numbers that its
 * display showed, as a fraction of the readings; 0 where it showed more, or one alone.
 *
 * One reading in ten that jumps to the next number may come from noise, or from a steady power just
 * short of the edge. The scatter of the readings cannot tell these apart: it looks the same.
 */
function edgeDistance(model: DriftModel, meter: MeterRole, step_mW: number | null): number {
  if (step_mW === null) return 0;
  const readings = runsOn(model.runs, meter)
    .map((run) => run.reading_mW / run.scale)
    .sort((a, b) => a - b);
  const [low, high] = [readings[0], readings[readings.length - 1]];
  const neighbours = Math.abs(high - low - step_mW) < 1e-6 * step_mW;
  const between = readings.some(
    (reading) => Math.min(reading - low, high - reading) > 1e-6 * step_mW,
  );
  if (!neighbours || between) return 0;
  const mean = readings.reduce((sum, reading) => sum + reading, 0) / readings.length;
  return Math.abs(mean - (low + high) / 2) / mean;
}
