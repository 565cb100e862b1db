import { describe, expect, test } from 'vitest';
import {
  compareWithOpinion,
  type SourcePower,
  statedUncertainty,
} from '../../src/opinions/compareWithOpinion.js';
import type { Opinion, OpinionResult } from '../../src/vocabulary.js';
import { certificateAt } from '../fullRecords.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const study = studyOf([{ id: 'a', nm: 638, source: 'pen', laps: steady(100, 90) }], {
  reference: { expanded_uncertainty_percent: 4, coverage_factor: 2 },
});
const opinion: Opinion = {
  source: 'pen',
  kind: 'certificate',
  value_mW: 104,
  expanded_uncertainty_mW: 3,
  coverage_factor: 2,
  date: '2026-01-31',
  note: null,
};
/** 100 mW on the reference, 80 on the candidate, K = 1.25. */
const power: SourcePower = {
  series: ['a'],
  wavelength_nm: 638,
  reference: { value_mW: 100, relative_sd: 0.003 },
  candidate: { value_mW: 80, relative_sd: 0.004 },
  placement: 0.01,
  factor: { value: 1.25, relative_standard_uncertainty: 0.025 },
  steps: { reference: 1, candidate: 2 },
  isolated: false,
};
const of = (changes: Partial<Opinion> = {}, by: Partial<SourcePower> = {}) =>
  compareWithOpinion(study, { ...opinion, ...changes }, { ...power, ...by });
const against = (found: OpinionResult, meter: string) => {
  const one = found.comparisons.find((comparison) => comparison.meter === meter);
  if (one === undefined) throw new Error(`No comparison with the ${meter}.`);
  return one;
};

describe('the uncertainty of each power', () => {
  test('reference: scatter, placement, calibration and step: √(0.3² + 1² + 2² + (1/√12)²) %', () => {
    const one = against(of(), 'reference');
    near(one.standard_uncertainty_mW, Math.sqrt(0.09 + 1 + 4 + 1 / 12), 1e-9);
    expect([one.value_mW, one.calibration_stated]).toEqual([100, true]);
  });

  test('candidate: scatter, placement, and 2 mW of 80 ÷ √12; no calibration', () => {
    const one = against(of(), 'candidate');
    near(
      one.standard_uncertainty_mW,
      80 * Math.sqrt(0.004 ** 2 + 0.01 ** 2 + 0.025 ** 2 / 12),
      1e-9,
    );
    expect([one.value_mW, one.calibration_stated, one.en]).toEqual([80, false, null]);
  });

  test('corrected candidate: K · 80 = 100 mW, √(2.5² + 0.4²) %', () => {
    const one = against(of(), 'corrected-candidate');
    near(one.value_mW, 100, 1e-12);
    near(one.standard_uncertainty_mW, Math.sqrt(2.5 ** 2 + 0.4 ** 2), 1e-9);
    expect(one.calibration_stated).toBe(true);
  });

  test('without K there is no corrected candidate', () => {
    expect(of({}, { factor: null }).comparisons.map(({ meter }) => meter)).toEqual([
      'reference',
      'candidate',
    ]);
  });

  test('of the value: U ÷ k, and none without both', () => {
    expect(statedUncertainty(opinion)).toBe(1.5);
    expect(statedUncertainty({ ...opinion, coverage_factor: null })).toBeNull();
    expect(statedUncertainty({ ...opinion, expanded_uncertainty_mW: null })).toBeNull();
  });
});

describe('the scores', () => {
  const u2 = 0.09 + 1 + 4 + 1 / 12;

  test('ours less theirs: −4 mW, −400/104 %, ζ = −4/√(u² + 1.5²)', () => {
    const one = against(of(), 'reference');
    expect(one.difference_mW).toBe(-4);
    near(one.difference_percent, -400 / 104, 1e-12);
    near(one.zeta, -4 / Math.sqrt(u2 + 2.25), 1e-9);
    near(one.en, -2 / Math.sqrt(u2 + 2.25), 1e-9);
  });

  test('what value and reference share is taken out twice, and not of the candidate', () => {
    // ζ = −4/√(u² + 1.5² − 2 · 1²)
    const found = of({ common_standard_uncertainty_mW: 1 });
    near(against(found, 'reference').zeta, -4 / Math.sqrt(u2 + 2.25 - 2), 1e-9);
    near(against(found, 'corrected-candidate').zeta, -4 / Math.sqrt(6.25 + 0.16 + 2.25 - 2), 1e-9);
    near(against(found, 'candidate').zeta, against(of(), 'candidate').zeta ?? 0, 1e-12);
    expect(found.why).toContain('shares with the reference is taken out');
  });

  test('a common part above that of the value or of the reference gives none', () => {
    for (const found of [
      of({ common_standard_uncertainty_mW: 1.6 }),
      of({ common_standard_uncertainty_mW: 2.4, expanded_uncertainty_mW: 10 }),
    ]) {
      expect([found.supports, against(found, 'reference').zeta]).toEqual(['undecided', null]);
      expect(found.why).toMatch(/^The common uncertainty is larger/);
    }
    expect(of({ common_standard_uncertainty_mW: 1.4 }).why).not.toContain('is larger');
    // At exactly that of the value it is all of it, and still a part.
    expect(of({ common_standard_uncertainty_mW: 1.5 }).why).not.toContain('is larger');
  });
});

describe('a maker’s value', () => {
  test('bounds from above: 100 mW cannot be, where 90 were the most as new', () => {
    const found = of({ kind: 'maker', value_mW: 80, expanded_uncertainty_mW: 2 });
    const one = against(found, 'reference');
    expect([one.verdict, one.zeta, one.en]).toEqual(['too-high', null, null]);
    // at least (100 − 80 − 2·√(u² + 1²)) ÷ 80 or so: some 15 to 25 %
    expect(one.too_high_at_least_percent).toBeGreaterThan(15);
    expect(one.too_high_at_least_percent).toBeLessThan(25);
    expect(against(found, 'candidate').verdict).toBe('possible');
  });

  test('says nothing of a frequency-doubled line; a certificate does', () => {
    const green = { wavelength_nm: 532 };
    const maker = of({ kind: 'maker', value_mW: 80 }, green);
    expect([maker.supports, against(maker, 'reference').verdict]).toEqual(['undecided', null]);
    expect(against(maker, 'reference').why).toContain('frequency-doubled');
    expect(against(of({}, green), 'reference').zeta).not.toBeNull();
  });
});

describe('what was assumed is said', () => {
  test('independence, an uncertainty without k, a filter, an average', () => {
    expect(of().why).toContain('lean on nothing');
    expect(of({ kind: 'maker' }).why).not.toContain('lean on nothing');
    expect(of({ coverage_factor: null }).why).toContain('without a coverage factor');
    expect(of({ coverage_factor: null, expanded_uncertainty_mW: null }).why).not.toContain(
      'without a coverage factor',
    );
    expect(of({}, { isolated: true }).why).toContain('the wanted line alone');
    expect(of({ averaged_over_s: 30 }).why).toContain('an average over 30 s');
    expect(of().why).not.toMatch(/wanted line|average|coverage factor/);
    // Of a maker's value nothing is assumed: the judgement is all that is said.
    const [bare, without] = [{}, { coverage_factor: null }].map(
      (changes) => of({ kind: 'maker', ...changes }).why,
    );
    expect(bare).toMatch(/[a-z]\.$/);
    expect(without).toMatch(/ Its expanded uncertainty comes without .* none is assumed\.$/);
  });

  test('a meter without a calibration is judged by its scatter, and the words say so', () => {
    expect(against(of(), 'candidate').why).toContain('No calibration of this meter is stated');
    expect(against(of(), 'reference').why).not.toContain('No calibration');
  });
});

test('a value of a source among several is compared at its own wavelength', () => {
  const two = studyOf([
    { id: 'b', nm: 520, source: 'green', laps: steady(100, 90) },
    { id: 'a', nm: 638, source: 'pen', laps: steady(100, 90) },
  ]);
  expect(compareWithOpinion(two, opinion, 'Several powers.').wavelength_nm).toBe(638);
});

test('a source without a single power: nothing is compared, at its own wavelength', () => {
  const found = compareWithOpinion(study, opinion, 'Several powers.');
  expect(found).toMatchObject({
    wavelength_nm: 638,
    series: [],
    comparisons: [],
    supports: 'undecided',
    why: 'Several powers.',
    standard_uncertainty_mW: 1.5,
    date: '2026-01-31',
  });
});

test('the certificate of the reference at the wavelength counts', () => {
  const certificate = certificateAt(638, 9, 3);
  const reference = { ...study.reference, certificate };
  const one = against(compareWithOpinion({ ...study, reference }, opinion, power), 'reference');
  near(one.standard_uncertainty_mW, Math.sqrt(0.09 + 1 + 9 + 1 / 12), 1e-9);
});
