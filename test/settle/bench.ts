import { seededRandom } from '../../src/statistics/random.js';

/** An invented trace: first-order sensor, onset, drift of the source, noise and display steps. */
export function simulatedTrace(options: {
  readonly seed: number;
  readonly readings?: number;
  readonly length_s?: number;
  readonly level_mW?: number;
  readonly tau_s?: number;
  readonly onset_s?: number;
  readonly drift_per_s?: number;
  readonly sd_mW?: number;
  readonly resolution_mW?: number;
}) {
  const random = seededRandom(options.seed);
  const n = options.readings ?? 40;
  const length = options.length_s ?? 15;
  const level = options.level_mW ?? 100;
  const tau = options.tau_s ?? 3;
  const onset = options.onset_s ?? 0;
  const d = options.drift_per_s ?? 0;
  const step = options.resolution_mW ?? 0;
  const elapsed_s = Array.from({ length: n }, (_, i) => ((i + 1) * length) / n);
  const reading_mW = elapsed_s.map((t) => {
    const s = Math.max(0, t - onset);
    // Response of dP/dt = (source − P)/τ to source = level (1 + d s), integrated by hand
    const ideal = level * (1 - Math.exp(-s / tau) + d * (s - tau * (1 - Math.exp(-s / tau))));
    const noisy = ideal + (options.sd_mW ?? 1) * random.normal();
    return step > 0 ? Math.round(noisy / step) * step : noisy;
  });
  return { elapsed_s, reading_mW };
}

/** An invented trace of a meter that anticipates: underdamped, with noise of 0.5 % of the level. */
export function anticipatingTrace(seed: number) {
  const random = seededRandom(seed);
  const elapsed_s = Array.from({ length: 60 }, (_, i) => (i + 1) / 4);
  const reading_mW = elapsed_s.map(
    (t) => 100 * (1 - Math.exp(-t / 1.2) * Math.cos(1.3 * t)) + 0.5 * random.normal(),
  );
  return { elapsed_s, reading_mW };
}
