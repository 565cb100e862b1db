import { describe, expect, test } from 'vitest';
import type { SettingState } from '../../src/readings/settings.js';
import type { Meter, SettingResult } from '../../src/vocabulary.js';
import { collect } from '../../src/wavelengths/collected.js';
import {
  calibration,
  REFERENCE_CALIBRATION,
  referenceLimits,
  resolution,
  setting,
  settling,
  zero,
} from '../../src/wavelengths/wavelengthContributions.js';
import { NO_RECORD, NOTHING_FURTHER } from '../fullRecords.js';
import { near } from '../near.js';

const METER: Meter = {
  ...NOTHING_FURTHER,
  role: 'reference',
  name: 'bench meter',
  resolution_mW: 0.1,
  expanded_uncertainty_percent: 3,
  wavelength_setting: true,
};

const u = (found: {
  readonly inputs: readonly { readonly relative_standard_uncertainty: number }[];
}) => found.inputs[0]?.relative_standard_uncertainty;

describe('calibration of the reference', () => {
  test('U = 3 % with k = 2 is u = 1.5 % (JCGM 100:2008, 4.3.3)', () => {
    const found = calibration(METER, 520);
    near(u(found), 0.015, 1e-15);
    expect(found.inputs[0]!.name).toBe(REFERENCE_CALIBRATION);
  });

  test('not stated, it is missing and the factor is relative to this reference only', () => {
    const found = calibration({ ...METER, expanded_uncertainty_percent: null }, 520);
    expect(found.inputs).toEqual([]);
    expect(found.missing[0]?.text).toContain('relative to this reference only');
  });
});

describe('certificate, linearity and drift of the reference', () => {
  const at = (wavelength_nm: number, correction_factor: number, U: number) => ({
    wavelength_nm,
    correction_factor,
    expanded_uncertainty_percent: U,
    coverage_factor: 2,
  });
  const certified = {
    ...METER,
    certificate: {
      number: '1',
      laboratory: 'L',
      issued: '2024-01-01',
      valid_until: null,
      by_wavelength: [at(500, 1, 2), at(600, 1.02, 3)],
    },
  };

  test('at a wavelength of the certificate its own uncertainty counts', () => {
    near(u(calibration(certified, 501)), 0.01, 1e-15);
  });

  test('between two the larger one, and half of what they differ by as a rectangle', () => {
    const { inputs } = calibration(certified, 550);
    near(inputs[0]!.relative_standard_uncertainty, 0.015, 1e-15);
    near(inputs[1]!.relative_standard_uncertainty, 0.01 / Math.sqrt(3), 1e-12);
  });

  test('where it is silent the meter as a whole counts, and that is said', () => {
    const found = calibration(certified, 808);
    near(u(found), 0.015, 1e-15);
    expect(found.missing[0]?.text).toContain('says nothing of 808 nm');
  });

  test('limits are rectangles: ± 1 %, and ± 0.5 % a year over two years (JCGM 100:2008, 4.3.7)', () => {
    const stated = { ...certified, linearity_percent: 1, drift_percent_per_year: 0.5 };
    const { inputs } = referenceLimits(stated, { ...NO_RECORD, date: '2025-12-31' });
    near(inputs[0]!.relative_standard_uncertainty, 0.01 / Math.sqrt(3), 1e-12);
    near(inputs[1]!.relative_standard_uncertainty, 0.01 / Math.sqrt(3), 1e-4);
    expect(referenceLimits(stated, NO_RECORD).missing[0]?.text).toContain('how long ago');
    expect(referenceLimits(METER, NO_RECORD).missing).toHaveLength(2);
  });
});

describe('zero of a display', () => {
  test('subtracted, it is known to half a step: step/2/√3 of the level', () => {
    // JCGM 100:2008, 4.3.7 and F.2.2.1: 0.29 of a step
    near(u(zero('candidate', 1, [{ recorded: 1, open_mW: 0, level_mW: 50 }])), 0.2887 / 50, 1e-5);
  });

  test('not recorded, it is named with what a step of it would be worth', () => {
    const found = zero('candidate', 1, [{ recorded: 0, open_mW: null, level_mW: 50 }]);
    expect(found.inputs).toEqual([]);
    expect(found.missing[0]?.text).toContain('2 %');
  });

  test('not recorded in some rows, it may lie as far off as the recorded ones show', () => {
    // 0.25 mW of 5 mW open in one of two series, a rectangle: 0.05/√3, halved by the other series
    const found = zero('candidate', 0.1, [
      { recorded: 0.5, open_mW: 0.25, level_mW: 5 },
      { recorded: 1, open_mW: 0, level_mW: 5 },
    ]);
    near(u(found), 0.025 / Math.sqrt(3), 1e-12);
    expect(found.inputs.map((one) => one.name)).toEqual([
      'zero of the candidate, where not recorded',
      'zero of the candidate',
    ]);
  });
});

test('a display step that nobody knows is named as missing', () => {
  expect(resolution('candidate', 0, null).missing).toEqual([
    { kind: 'resolution', text: 'display step of the candidate: not stated' },
  ]);
  near(u(resolution('candidate', 0.004, 1)), 0.004, 1e-15);
});

describe('wavelength setting', () => {
  const measured: SettingResult = {
    series: 's',
    source: 'laser',
    wavelength_nm: 520,
    meter: 'reference',
    from_nm: 520,
    to_nm: 650,
    ratio: Math.exp(-0.026),
    low: Math.exp(-0.039),
    high: Math.exp(-0.013),
    relative_standard_uncertainty: 0.006,
    dof: 9,
    why: '',
  };
  const at = (...effective_nm: (number | null)[]): SettingState => ({
    status: 'right',
    effective_nm,
    ratio: null,
  });
  const use = { meter: METER, wavelength_nm: 520, series: [at(520, 532)] };

  test('steepest change per nm times the farthest setting and the doubt of the source, over √3', () => {
    // |ln| ≤ 0.039 over 130 nm = 3e-4 per nm; (12 + 5) nm; rectangle
    near(u(setting(use, [measured])), (3e-4 * 17) / Math.sqrt(3), 1e-12);
  });

  test('a meter without a setting needs nothing; one whose settings nobody wrote down is named', () => {
    expect(setting({ ...use, meter: { ...METER, wavelength_setting: false } }, [])).toEqual({
      inputs: [],
      missing: [],
    });
    expect(setting({ ...use, series: [at(520, null)] }, [measured]).missing[0]?.text).toContain(
      'not recorded for every run',
    );
    expect(setting(use, []).missing[0]?.text).toContain('was not measured');
    expect(setting(use, [{ ...measured, meter: 'candidate' }]).missing).toHaveLength(1);
  });

  test('a wrong setting that nobody measured is named', () => {
    const wrong = setting({ ...use, series: [{ ...at(1064), status: 'wrong' }] }, []);
    expect(wrong.inputs).toEqual([]);
    expect(wrong.missing[0]?.text).toContain("another wavelength than the source's");
    // 8 nm off: a measured change per nm says what that is worth
    const near8 = { ...use, series: [{ ...at(528), status: 'near' as const }] };
    expect(setting(near8, []).missing[0]?.text).toContain("another wavelength than the source's");
    expect(setting(near8, [measured]).missing).toEqual([]);
  });

  test('a measured ratio brings its own uncertainty, in the share of the series that it brought', () => {
    const ratio = { standardUncertainty: 0.004, dof: 9 };
    const found = setting({ ...use, series: [at(520), { ...at(520), status: 'brought', ratio }] }, [
      measured,
    ]);
    near(found.inputs[1]!.relative_standard_uncertainty, 0.002, 1e-15);
    expect(found.inputs[1]).toMatchObject({ dof: 9, type: 'A', shape: 'student' });
  });
});

test('settling: what is known enters, what is not is named', () => {
  expect(settling({ lag: null, unsettled: null, note: '', missing: ['no traces'] })).toEqual({
    inputs: [],
    missing: [{ kind: 'settling', text: 'no traces' }],
  });
  const both = settling({ lag: 0.002, unsettled: 0.003, note: 'lag', missing: [] });
  expect(both.inputs.map((one) => one.relative_standard_uncertainty)).toEqual([0.002, 0.003]);
  expect(both.missing).toEqual([]);
});

test('collections add up', () => {
  const all = collect([calibration(METER, 520), resolution('reference', 0, null)]);
  expect([all.inputs.length, all.missing.length]).toEqual([1, 1]);
});
