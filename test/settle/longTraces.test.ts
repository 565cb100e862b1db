import { describe, expect, test } from 'vitest';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import type { StepResponse } from '../../src/settle/stepResponse.js';
import { thinnedTrace } from '../../src/settle/thinnedTrace.js';
import { seededRandom } from '../../src/statistics/random.js';
import { nearly } from '../near.js';

const TRUE = { tau: 2, onset: 1.3, settled: 80, drift: -0.0005 };

function trace(count: number, start = 0) {
  const random = seededRandom(count);
  const elapsed_s = Array.from({ length: count }, (_, i) => start + (60 * i) / (count - 1));
  const reading_mW = elapsed_s.map((time) => {
    const s = time - start - TRUE.onset;
    const risen = -Math.expm1(-s / TRUE.tau);
    const power = s > 0 ? TRUE.settled * ((1 - TRUE.drift * TRUE.tau) * risen + TRUE.drift * s) : 0;
    return power + 0.05 * random.normal();
  });
  return { elapsed_s, reading_mW };
}

function fitted(response: StepResponse) {
  if (response.status !== 'fitted') throw new Error(response.why);
  return response;
}

const FITTED = { onset_s: 'fitted', drift: true } as const;

describe('a long trace', () => {
  test('is thinned, and no reading is lost', () => {
    const thin = thinnedTrace(trace(20_000))!;
    expect(thin.counts.length).toBeLessThan(1500);
    expect(thin.counts.reduce((sum, one) => sum + one, 0)).toBe(20_000);
  });

  // scipy.optimize.curve_fit of such traces agrees to all digits that it gives: npm run bench.
  test('has the interval that its uncertainty asks for, about an estimate of all readings', () => {
    const { time_constant_s: tau } = fitted(fitStepResponse(trace(20_000), FITTED));
    const [low, high] = tau.interval;
    // On so many readings the profile is as good as straight: value ± 1.96 u.
    nearly(high - low, 2 * 1.95996 * tau.standard_uncertainty, 1e-3);
    expect(Math.abs(tau.value - TRUE.tau)).toBeLessThan(4 * tau.standard_uncertainty);
  });

  test('of 200 000 readings is settled', () => {
    const fit = fitted(fitStepResponse(trace(200_000), FITTED));
    expect(fit.readings).toBe(200_000);
    expect(Math.abs(fit.onset_s.value - TRUE.onset)).toBeLessThan(2e-4);
  });

  test('with the times of a clock gives the time constant of the same trace from zero', () => {
    const one = fitted(fitStepResponse(trace(300), FITTED));
    const other = fitted(fitStepResponse(trace(300, 1.75e9), FITTED));
    nearly(other.time_constant_s.value, one.time_constant_s.value, 1e-5);
    nearly(other.onset_s.value - 1.75e9, one.onset_s.value, 1e-5);
  });
});

test('times to the whole second, several readings in each', () => {
  const { elapsed_s, reading_mW } = trace(240);
  const fit = fitted(fitStepResponse({ elapsed_s: elapsed_s.map(Math.floor), reading_mW }, FITTED));
  // Every time is up to a second early: the onset takes that up, the time constant hardly.
  expect(Math.abs(fit.time_constant_s.value - TRUE.tau)).toBeLessThan(0.2);
});

test('a trace that rises ever faster is refused, not a failure of the solver', () => {
  const elapsed_s = Array.from({ length: 40 }, (_, i) => i);
  const fit = fitStepResponse(
    { elapsed_s, reading_mW: elapsed_s.map((t) => Math.exp(t / 2)) },
    FITTED,
  );
  expect(fit).toMatchObject({ status: 'refused', reason: 'no-fit' });
});

test('all readings at one time are refused', () => {
  const fit = fitStepResponse({ elapsed_s: Array(20).fill(3), reading_mW: Array(20).fill(5) });
  expect(fit).toMatchObject({ status: 'refused', reason: 'too-short' });
});
