/**
 * What does a first-order sensor show some time after switch-on, while the source itself falls?
 *
 * The source gives 1 − `fall_per_s` × t of its first power from t = 0 on; the sensor follows with
 * its time constant. Solution of τ·V′ + V = 1 − β·t with V(0) = 0. Returns V as a fraction of the
 * power at switch-on; with a time constant of zero that is the source itself.
 *
 * Source: the differential equation above, solved here.
 */
export function laggedResponse(options: {
  /** Time since switch-on in s, zero or more. */
  readonly time_s: number;
  /** Time constant of the sensor in s, zero or more. */
  readonly time_constant_s: number;
  /** Relative fall of the source per s of its power at switch-on. */
  readonly fall_per_s: number;
}): number {
  const { time_s, time_constant_s, fall_per_s } = options;
  if (time_constant_s === 0) return 1 - fall_per_s * time_s;
  const settled = 1 - Math.exp(-time_s / time_constant_s);
  return settled - fall_per_s * (time_s - time_constant_s * settled);
}
