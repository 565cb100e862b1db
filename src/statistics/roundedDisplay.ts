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

const TERMS = 20;

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
  // What the harmonics above leave of Σ 1/(2π²k²) = 1/12, so that no scatter gives 1/√12.
  let rest = 1 / 12;
  let sum = 0;
  const dampingOf = (k: number) => Math.exp(-4 * Math.PI ** 2 * k * k * scatter * scatter);
  for (let k = 1; k <= TERMS; k++) {
    const share = 1 / (2 * Math.PI ** 2 * k * k);
    rest -= share;
    sum += share * dampingOf(k) * (spread?.[k - 1] ?? 1) ** 2;
  }
  sum += rest * dampingOf(TERMS + 1) * (spread?.[TERMS - 1] ?? 1) ** 2;
  return Math.sqrt(sum);
}

/** |Σ wᵢ exp(2πi k xᵢ)| for the harmonics that `lastingRounding` sums. Levels in steps. */
export function phaseSpread(levels: readonly number[], weights: readonly number[]): number[] {
  const total = weights.reduce((sum, w) => sum + w, 0);
  return Array.from({ length: TERMS }, (_, index) => {
    let re = 0;
    let im = 0;
    levels.forEach((level, i) => {
      const angle = 2 * Math.PI * (index + 1) * level;
      re += (weights[i] / total) * Math.cos(angle);
      im += (weights[i] / total) * Math.sin(angle);
    });
    return Math.min(1, Math.hypot(re, im));
  });
}

/**
 * Scatter before rounding that explains an observed variance of rounded readings, both in steps.
 * Averaged over phases the observed variance is σ² + 1/12 − lasting²(σ), which grows from 0 with σ.
 */
export function scatterBeforeRounding(observedVariance: number): number {
  if (observedVariance <= 0) return 0;
  let low = 0;
  let high = Math.sqrt(observedVariance);
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    const expected = middle * middle + 1 / 12 - lastingRounding(middle) ** 2;
    if (expected < observedVariance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
