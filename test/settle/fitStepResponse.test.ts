import { describe, expect, test } from 'vitest';
import { combineTimeConstants } from '../../src/settle/combineTimeConstants.js';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { meanDrift } from '../../src/settle/meanDrift.js';
import type { TraceReadings } from '../../src/settle/readTrace.js';
import type { StepResponse } from '../../src/settle/stepResponse.js';
import { stepResponseCurve } from '../../src/settle/stepResponseCurve.js';
import { type StepResponseOptions, stepResponseTask } from '../../src/settle/stepResponseTask.js';
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

  // Student's t for 14 degrees of freedom at 95 % and at 99 % (table)
  test.each([
    [{}, 15, 0],
    [{ drift: true }, 14, 2.144787],
    [{ onset_s: 'fitted' }, 14, 2.144787],
    [{ onset_s: 'fitted', confidence: 0.99 }, 14, 2.976843],
    [{ onset_s: 0.2, drift: true }, 14, 2.144787],
  ] as const)('%j: the record goes with its own numbers', (options, dof, k) => {
    const fit = fitted(fitStepResponse(trace, options));
    const { settled_mW, time_constant_s, onset_s, relative_drift_per_s: drift } = fit;
    const curve = [settled_mW.value, time_constant_s.value, onset_s.value, drift?.value ?? 0];
    fit.residuals_mW.forEach((rest, i) => {
      near(rest, trace.reading_mW[i] - stepResponseCurve.value(curve, trace.elapsed_s[i]), 1e-9);
    });
    const squares = fit.residuals_mW.reduce((sum, rest) => sum + rest ** 2, 0);
    const products = fit.residuals_mW.reduce(
      (sum, rest, i) => sum + rest * (fit.residuals_mW[i - 1] ?? 0),
      0,
    );
    near(fit.residual_sd_mW, Math.sqrt(squares / dof), 1e-12);
    near(fit.residual_correlation, products / squares, 1e-12);
    near(fit.length_in_time_constants, (20 - onset_s.value) / time_constant_s.value, 1e-12);
    expect([fit.dof, fit.readings, fit.residuals_mW.length]).toEqual([dof, 17, 17]);
    for (const one of [onset_s, drift]) {
      if (one === null || one.standard_uncertainty === null) continue;
      const half = k * one.standard_uncertainty;
      expect('interval' in one && one.interval).toEqual([
        expect.closeTo(one.value - half, 6),
        expect.closeTo(one.value + half, 6),
      ]);
    }
    expect(onset_s.standard_uncertainty === null).toBe(
      !('onset_s' in options) || options.onset_s === 0.2,
    );
    if (onset_s.standard_uncertainty === null) {
      const value = 'onset_s' in options ? options.onset_s : 0;
      expect(onset_s).toEqual({ value, standard_uncertainty: null });
    }
    expect(drift === null).toBe(!('drift' in options));
    expect(fit.warnings.map((one) => one.code)).toEqual(
      products / squares > 3 / Math.sqrt(17) ? ['residuals-correlated'] : [],
    );
  });
});

describe('what a fit warns of', () => {
  const codes = (trace: TraceReadings, options: StepResponseOptions) =>
    fitted(fitStepResponse(trace, options)).warnings.map((one) => one.code);

  test.each([
    [-0.0045, 60, []],
    [-0.0055, 60, ['drift-large']],
    [0.0045, 60, []],
    [0.0055, 60, ['drift-large']],
  ] as const)('a source that changes by %d per s for %d s', (drift_per_s, length_s, expected) => {
    const trace = simulatedTrace({ seed: 3, drift_per_s, length_s, sd_mW: 0.1 });
    expect(codes(trace, { drift: true })).toEqual(expected);
    // A third of the time later: the same change runs for so much less.
    const late = simulatedTrace({ seed: 3, drift_per_s, length_s, onset_s: 20, sd_mW: 0.1 });
    expect(codes(late, { drift: true, onset_s: 20 })).toEqual([]);
  });

  test('an onset that would lie before 0 is held there', () => {
    const elapsed_s = Array.from({ length: 20 }, (_, i) => i + 1);
    const reading_mW = elapsed_s.map((t) => 50 * (1 - Math.exp(-(t + 0.5) / 3)) + 0.3 * (-1) ** t);
    const fit = fitted(fitStepResponse({ elapsed_s, reading_mW }, { onset_s: 'fitted' }));
    expect(fit.onset_s).toEqual({ value: 0, standard_uncertainty: null });
    expect(fit.dof).toBe(18);
    expect(fit.warnings).toEqual([
      { code: 'onset-at-zero', message: expect.stringContaining('went to 0 s') },
    ]);
    // As if it had been given, but for the warning
    const given = fitted(fitStepResponse({ elapsed_s, reading_mW }));
    nearly(fit.time_constant_s.value, given.time_constant_s.value, 1e-9);
    nearly(fit.time_constant_s.interval[0], given.time_constant_s.interval[0], 1e-5);
    expect(given.warnings).toEqual([]);
  });
});

describe('the task', () => {
  const trace = { elapsed_s: [1, 2, 3], reading_mW: [4, 5, 6] };

  test('with its defaults, and as it is asked', () => {
    expect(stepResponseTask(trace, {})).toEqual({
      trace,
      shift_s: 0,
      heldOnset_s: 0,
      drift: false,
      resolution_mW: 0,
      leastTimeConstants: 1.5,
      confidence: 0.95,
    });
    const asked = { drift: true, resolution_mW: 0.1, leastTimeConstants: 3, confidence: 0.9 };
    expect(stepResponseTask(trace, { ...asked, onset_s: -2 })).toEqual({
      trace,
      shift_s: 0,
      heldOnset_s: -2,
      ...asked,
    });
    expect(stepResponseTask(trace, { onset_s: 'fitted' }).heldOnset_s).toBeNull();
  });

  test.each([
    [200, 'fitted', 0],
    [200.5, 'fitted', 198.5],
    [1e9, 'fitted', 1e9 - 2],
    [-1e9, 'fitted', 0],
    [1e9, 1e9, 0],
  ] as const)('two seconds from %d s on, onset %s: moved by %d s', (from, onset_s, shift_s) => {
    const late = { elapsed_s: [from, from + 1, from + 2], reading_mW: [4, 5, 6] };
    const task = stepResponseTask(late, { onset_s });
    expect(task.shift_s).toBe(shift_s);
    expect(task.trace).toEqual({
      elapsed_s: late.elapsed_s.map((t) => t - shift_s),
      reading_mW: [4, 5, 6],
    });
  });

  test.each([
    { onset_s: 'early' },
    { onset_s: Number.NaN },
    { drift: 'yes' },
    { resolution_mW: -1 },
    { leastTimeConstants: -1 },
    { confidence: 95 },
    { onset: 1 },
  ])('%j is refused', (options) => {
    expect(() => stepResponseTask(trace, options as StepResponseOptions)).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('how many readings a fit asks for after switch-on', () => {
  const rising = (count: number, before = 0) => {
    const elapsed_s = Array.from({ length: count + before }, (_, i) => i + 1 - before);
    return {
      elapsed_s,
      reading_mW: elapsed_s.map((t) => (t > 0 ? 50 - 50 * Math.exp(-t / 1.5) : 0)),
    };
  };
  const refusal = (trace: TraceReadings, options: StepResponseOptions = {}) => {
    const found = fitStepResponse(trace, options);
    return found.status === 'refused' && found.reason === 'too-few-readings' ? found.why : null;
  };

  test.each([
    [{}, 2],
    [{ drift: true }, 3],
    [{ onset_s: 'fitted' }, 3],
    [{ onset_s: 'fitted', drift: true }, 4],
  ] as const)('%j: three more than its %d unknowns', (options, unknowns) => {
    for (const before of [0, 1, 4]) {
      expect(refusal(rising(unknowns + 2, before), options)).toBe(
        `${unknowns + 2} readings after switch-on do not carry ${unknowns} unknowns; ${unknowns + 3} are the least.`,
      );
      expect(refusal(rising(unknowns + 3, before), options)).toBeNull();
    }
  });

  test('a reading at the moment of switch-on is none after it', () => {
    expect(refusal(rising(6), { onset_s: 1 })).toBeNull();
    expect(refusal(rising(6), { onset_s: 2 })).toMatch(/^4 readings/);
    expect(refusal(rising(6), { onset_s: -9 })).toBeNull();
  });
});

describe('why a trace tells no time constant', () => {
  const t20 = Array.from({ length: 20 }, (_, i) => i + 1);
  const of = (
    reading_mW: readonly number[],
    options: StepResponseOptions = {},
    elapsed_s: readonly number[] = t20,
  ) => {
    const found = fitStepResponse({ elapsed_s, reading_mW }, options);
    if (found.status !== 'refused') throw new Error('fitted');
    return found;
  };
  const NO_BOUNDS = { status: 'refused', time_constant_bounds_s: [null, null] };

  test('it falls, or never rises above 0', () => {
    expect(of(t20.map((t) => 5 - 2 * t))).toMatchObject({ ...NO_BOUNDS, reason: 'no-rise' });
    expect(of(t20.map((t) => (t === 3 ? 1 : -5)))).toMatchObject({
      ...NO_BOUNDS,
      reason: 'no-rise',
    });
    expect(of(t20.map(() => 0))).toMatchObject({ ...NO_BOUNDS, reason: 'no-rise' });
  });

  test('noise about 0, along which a fit goes down', () => {
    const about0 = [1.1, -1.2, 0, 0.1, 0.5, -0.1, 2, -0.4];
    expect(of(about0, { drift: true }, t20.slice(0, 8))).toMatchObject({
      ...NO_BOUNDS,
      reason: 'no-rise',
      why: 'The reading does not rise to a level above 0.',
    });
  });

  test('a straight rise has no level that it goes to', () => {
    for (const drift of [false, true]) {
      expect(of([...t20], { drift })).toMatchObject({ ...NO_BOUNDS, reason: 'too-short' });
    }
  });

  test('all that rose did so within the display step', () => {
    const resolution_mW = 0.1;
    expect(
      of(
        t20.map((t) => (t < 4 ? 0 : 0.1)),
        { resolution_mW },
      ).reason,
    ).toBe('no-rise');
    // From below 0 up it is more
    const below = t20.map((t) => (t < 4 ? -0.05 : 0.1));
    expect(fitStepResponse({ elapsed_s: t20, reading_mW: below }, { resolution_mW }).status).toBe(
      'fitted',
    );
    expect(
      of(
        t20.map((t) => (t < 4 ? 0.05 : 0.1)),
        { resolution_mW },
      ).reason,
    ).toBe('no-rise');
  });

  test('shorter than is asked for, with what it says all the same', () => {
    const at = (parts: number, leastTimeConstants?: number) =>
      fitStepResponse(simulatedTrace({ seed: 2, length_s: 3 * parts, sd_mW: 0.01 }), {
        leastTimeConstants,
      });
    const short = at(1.45);
    expect(short).toMatchObject({
      status: 'refused',
      reason: 'too-short',
      why: expect.stringMatching(/^The trace is 1\.4 time constants long; below 1\.5/),
    });
    if (short.status !== 'refused') return;
    const [low, high] = short.time_constant_bounds_s;
    expect(low).toBeGreaterThan(2.9);
    expect(low).toBeLessThan(3);
    expect(high).toBeGreaterThan(3);
    expect(high).toBeLessThan(3.1);
    // Just short of 1.5 is said to be 1.4 long, for 1.5 would not be below 1.5.
    expect(at(1.49)).toMatchObject({ why: expect.stringMatching(/^The trace is 1\.4 /) });
    expect(at(0.05)).toMatchObject({ why: expect.stringMatching(/^The trace is less than 0\.1 /) });
    expect([at(1.51), at(1, 0), at(1, 0.99), at(2, 1.9)].map((one) => one.status)).toEqual(
      Array(4).fill('fitted'),
    );
    expect([at(1, 1.01), at(2, 2.1)].map((one) => one.status)).toEqual(Array(2).fill('refused'));
  });

  test('the noise leaves the time constant, the level or both open', () => {
    const noisy = of(
      simulatedTrace({ seed: 2, length_s: 6, sd_mW: 40 }).reading_mW,
      {},
      simulatedTrace({ seed: 2, length_s: 6 }).elapsed_s,
    );
    expect([noisy.reason, noisy.why]).toEqual([
      'too-short',
      'The trace does not bound the settled value.',
    ]);
    expect(noisy.time_constant_bounds_s.every((end) => end !== null)).toBe(true);
    const none = of(t20.map((t) => ((t * 7) % 5) - 1));
    expect(none).toMatchObject({ ...NO_BOUNDS, reason: 'too-short' });
    expect(none.why).toMatch(/from above/);
  });

  test('readings that stand from the first one on rose before it', () => {
    const [low, high] = of(t20.map(() => 5)).time_constant_bounds_s;
    expect(low).toBeNull();
    expect(high).toBeGreaterThan(0);
    // At 1 s no more than the rounding is missing: e^(−1/τ) below 1e-14
    expect(high).toBeLessThan(0.04);
    expect(of(t20.map(() => 5)).reason).toBe('rise-not-sampled');
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
    expect(combineTimeConstants([])).toEqual({
      value_s: null,
      standard_uncertainty_s: null,
      dof: null,
      traces: 0,
      why: 'No trace gave a time constant.',
    });
  });
});

describe('time constants together, by hand', () => {
  const of = (value: number, standard_uncertainty: number, dof: number) =>
    ({ status: 'fitted', time_constant_s: { value, standard_uncertainty }, dof }) as StepResponse;
  const refused = { status: 'refused' } as StepResponse;
  const about = (value: number) => expect.closeTo(value, 12);

  test('one has its own uncertainty, several what is larger of theirs and of their scatter', () => {
    expect(combineTimeConstants([of(3, 0.2, 10)])).toEqual({
      value_s: 3,
      standard_uncertainty_s: about(0.2),
      dof: 10,
      traces: 1,
      why: '',
    });
    // √(0.2² + 0.3²)/2 = 0.1803 against 0.1/√2/√2 = 0.05
    expect(combineTimeConstants([of(3, 0.2, 10), refused, of(3.1, 0.3, 20)])).toEqual({
      value_s: about(3.05),
      standard_uncertainty_s: about(Math.hypot(0.2, 0.3) / 2),
      dof: 30,
      traces: 2,
      why: '1 of 3 traces gave no time constant.',
    });
    expect(combineTimeConstants([of(3, 0.02, 10), of(3.1, 0.03, 20)])).toMatchObject({
      standard_uncertainty_s: about(0.05),
      dof: 1,
      why: '',
    });
  });

  test.each([
    ['no list', null],
    ['no record', [3]],
    ['another status', [{ status: 'done' }]],
    ['no time constant', [{ status: 'fitted', dof: 3 }]],
    ['one of 0', [of(0, 0.1, 3)]],
    ['an uncertainty below 0', [of(3, -0.1, 3)]],
    ['no degrees of freedom', [of(3, 0.1, 0)]],
  ])('%s is refused', (_, fits) => {
    expect(() => combineTimeConstants(fits as StepResponse[])).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('drifts: only those of traces that were fitted with one', () => {
    const drifting = (value: number, standard_uncertainty: number) =>
      ({ status: 'fitted', relative_drift_per_s: { value, standard_uncertainty } }) as StepResponse;
    const steady = { status: 'fitted', relative_drift_per_s: null } as StepResponse;
    expect(meanDrift([refused, steady])).toBeNull();
    expect(
      meanDrift([refused, drifting(-0.002, 4e-4), steady, drifting(-0.004, 3e-4)]),
    ).toMatchObject({
      value: about(-0.003),
      // 0.002/√2/√2 is more than 5e-4/2
      standardUncertainty: about(0.001),
    });
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
