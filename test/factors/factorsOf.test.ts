import { beforeAll, describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { FACTOR_CAUTIONS, factorsOf } from '../../src/factors/factorsOf.js';
import type { OpinionResult, Result, Study } from '../../src/vocabulary.js';
import { certificateAt } from '../fullRecords.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

let study: Study;
let result: Result;
beforeAll(() => {
  study = studyOf(
    [
      { id: 'a', nm: 638, laps: steady(110, 100) },
      { id: 'b', nm: 638, laps: steady(110, 100) },
      { id: 'c', nm: 450, laps: steady(120, 100) },
      { id: 'd', nm: 520, laps: [[110, 100]] },
    ],
    { reference: { expanded_uncertainty_percent: 4, coverage_factor: 2 } },
  );
  result = analyse(study);
});
/** Candidate scatter of each series, and how many runs it stands on. */
const scattering = (by: Readonly<Record<string, readonly [sd: number, runs: number]>>): Result => ({
  ...result,
  series: result.series.map((one) => {
    const [candidate, runs] = by[one.id] ?? [0, 2];
    return {
      ...one,
      repeatability: { reference: 0.9, candidate },
      used: { reference: 99, candidate: runs },
      drift: { ...one.drift, degree: 2 },
    };
  }),
});

test('wavelengths with a factor, and the range that they span', () => {
  const { factors, wavelength_range_nm } = factorsOf(study, result);
  expect(factors.map((one) => one.wavelength_nm)).toEqual([450, 638]);
  expect(wavelength_range_nm).toEqual([450, 638]);
  expect(factorsOf(study, { ...result, wavelengths: [] }).wavelength_range_nm).toBeNull();
});

describe('the scatter of a single reading', () => {
  test('is pooled over the series of its own wavelength, by n − 1 less half of the drift', () => {
    // a: 6 − 1 − 1 = 4 of 1 %; b: 10 − 1 − 1 = 8 of 2 %. s² = (4·1 + 8·4)·1e−4 ÷ 12 = 3e−4
    const { factors } = factorsOf(
      study,
      scattering({ a: [0.01, 6], b: [0.02, 10], c: [0.5, 40], d: [0.7, 50] }),
    );
    near(factors[1].reading_relative_sd, Math.sqrt(3e-4), 1e-12);
    expect(factors[1].reading_dof).toBe(12);
    expect(factors[0].reading_dof).toBe(38);
    expect(factors[0].reading_relative_sd).toBe(0.5);
  });
});

test('K, its interval and its parts are those of the wavelength', () => {
  const [, one] = factorsOf(study, result).factors;
  const of = result.wavelengths.find(({ wavelength_nm }) => wavelength_nm === 638);
  expect([one.factor, one.low, one.high, one.dof]).toEqual([
    of?.factor,
    of?.low,
    of?.high,
    of?.dof,
  ]);
  expect(one.relative_standard_uncertainty).toBe(of?.relative_standard_uncertainty);
  expect(one.relative_expanded_uncertainty).toBe(of?.relative_expanded_uncertainty);
  expect([one.next_series_relative_sd, one.next_series_dof]).toEqual([
    of?.next_series_relative_sd,
    of?.next_series_dof,
  ]);
  expect([one.levels, one.verdict, one.candidate_range_mW]).toEqual([
    of?.levels,
    of?.verdict,
    [100, 100],
  ]);
  expect(one.offset_mW).toBeNull();
});

test('a spread of the next series that is not known is left out', () => {
  const wavelengths = result.wavelengths.map((one) => ({ ...one, next_series_dof: null }));
  const [one] = factorsOf(study, { ...result, wavelengths }).factors;
  expect(Object.keys(one)).not.toContain('next_series_relative_sd');
});

test.each([
  'factor',
  'low',
  'high',
  'dof',
  'relative_standard_uncertainty',
  'relative_expanded_uncertainty',
  'coverage_factor',
  'candidate_range_mW',
] as const)('without %s there is no entry', (field) => {
  const wavelengths = result.wavelengths.map((one) =>
    one.wavelength_nm === 450 ? { ...one, [field]: null } : one,
  );
  const found = factorsOf(study, { ...result, wavelengths }).factors;
  expect(found.map((one) => one.wavelength_nm)).toEqual([638]);
});

describe('a reference that others contradict', () => {
  const opinion = (
    kind: OpinionResult['kind'],
    wavelength_nm: number,
    verdict: 'disagrees' | 'agrees',
  ): OpinionResult => ({
    source: 'laser',
    wavelength_nm,
    kind,
    date: null,
    value_mW: 100,
    standard_uncertainty_mW: 1,
    series: [],
    comparisons: [
      {
        meter: 'reference',
        value_mW: 100,
        standard_uncertainty_mW: 1,
        calibration_stated: true,
        difference_mW: 0,
        difference_percent: 0,
        zeta: 0,
        en: 0,
        verdict,
        too_high_at_least_percent: null,
        why: '',
      },
    ],
    supports: 'undecided',
    why: '',
  });

  test('is said at that wavelength, each kind once', () => {
    const { factors } = factorsOf(study, {
      ...result,
      opinions: [
        opinion('certificate', 638, 'disagrees'),
        opinion('certificate', 638, 'disagrees'),
        opinion('third-meter', 638, 'disagrees'),
        opinion('maker', 638, 'agrees'),
        opinion('maker', 520, 'disagrees'),
      ],
    });
    expect(factors[1].reference_contradicted_by).toEqual(['certificate', 'third-meter']);
    expect(Object.keys(factors[0])).not.toContain('reference_contradicted_by');
  });
});

describe('the reference', () => {
  test('states its uncertainty as U ÷ k: 4 %/2', () => {
    const { reference } = factorsOf(study, result);
    expect(reference).toEqual({
      name: 'Meter R',
      uncertainty_stated: true,
      relative_standard_uncertainty: 0.02,
    });
  });

  test('states it only if it does at every wavelength', () => {
    const certificate = certificateAt(638, 2, 2);
    const reference = { ...study.reference, expanded_uncertainty_percent: null, certificate };
    const stated = (of: Result) =>
      factorsOf({ ...study, reference }, of).reference.uncertainty_stated;
    expect(stated(result)).toBe(false);
    const at638 = result.wavelengths.filter((one) => one.wavelength_nm === 638);
    expect(stated({ ...result, wavelengths: at638 })).toBe(true);
  });
});

test('a study without a date cautions that nobody can tell when to compare again', () => {
  expect(factorsOf(study, result).cautions).toHaveLength(3);
  const record = { ...study.record, date: '2026-01-31' };
  const dated = factorsOf({ ...study, record }, result);
  expect(dated.cautions).toEqual(FACTOR_CAUTIONS);
  expect([dated.date, dated.recheck_after_months]).toEqual(['2026-01-31', 12]);
});
