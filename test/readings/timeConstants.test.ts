import { expect, test } from 'vitest';
import { timeConstants, timeConstantWarnings } from '../../src/readings/timeConstants.js';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import type { Trace } from '../../src/vocabulary.js';
import { jointStudy } from '../joints/bench.js';
import { near } from '../near.js';

/** 40 mW · (1 − e^(−t/τ)), every second for a minute; too short with 3 readings. */
const traced = (run: number, tau: number, readings = 61) => {
  const elapsed_s = Array.from({ length: readings }, (_, t) => t);
  const reading_mW = elapsed_s.map((t) => 40 * (1 - Math.exp(-t / tau)));
  const trace: Trace = { series: 's1', run, meter: 'candidate', elapsed_s, reading_mW };
  return { trace, fit: fitStepResponse(trace, { onset_s: 'fitted', drift: true }) };
};
const study = (time_constant_s: number | null) =>
  jointStudy({ series: [{}], candidate: time_constant_s === null ? {} : { time_constant_s } });

test('a trace counts more than what is stated, and what is stated more than nothing', () => {
  const both = timeConstants(study(9), [traced(2, 5)]);
  near(both.candidate?.value_s, 5, 1e-3);
  expect(both.reference).toBeNull();
  const short = timeConstants(study(9), [traced(2, 5, 3)]);
  expect(short.candidate).toEqual({ value_s: 9, standard_uncertainty_s: 0, dof: 1e6 });
});

test('of two traces the mean, with s/√2: 4 s and 6 s are 5 s ± 1 s', () => {
  const { candidate, reference } = timeConstants(study(null), [traced(2, 4), traced(4, 6)]);
  near(candidate?.value_s, 5, 1e-3);
  near(candidate?.standard_uncertainty_s, 1, 1e-3);
  expect(candidate?.dof).toBe(1);
  expect(reference).toBeNull();
  expect(timeConstants(study(null), [])).toEqual({ reference: null, candidate: null });
});

test('what is stated alone, or measured alone, is not contradicted', () => {
  expect(timeConstantWarnings(study(null), [traced(2, 5)])).toEqual([]);
  expect(timeConstantWarnings(study(50), [])).toEqual([]);
  // A trace of the one meter does not speak of the other.
  const reference = jointStudy({ series: [{}], reference: { time_constant_s: 50 } });
  expect(timeConstantWarnings(reference, [traced(2, 5)])).toEqual([]);
});

test('a trace that tells nothing is named with its series, one that tells is not', () => {
  const warnings = timeConstantWarnings(study(null), [traced(2, 5), traced(4, 5, 3)]);
  expect(warnings).toHaveLength(1);
  expect(warnings[0]).toMatchObject({ code: 'trace-not-used', series: 's1' });
  expect(warnings[0]?.message).toMatch(
    /^The trace of run 4 \(candidate\) gave no time constant: ./,
  );
});

test('a stated time constant half as long again, or two thirds, is contradicted', () => {
  const of = (stated: number) => timeConstantWarnings(study(stated), [traced(2, 5)]);
  // 5 · 1.5 = 7.5 and 5 / 1.5 = 3.33
  expect([7.4, 3.4].flatMap(of)).toEqual([]);
  expect([7.6, 3.3].map((one) => of(one).map(({ code }) => code))).toEqual([
    ['time-constant-contradicted'],
    ['time-constant-contradicted'],
  ]);
  expect(of(7.6)[0]?.message).toContain('show a time constant of 5 s for the candidate');
});
