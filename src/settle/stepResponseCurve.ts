import type { Curve } from './nonlinearProblem.js';

/** Order of the parameters of the step response. */
export const SETTLED = 0;
export const TIME_CONSTANT = 1;
export const ONSET = 2;
export const DRIFT = 3;

/**
 * Reading of a first-order sensor when the source is switched on at `onset` and then changes by the
 * fraction `drift` per second: P∞ [(1 − dτ)(1 − e^(−s/τ)) + d s], s = t − onset; 0 before. With d = 0
 * it is P∞ (1 − e^(−s/τ)). On a slow ramp the sensor follows τ behind, hence the term dτ.
 */
export const stepResponseCurve: Curve = {
  value: ([settled, tau, onset, drift], t) => {
    const s = t - onset;
    if (!(s > 0)) return 0;
    return settled * ((1 - drift * tau) * -Math.expm1(-s / tau) + drift * s);
  },
  gradient: ([settled, tau, onset, drift], t) => {
    const s = t - onset;
    if (!(s > 0)) return [0, 0, 0, 0];
    const left = Math.exp(-s / tau);
    const risen = -Math.expm1(-s / tau);
    return [
      (1 - drift * tau) * risen + drift * s,
      settled * (-drift * risen - ((1 - drift * tau) * left * s) / tau ** 2),
      -settled * (((1 - drift * tau) * left) / tau + drift),
      settled * (s - tau * risen),
    ];
  },
};
