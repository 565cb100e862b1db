/**
 * What the step of a display leaves in a mean of readings.
 *
 * A reading rounded to a step d carries an error between −d/2 and +d/2. Where the signal scatters or
 * drifts over several steps, that error differs from run to run and averages out like noise. Where
 * it does not, every run is rounded the same way, and the mean stays wrong by up to d/2 however many
 * runs there are. The expectation of the rounding error of a signal x with normal scatter σ is the
 * Fourier series Σₖ (−1)ᵏ d/(πk) exp(−2π²k²σ²/d²) sin(2πkx/d) (Widrow, Kollár and Liu 1996,
 * statistical theory of quantization); its mean square over all phases x is what is computed here.
 */

import { bracketedRoot } from './bracketedRoot.js';

const TERMS = 20;
/** A damping below this changes no digit. */
const NOTHING = 1e-18;

/** Standard uncertainty of one reading rounded to a display step: d/√12 (JCGM 100:2008, F.2.2.1). */
export function stepUncertainty(step: number): number {
  return step / Math.sqrt(12);
}

/**
 * Root mean square, in steps, of the part of the rounding error that does not average out.
 *
 * @param scatter standard deviation of a single reading before rounding, in steps
 * @param spread per harmonic k = 1, 2, …, how far the signal levels of the averaged readings keep
 *   the same phase: |Σ wᵢ exp(2πi k xᵢ)|, from 1 (all the same level) to 0; 1 when left out
 */
export function lastingRounding(scatter: number, spread?: readonly number[]): number {
  // exp(−4π²k²σ²) from one k to the next: the exponents grow by odd multiples of the first.
  const once = Math.exp(-4 * Math.PI ** 2 * scatter * scatter);
  let damping = once;
  let ratio = once;
  // What the harmonics above leave of Σ 1/(2π²k²) = 1/12, so that no scatter gives 1/√12.
  let rest = 1 / 12;
  let sum = 0;
  for (let k = 1; k <= TERMS && damping > NOTHING; k++) {
    const share = 1 / (2 * Math.PI ** 2 * k * k);
    rest -= share;
    sum += share * damping * (spread?.[k - 1] ?? 1) ** 2;
    ratio *= once * once;
    damping *= ratio;
  }
  sum += rest * damping * (spread?.[TERMS - 1] ?? 1) ** 2;
  return Math.sqrt(sum);
}

/** |Σ wᵢ exp(2πi k xᵢ)| for the harmonics that `lastingRounding` sums. Levels in steps. */
export function phaseSpread(levels: readonly number[], weights: readonly number[]): number[] {
  const total = weights.reduce((sum, w) => sum + w, 0);
  const re = new Float64Array(TERMS);
  const im = new Float64Array(TERMS);
  for (let i = 0; i < levels.length; i++) {
    const cos = Math.cos(2 * Math.PI * levels[i]);
    const sin = Math.sin(2 * Math.PI * levels[i]);
    let x = weights[i] / total;
    let y = 0;
    // From one harmonic to the next the phase turns on by the same angle.
    for (let k = 0; k < TERMS; k++) {
      const turned = x * cos - y * sin;
      y = x * sin + y * cos;
      x = turned;
      re[k] += x;
      im[k] += y;
    }
  }
  return Array.from(re, (one, k) => Math.min(1, Math.sqrt(one ** 2 + im[k] ** 2)));
}

/**
 * Scatter before rounding that explains an observed variance of rounded readings, both in steps.
 * Averaged over phases the observed variance is σ² + 1/12 − lasting²(σ), which grows from 0 with σ.
 */
export function scatterBeforeRounding(observedVariance: number): number {
  if (observedVariance <= 0) return 0;
  const excess = (sd: number) => sd * sd + 1 / 12 - lastingRounding(sd) ** 2 - observedVariance;
  return bracketedRoot(excess, 0, Math.sqrt(observedVariance));
}
