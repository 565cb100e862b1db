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

/** Known exactly, without a scatter of its own. */
const B = { dof: 1e6, type: 'B', note: expect.any(String) } as const;
const rectangle = (kind: string, name: string, half: number) => ({
  ...B,
  name,
  kind,
  shape: 'rectangular',
  relative_standard_uncertainty: expect.closeTo(half / Math.sqrt(3), 12),
});
const named = (kind: string, text: string) => ({ kind, text: expect.stringContaining(text) });

describe('whole records of what the reference brings', () => {
  const stated = (u: number) => ({
    ...B,
    name: REFERENCE_CALIBRATION,
    kind: 'calibration',
    shape: 'normal',
    relative_standard_uncertainty: expect.closeTo(u, 12),
  });
  const entry = (wavelength_nm: number, correction_factor: number) => ({
    wavelength_nm,
    correction_factor,
    expanded_uncertainty_percent: 2,
    coverage_factor: 2,
  });
  const certificate = {
    number: null,
    laboratory: null,
    issued: '2024-01-01',
    valid_until: null,
    by_wavelength: [entry(500, 1), entry(600, 1.03)],
  };
  const UNSTATED = { ...METER, expanded_uncertainty_percent: null };

  test.each([
    [METER, 520, [stated(0.015)], []],
    [UNSTATED, 520, [], [named('calibration', 'no uncertainty is stated')]],
    // Half of 3 % between two entries, as limits
    [
      { ...METER, certificate },
      550,
      [stated(0.01), rectangle('other', 'certificate between its wavelengths', 0.015)],
      [],
    ],
    [{ ...METER, certificate }, 808, [stated(0.015)], [named('calibration', 'nothing of 808 nm')]],
    [
      { ...UNSTATED, certificate },
      808,
      [],
      [named('calibration', 'nothing of 808 nm'), named('calibration', 'no uncertainty is stated')],
    ],
  ])('calibration %#', (meter, nm, inputs, missing) => {
    expect(calibration(meter, nm)).toEqual({ inputs, missing });
  });

  const LINEARITY = 'linearity of the reference';
  const DRIFT = 'drift of the reference since its calibration';
  const limits = (linearity_percent: number | null, drift_percent_per_year: number | null) => ({
    ...METER,
    certificate,
    linearity_percent,
    drift_percent_per_year,
  });
  // 366 days of 2024 and 365 of 2025 after 2024-01-01 are two years
  const DATED = { ...NO_RECORD, date: '2026-01-01' };

  test.each([
    [limits(1, 0.5), DATED, [rectangle('other', LINEARITY, 0.01), 0.01], []],
    [limits(null, 0.5), DATED, [0.01], [named('other', `${LINEARITY}: not stated`)]],
    [
      limits(1, null),
      DATED,
      [rectangle('other', LINEARITY, 0.01)],
      [named('ageing', `${DRIFT}: not stated`)],
    ],
    [
      limits(1, 0.5),
      NO_RECORD,
      [rectangle('other', LINEARITY, 0.01)],
      [named('ageing', 'how long ago that was is not stated')],
    ],
    // Stated as none: nothing to reckon with, and nothing missing
    [limits(0, 0), DATED, [], []],
  ])('linearity and drift %#', (meter, record, inputs, missing) => {
    // Years are of 365.25 days or so: the drift to a thousandth
    const drift = (half: number) => ({
      ...rectangle('ageing', DRIFT, half),
      relative_standard_uncertainty: expect.closeTo(half / Math.sqrt(3), 4),
    });
    expect(referenceLimits(meter, record)).toEqual({
      inputs: inputs.map((one) => (typeof one === 'number' ? drift(one) : one)),
      missing,
    });
  });

  test('a display’s step as it is left', () => {
    expect(resolution('candidate', 0.004, 1)).toEqual({
      inputs: [
        rectangle('resolution', "resolution of the candidate's display", 0.004 * Math.sqrt(3)),
      ],
      missing: [],
    });
  });
});

describe('zero of a display, whole', () => {
  const use = (level_mW: number, recorded: number, open_mW: number | null) => ({
    level_mW,
    recorded,
    open_mW,
  });
  const ZERO = 'zero of the candidate';
  const open = (half: number) => rectangle('zero', `${ZERO}, where not recorded`, half);
  const known = (half: number) => rectangle('zero', ZERO, half);

  test.each([
    // Half a step of the lowest level; the gaps by the mean over the series of gap ÷ level
    [1, [use(50, 1, 0), use(20, 1, 0)], [known(0.5 / 20)], []],
    [1, [use(50, 0.5, 0.5), use(20, 0.2, 0.4)], [open(0.015), known(0.5 / 20)], []],
    // Never recorded in one of them: each step of it is 1/20 of the lowest level
    [1, [use(50, 1, 0), use(20, 0, null)], [], [named('zero', 'offset would be 5 %')]],
    [1, [use(20, 0, 0.2), use(50, 0.9, null)], [open(0.005)], [named('zero', 'never recorded')]],
    // Recorded for every run: there is no gap that could be unknown
    [1, [use(20, 1, null)], [known(0.5 / 20)], []],
    [null, [use(20, 1, 0)], [], [named('zero', 'the display step is not known')]],
    [null, [use(20, 0.5, 0.2)], [open(0.01)], [named('zero', 'the display step is not known')]],
  ])('step %s, %j', (step, series, inputs, missing) => {
    expect(zero('candidate', step, series)).toEqual({ inputs, missing });
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

  describe('whole', () => {
    const NAME = 'wavelength setting of the reference';
    const per = (perNm: number, distance: number) => rectangle('setting', NAME, perNm * distance);
    const state = (
      status: SettingState['status'],
      effective_nm: readonly (number | null)[] = [520],
      ratio: SettingState['ratio'] = null,
    ) => ({ status, effective_nm, ratio });
    const unsure = { ...METER, wavelength_setting: null };
    const WRONG = named('setting', "to another wavelength than the source's");
    const UNWRITTEN = named('setting', 'not recorded for every run');
    const UNMEASURED = named('setting', 'was not measured (a series under two settings tells)');
    // Down by 650 nm of 520: |ln| ≤ 0.039 over 130 nm, 3e-4 a nm; 5 nm of doubt in every distance
    const other = {
      ...measured,
      from_nm: 640,
      to_nm: 520,
      low: Math.exp(-0.012),
      high: Math.exp(0.06),
    };
    const measuredRatio = (u: number, dof: number) => ({
      name: `${NAME}, measured ratio`,
      kind: 'setting',
      type: 'A',
      shape: 'student',
      relative_standard_uncertainty: expect.closeTo(u, 12),
      dof,
      note: expect.any(String),
    });
    const ratio = (standardUncertainty: number, dof: number) => ({ standardUncertainty, dof });

    test.each([
      [
        'nobody says whether it has one, and nobody wrote one down',
        unsure,
        [state('not-recorded', [null])],
        [measured],
        [],
        [],
      ],
      ['somebody wrote one down', unsure, [state('right')], [], [], [UNMEASURED]],
      ['in some rows alone', unsure, [state('right', [520, null])], [measured], [], [UNWRITTEN]],
      ['not written down', METER, [state('not-recorded', [null])], [measured], [], [UNWRITTEN]],
      ['right', METER, [state('right')], [measured], [per(3e-4, 5)], []],
      // 0.06 over 120 nm is the steeper one; its interval reaches further above than below
      ['the steeper of two', METER, [state('right')], [measured, other], [per(5e-4, 5)], []],
      [
        'the steeper of two, turned',
        METER,
        [state('right')],
        [other, measured],
        [per(5e-4, 5)],
        [],
      ],
      [
        'the farthest below',
        METER,
        [state('near', [520, 510]), state('right', [523])],
        [measured],
        [per(3e-4, 15)],
        [],
      ],
      [
        'a ratio that could not be had tells nothing',
        METER,
        [state('right')],
        [{ ...measured, ratio: null }],
        [],
        [UNMEASURED],
      ],
      [
        'near, and measured of the other meter',
        METER,
        [state('near')],
        [{ ...measured, meter: 'candidate' as const }],
        [],
        [WRONG],
      ],
      [
        'wrong in one series, though measured',
        METER,
        [state('right'), state('wrong', [640])],
        [measured],
        [per(3e-4, 125)],
        [WRONG],
      ],
      [
        'wrong, and not recorded',
        METER,
        [state('wrong', [640, null])],
        [measured],
        [],
        [WRONG, UNWRITTEN],
      ],
      // Two of three series brought: the larger u, 0.006 · 2/3, with the smaller dof
      [
        'brought',
        METER,
        [
          state('brought', [520], ratio(0.004, 7)),
          state('brought', [520], ratio(0.006, 9)),
          state('right'),
        ],
        [measured],
        [per(3e-4, 5), measuredRatio(0.004, 7)],
        [],
      ],
    ])('%s', (_, meter, series, results, inputs, missing) => {
      expect(setting({ meter, wavelength_nm: 520, series }, results)).toEqual({ inputs, missing });
    });
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
  const part = (name: string, u: number, note: unknown) => ({
    ...rectangle('settling', name, u * Math.sqrt(3)),
    note,
  });
  const lag = part('lag of the sensors on a drooping source', 0.002, 'lag');
  const unsettled = part('settling of the sensors', 0.003, expect.stringContaining('still lack'));
  expect(both).toEqual({ inputs: [lag, unsettled], missing: [] });
  const one = { lag: null, unsettled: 0.003, note: '', missing: ['no traces', 'no times'] };
  expect(settling(one)).toEqual({
    inputs: [unsettled],
    missing: [named('settling', 'no traces'), named('settling', 'no times')],
  });
});

test('collections add up', () => {
  const all = collect([calibration(METER, 520), resolution('reference', 0, null)]);
  expect([all.inputs.length, all.missing.length]).toEqual([1, 1]);
});
