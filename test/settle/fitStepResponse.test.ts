import { describe, expect, test } from 'vitest';
import { combineTimeConstants } from '../../src/settle/combineTimeConstants.js';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { meanDrift } from '../../src/settle/meanDrift.js';
import type { StepResponse } from '../../src/settle/stepResponse.js';
import { near, nearly } from '../near.js';
import { fromR } from '../power/lines/fixtures.js';
import { anticipatingTrace, simulatedTrace } from './bench.js';

function fitted(response: StepResponse) {
  if (response.status !== 'fitted') throw new Error(`${response.reason}: ${response.why}`);
  return response;
}

describe('against nls of R (test/fixtures/lines.R)', () => {
  const trace = {
    elapsed_s: [0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20],
    reading_mW: [
      15.9, 28.1, 40.2, 48.0, 56.9, 63.1, 73.2, 80.9, 86.4, 89.3, 92.2, 95.0, 96.1, 96.7, 96.0,
      95.9, 95.1,
    ],
  };
  // nls stops at 1e-7 of its own measure; its profile is interpolated by a spline, hence 1e-3 of u

  test('plain step: estimates, uncertainties and profile intervals', () => {
    const [p, tau, up, utau, s, tauLow, tauHigh, pLow, pHigh] = fromR.step;
    const fit = fitted(fitStepResponse(trace));
    nearly(fit.settled_mW.value, p, 1e-8);
    nearly(fit.time_constant_s.value, tau, 1e-7);
    nearly(fit.settled_mW.standard_uncertainty, up, 1e-5);
    nearly(fit.time_constant_s.standard_uncertainty, utau, 1e-5);
    nearly(fit.residual_sd_mW, s, 1e-8);
    near(fit.time_constant_s.interval[0], tauLow, 1e-3 * utau);
    near(fit.time_constant_s.interval[1], tauHigh, 1e-3 * utau);
    near(fit.settled_mW.interval[0], pLow, 1e-3 * up);
    near(fit.settled_mW.interval[1], pHigh, 1e-3 * up);
  });

  test('with a drift of the source', () => {
    const [p, tau, d, up, utau, ud, s, tauLow, tauHigh, pLow, pHigh] = fromR.stepWithDrift;
    const fit = fitted(fitStepResponse(trace, { drift: true }));
    nearly(fit.settled_mW.value, p, 1e-7);
    nearly(fit.time_constant_s.value, tau, 1e-7);
    nearly(fit.relative_drift_per_s?.value, d, 1e-6);
    nearly(fit.settled_mW.standard_uncertainty, up, 1e-5);
    nearly(fit.time_constant_s.standard_uncertainty, utau, 1e-5);
    nearly(fit.relative_drift_per_s?.standard_uncertainty, ud, 1e-5);
    nearly(fit.residual_sd_mW, s, 1e-8);
    near(fit.time_constant_s.interval[0], tauLow, 1e-3 * utau);
    near(fit.time_constant_s.interval[1], tauHigh, 1e-3 * utau);
    near(fit.settled_mW.interval[0], pLow, 1e-3 * up);
    near(fit.settled_mW.interval[1], pHigh, 1e-3 * up);
  });

  test('with a fitted onset', () => {
    const [p, tau, onset, up, utau, uonset] = fromR.stepWithOnset;
    const fit = fitted(fitStepResponse(trace, { onset_s: 'fitted' }));
    nearly(fit.settled_mW.value, p, 1e-7);
    nearly(fit.time_constant_s.value, tau, 1e-7);
    nearly(fit.onset_s.value, onset, 1e-5);
    nearly(fit.settled_mW.standard_uncertainty, up, 1e-5);
    nearly(fit.time_constant_s.standard_uncertainty, utau, 1e-5);
    nearly(fit.onset_s.standard_uncertainty, uonset, 1e-5);
  });
});

describe('properties', () => {
  test('a trace without noise gives back what made it', () => {
    const fit = fitted(
      fitStepResponse(
        simulatedTrace({ seed: 1, sd_mW: 0, onset_s: 1.3, drift_per_s: -0.004, length_s: 25 }),
        { onset_s: 'fitted', drift: true },
      ),
    );
    nearly(fit.time_constant_s.value, 3, 1e-6);
    nearly(fit.settled_mW.value, 100, 1e-6);
    nearly(fit.onset_s.value, 1.3, 1e-6);
    nearly(fit.relative_drift_per_s?.value, -0.004, 1e-6);
    expect(JSON.stringify(fit)).not.toMatch(/NaN|Infinity/);
  });

  test.each([
    ['five time constants', {}, {}],
    ['two time constants', { length_s: 6 }, {}],
    ['few and noisy readings', { readings: 15, length_s: 12, sd_mW: 5 }, {}],
    ['a drifting source', { length_s: 20, drift_per_s: -0.003, sd_mW: 0.5 }, { drift: true }],
    ['an unknown onset', { length_s: 20, onset_s: 1.3 }, { onset_s: 'fitted' as const }],
  ])('intervals hold their 95 % over %s', (_, bench, options) => {
    // 250 traces; four binomial standard errors are 5.5 %
    const trials = 250;
    let tau = 0;
    let level = 0;
    for (let seed = 0; seed < trials; seed++) {
      const fit = fitted(fitStepResponse(simulatedTrace({ ...bench, seed }), options));
      const [low, high] = fit.time_constant_s.interval;
      if (low <= 3 && 3 <= high) tau++;
      const [pLow, pHigh] = fit.settled_mW.interval;
      if (pLow <= 100 && 100 <= pHigh) level++;
    }
    near(tau / trials, 0.95, 0.055);
    near(level / trials, 0.95, 0.055);
  });

  test('power and time may be in any unit', () => {
    const trace = simulatedTrace({ seed: 5 });
    const one = fitted(fitStepResponse(trace));
    const other = fitted(
      fitStepResponse({
        elapsed_s: trace.elapsed_s.map((t) => t * 60),
        reading_mW: trace.reading_mW.map((p) => p / 1000),
      }),
    );
    nearly(other.time_constant_s.value, 60 * one.time_constant_s.value, 1e-8);
    nearly(other.settled_mW.value, one.settled_mW.value / 1000, 1e-8);
    nearly(other.time_constant_s.interval[1], 60 * one.time_constant_s.interval[1], 1e-5);
  });

  test('several traces combine with what differs between them', () => {
    const fits = [2.8, 3, 3.3].map((tau_s, seed) =>
      fitStepResponse(simulatedTrace({ seed, tau_s, sd_mW: 0.01 })),
    );
    const combined = combineTimeConstants([
      ...fits,
      fitStepResponse({ elapsed_s: [], reading_mW: [] }),
    ]);
    // Mean 3.0333, s = 0.2517, s/√3 = 0.1453
    near(combined.value_s, 3.0333, 0.002);
    near(combined.standard_uncertainty_s, 0.1453, 0.002);
    expect(combined).toMatchObject({ dof: 2, traces: 3 });
    expect(combined.why).toMatch(/1 of 4/);
    expect(combineTimeConstants([])).toMatchObject({ value_s: null, traces: 0 });
  });
});

describe('awkward input', () => {
  test('a trace of one time constant is refused as too short, of two it is not', () => {
    const short = fitStepResponse(simulatedTrace({ seed: 2, length_s: 3, sd_mW: 0.2 }));
    expect(short).toMatchObject({ status: 'refused', reason: 'too-short' });
    expect(fitStepResponse(simulatedTrace({ seed: 2, length_s: 6, sd_mW: 0.2 })).status).toBe(
      'fitted',
    );
  });

  test('a short and noisy trace does not bound the time constant and says so', () => {
    const straight = fitStepResponse({
      elapsed_s: [1, 2, 3, 4, 5, 6, 7, 8],
      reading_mW: [1.1, 1.9, 3.05, 3.96, 5.02, 6.1, 6.9, 8.0],
    });
    expect(straight).toMatchObject({ status: 'refused', reason: 'too-short' });
  });

  test('a rise that was over before the first reading is refused, with an upper bound', () => {
    const late = fitStepResponse(simulatedTrace({ seed: 3, tau_s: 0.02, sd_mW: 0.5 }));
    expect(late).toMatchObject({ status: 'refused', reason: 'rise-not-sampled' });
    if (late.status !== 'refused') return;
    expect(late.time_constant_bounds_s[0]).toBeNull();
    expect(late.time_constant_bounds_s[1]).toBeGreaterThan(0.02);
    expect(late.time_constant_bounds_s[1]).toBeLessThan(0.4);
  });

  test('an overshoot is refused: the model does not hold', () => {
    expect(fitStepResponse(anticipatingTrace(4))).toMatchObject({
      status: 'refused',
      reason: 'overshoot',
    });
  });

  test.each([
    ['no reading', [], []],
    ['four readings', [1, 2, 3, 4], [1, 2, 2.5, 2.8]],
    ['only readings before switch-on', [-5, -4, -3, -2, -1], [0, 0, 0, 0, 0]],
  ])('%s: too few', (_, elapsed_s, reading_mW) => {
    expect(fitStepResponse({ elapsed_s, reading_mW })).toMatchObject({
      status: 'refused',
      reason: 'too-few-readings',
    });
  });

  test.each([
    ['all zero', [0, 0, 0, 0, 0, 0, 0, 0]],
    ['all negative', [-1, -2, -3, -2, -1, -2, -3, -2]],
  ])('readings %s do not rise', (_, reading_mW) => {
    expect(fitStepResponse({ elapsed_s: [1, 2, 3, 4, 5, 6, 7, 8], reading_mW })).toMatchObject({
      status: 'refused',
      reason: 'no-rise',
    });
  });

  test('a rise of one step of the display, or all of it below 0, is none', () => {
    const of = (reading: (t: number) => number) => {
      const elapsed_s = Array.from({ length: 13 }, (_, i) => i + 1);
      return fitStepResponse(
        { elapsed_s, reading_mW: elapsed_s.map(reading) },
        { resolution_mW: 0.1 },
      );
    };
    const refused = { status: 'refused', reason: 'no-rise', why: 'The reading does not rise.' };
    expect(of((t) => (t < 4 ? 0 : 0.1))).toMatchObject(refused);
    expect(of((t) => -1 / t)).toMatchObject(refused);
    expect(of((t) => 5 - 5 * Math.exp(-t / 2)).status).toBe('fitted');
  });

  test('a falling trace is not given a time constant', () => {
    const falling = fitStepResponse({
      elapsed_s: [1, 2, 3, 4, 5, 6, 7, 8],
      reading_mW: [9, 8.1, 7.2, 6, 5.1, 4, 3, 2],
    });
    expect(falling.status).toBe('refused');
  });

  test.each([
    ['times that go back', [1, 3, 2, 4, 5, 6], [1, 2, 3, 4, 5, 6]],
    ['unequal lengths', [1, 2, 3, 4, 5, 6], [1, 2]],
    ['a reading that is no number', [1, 2, 3, 4, 5, 6], [1, 2, Number.NaN, 4, 5, 6]],
  ])('%s: an error', (_, elapsed_s, reading_mW) => {
    expect(() => fitStepResponse({ elapsed_s, reading_mW })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('a display in coarse steps sets the floor of the residual standard deviation', () => {
    const trace = simulatedTrace({ seed: 6, sd_mW: 0, resolution_mW: 0.001, level_mW: 10 });
    const fit = fitted(fitStepResponse(trace, { resolution_mW: 1 }));
    nearly(fit.residual_sd_mW, 1 / Math.sqrt(12), 1e-12);
  });

  test('a drifting source fitted without drift shows in the correlation of the residuals', () => {
    const trace = simulatedTrace({ seed: 7, length_s: 30, drift_per_s: -0.006, sd_mW: 0.3 });
    const codes = fitted(fitStepResponse(trace)).warnings.map((warning) => warning.code);
    expect(codes).toContain('residuals-correlated');
    expect(fitted(fitStepResponse(trace, { drift: true })).warnings).toEqual([]);
  });
});

describe('the drift of a source over several traces', () => {
  const drifting = (drift_per_s: number, seed: number) =>
    fitStepResponse(simulatedTrace({ seed, length_s: 60, drift_per_s, sd_mW: 0.05 }), {
      drift: true,
    });

  test('traces that differ by more than their own uncertainties show it', () => {
    const fits = [-0.001, -0.002, -0.003].map((drift, i) => drifting(drift, 40 + i));
    const found = meanDrift(fits)!;
    nearly(found.value, -0.002, 0.01);
    // s = 0.001, so s/√3 = 5.8e-4 (JCGM 100:2008, 4.2.3)
    nearly(found.standardUncertainty, 0.001 / Math.sqrt(3), 0.05);
  });

  test('one trace has its own, and none gives nothing', () => {
    const fit = fitted(drifting(-0.002, 44));
    expect(meanDrift([fit])).toMatchObject({
      value: fit.relative_drift_per_s!.value,
      standardUncertainty: fit.relative_drift_per_s!.standard_uncertainty,
    });
    expect(meanDrift([])).toBeNull();
  });
});
