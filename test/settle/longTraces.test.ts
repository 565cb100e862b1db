import { describe, expect, test } from 'vitest';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { gaussNewton } from '../../src/settle/gaussNewton.js';
import type { StepResponse } from '../../src/settle/stepResponse.js';
import { stepResponseCurve } from '../../src/settle/stepResponseCurve.js';
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

  /** Each mean with the places of its readings. */
  const groupsOf = (counts: readonly number[]) => {
    let to = 0;
    return counts.map((count) => {
      to += count;
      return [to - count, to] as const;
    });
  };

  /** Widths as the method says: a hundredth of τ, e times as wide every 4 τ, at most a 200th of the trace. */
  const widthAt = (s: number, tau: number, length: number) =>
    Math.min(length / 200, 0.01 * tau * Math.exp(s / tau / 4));

  test.each([
    ['of a known rise', { onset_s: 1.3, time_constant_s: 2 }, 20_000],
    ['of one that begins with the trace', { onset_s: 0.02, time_constant_s: 3 }, 20_000],
    ['of a late one', { onset_s: 31, time_constant_s: 0.5 }, 7000],
  ] as const)(
    '%s: each mean is as wide as it may be, and single about the onset',
    (_, rise, count) => {
      const { elapsed_s: t, reading_mW: y } = trace(count);
      const thin = thinnedTrace({ elapsed_s: t, reading_mW: y }, rise)!;
      const single = t.findIndex((time) => time >= rise.onset_s) - 20;
      groupsOf(thin.counts).forEach(([from, to], j) => {
        const own = t.slice(from, to);
        nearly(thin.elapsed_s[j], own.reduce((sum, time) => sum + time, 0) / own.length, 1e-9);
        const readings = y.slice(from, to);
        const mean = readings.reduce((sum, reading) => sum + reading, 0) / own.length;
        expect(Math.abs(thin.reading_mW[j]! - mean)).toBeLessThan(1e-9);
        if (from >= single && from < single + 40) {
          expect(to - from).toBe(1);
          return;
        }
        const s = t[from]! - rise.onset_s;
        const end =
          s < 0
            ? Math.min(rise.onset_s, t[from]! + 60 / 200)
            : t[from]! + widthAt(s, rise.time_constant_s, 60);
        if (to - from > 1) expect(t[to - 1]).toBeLessThan(end);
        if (to < t.length && to !== single) expect(t[to]).toBeGreaterThanOrEqual(end);
      });
      expect(groupsOf(thin.counts).at(-1)![1]).toBe(count);
    },
  );

  test('at first sight: τ by the rise from 30 to 70 %, and wide means until 4 τ before it', () => {
    const count = 9000;
    const elapsed_s = Array.from({ length: count }, (_, i) => i / 100);
    // 2 s from 30 to 70 %, at 41 and at 43 s: τ = 2/0.85
    const reading_mW = elapsed_s.map((time) => Math.min(100, Math.max(0, 20 * (time - 39.5))));
    const thin = thinnedTrace({ elapsed_s, reading_mW })!;
    const tau = 2 / 0.85;
    const onset = 41 - 4 * tau;
    const length = 89.99;
    groupsOf(thin.counts).forEach(([from, to]) => {
      const s = elapsed_s[from]! - onset;
      const end =
        s < 0
          ? Math.min(onset, elapsed_s[from]! + length / 200)
          : elapsed_s[from]! + widthAt(s, tau, length);
      if (to - from > 1) expect(elapsed_s[to - 1]).toBeLessThan(end + 1e-9);
      if (to < count) expect(elapsed_s[to]).toBeGreaterThanOrEqual(end - 1e-9);
    });
    expect(groupsOf(thin.counts).at(-1)![1]).toBe(count);
  });

  test('up to 600 readings is taken as it is, and one of which nothing is won', () => {
    const quick = { onset_s: 1, time_constant_s: 0.05 };
    expect(thinnedTrace(trace(600), quick)).toBeNull();
    expect(thinnedTrace(trace(601), quick)!.counts.length).toBeLessThan(301);
    // 0.1 s apart: single until 0.04·e^(s/16) is more, at 14.7 s, in twos until 25.7 s, three and four then:
    // 147 + 55 + 21 + 93 means are more than half
    expect(thinnedTrace(trace(601), { onset_s: 0, time_constant_s: 4 })).toBeNull();
  });

  test('is fitted as all its readings are at once', () => {
    const { elapsed_s, reading_mW } = trace(3000);
    for (const [options, fixed] of [
      [FITTED, [false, false, false, false]],
      [{ onset_s: TRUE.onset }, [false, false, true, true]],
    ] as const) {
      const fit = fitted(fitStepResponse({ elapsed_s, reading_mW }, options));
      const whole = gaussNewton({
        x: elapsed_s,
        y: reading_mW,
        curve: stepResponseCurve,
        start: [TRUE.settled, TRUE.tau, TRUE.onset, fixed[3] ? 0 : TRUE.drift],
        fixed,
      });
      const sd = Math.sqrt(whole.residualSumOfSquares / whole.dof);
      const u = (j: number) => sd * Math.sqrt(whole.unscaledCovariance[j]![j]!);
      nearly(fit.residual_sd_mW, sd, 1e-10);
      for (const [one, j] of [
        [fit.settled_mW, 0],
        [fit.time_constant_s, 1],
        [fit.onset_s, 2],
        [fit.relative_drift_per_s, 3],
      ] as const) {
        if (one === null || one.standard_uncertainty === null) continue;
        nearly(one.value, whole.parameters[j]!, 1e-8);
        nearly(one.standard_uncertainty, u(j), 1e-6);
        if (!('interval' in one)) continue;
        // t with nearly 3000 degrees of freedom: 1.9608. The profile meets kinks where the onset passes a reading.
        nearly(one.interval[1] - one.value, 1.9608 * u(j), 2e-2);
        nearly(one.value - one.interval[0], 1.9608 * u(j), 2e-2);
      }
      expect([fit.dof, fit.readings, fit.residuals_mW.length]).toEqual([whole.dof, 3000, 3000]);
    }
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
