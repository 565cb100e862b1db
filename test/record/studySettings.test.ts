import { describe, expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { Study } from '../../src/vocabulary.js';
import { codesOf, errorOf, PLAIN, studyOf, TIDY, warningOf } from './support.js';

const withStudy = (study: unknown): Study => studyOf(TIDY, study);

describe('defaults', () => {
  test('everything that may be left out has the documented default', () => {
    const study = withStudy({
      reference: { name: 'bench' },
      candidate: { name: 'drawer' },
      sources: [{ name: 'green', wavelength_nm: 520 }],
    });
    expect(study).toMatchObject({
      title: 'drawer against bench',
      filters: [],
      protocol: {
        order: null,
        discard_first_laps: 0,
        read_at_s: null,
        placement: null,
        exclude_cold_starts: true,
        exclude_outliers: false,
      },
      tolerance: 0.05,
      tolerance_stated: false,
      confidence: 0.95,
      limits_multiplier: 1.96,
      between_series: null,
      traces: [],
      opinions: [],
    });
    expect(study.reference).toEqual({
      role: 'reference',
      name: 'bench',
      resolution_mW: null,
      rated_max_mW: null,
      expanded_uncertainty_percent: null,
      coverage_factor: 2,
      wavelength_setting: null,
      time_constant_s: null,
      serial: null,
      linearity_percent: null,
      drift_percent_per_year: null,
      certificate: null,
      recheck_after_months: 12,
    });
    expect(study.sources[0]).toEqual({
      name: 'green',
      wavelength_nm: 520,
      label_class: null,
      label_max_mW: null,
      emission: null,
      beam_diameter_mm: null,
    });
    expect(study.record).toEqual({
      date: null,
      place: null,
      operator: null,
      temperature_C: null,
      distance_mm: null,
      remarks: null,
    });
  });

  test('everything that is stated arrives', () => {
    const study = withStudy({
      $schema: './study.schema.json',
      title: 'T',
      reference: {
        name: 'bench',
        resolution_mW: 0.1,
        rated_max_mW: 5000,
        expanded_uncertainty_percent: 3,
        coverage_factor: 2.1,
        wavelength_setting: true,
        time_constant_s: 2.5,
        serial: 'R-17',
        linearity_percent: 0.5,
        drift_percent_per_year: 1,
        certificate: {
          number: 'N-1',
          laboratory: 'a laboratory',
          issued: '2023-11-02',
          valid_until: '2024-11-02',
          by_wavelength: [
            { wavelength_nm: 532, correction_factor: 1.004, expanded_uncertainty_percent: 2.4 },
            { wavelength_nm: 633, expanded_uncertainty_percent: 2, coverage_factor: 2.1 },
          ],
        },
      },
      candidate: { name: 'drawer', recheck_after_months: 6 },
      sources: [
        {
          name: 'green',
          wavelength_nm: 520,
          label_class: '3B',
          label_max_mW: 60,
          emission: 'continuous',
          beam_diameter_mm: 3,
        },
      ],
      record: {
        date: '2024-05-01',
        place: 'the bench',
        operator: 'one person',
        temperature_C: 21.5,
        distance_mm: 120,
        remarks: 'none',
      },
      protocol: {
        order: 'reference-first',
        discard_first_laps: 1,
        read_at_s: 20,
        placement: 'jig',
        exclude_cold_starts: false,
        exclude_outliers: true,
      },
      tolerance_percent: 2,
      confidence: 0.9,
      limits_multiplier: 2,
      between_series_percent: 1,
    });
    expect(study.warnings).toEqual([]);
    expect(study.reference).toMatchObject({
      resolution_mW: 0.1,
      coverage_factor: 2.1,
      wavelength_setting: true,
      time_constant_s: 2.5,
    });
    expect(study.protocol).toEqual({
      order: 'reference-first',
      discard_first_laps: 1,
      read_at_s: 20,
      placement: 'jig',
      exclude_cold_starts: false,
      exclude_outliers: true,
    });
    expect(study.reference).toMatchObject({
      serial: 'R-17',
      linearity_percent: 0.5,
      drift_percent_per_year: 1,
      certificate: {
        number: 'N-1',
        laboratory: 'a laboratory',
        issued: '2023-11-02',
        valid_until: '2024-11-02',
        by_wavelength: [
          // Left out: a correction of 1, and k = 2.
          {
            wavelength_nm: 532,
            correction_factor: 1.004,
            expanded_uncertainty_percent: 2.4,
            coverage_factor: 2,
          },
          {
            wavelength_nm: 633,
            correction_factor: 1,
            expanded_uncertainty_percent: 2,
            coverage_factor: 2.1,
          },
        ],
      },
    });
    expect(study.candidate.recheck_after_months).toBe(6);
    expect(study.record).toEqual({
      date: '2024-05-01',
      place: 'the bench',
      operator: 'one person',
      temperature_C: 21.5,
      distance_mm: 120,
      remarks: 'none',
    });
    expect(study).toMatchObject({
      title: 'T',
      tolerance: 0.02,
      tolerance_stated: true,
      confidence: 0.9,
      limits_multiplier: 2,
      between_series: 0.01,
    });
    expect(study.sources[0]).toMatchObject({
      label_class: '3B',
      label_max_mW: 60,
      emission: 'continuous',
      beam_diameter_mm: 3,
    });
  });

  test('null is as good as left out', () => {
    const study = withStudy({
      ...PLAIN,
      tolerance_percent: null,
      protocol: null,
      candidate: { name: 'drawer', resolution_mW: null },
    });
    expect(study.tolerance_stated).toBe(false);
    expect(study.candidate.resolution_mW).toBeNull();
  });
});

describe('warnings', () => {
  test('a reference without uncertainty makes factors relative to it only', () => {
    const study = withStudy({ ...PLAIN, reference: { name: 'bench' } });
    expect(study.reference.expanded_uncertainty_percent).toBeNull();
    expect(warningOf(study, 'reference-uncertainty-not-stated')).toContain(
      'relative to this reference only',
    );
  });

  test('an expanded uncertainty without coverage factor is taken at k = 2', () => {
    const study = withStudy({
      ...PLAIN,
      reference: { name: 'bench', expanded_uncertainty_percent: 3 },
    });
    expect(study.reference.coverage_factor).toBe(2);
    expect(warningOf(study, 'coverage-factor-default')).toContain('k = 2 is assumed');
  });

  test('a missing tolerance is 5 %, and said', () => {
    const { tolerance_percent: _, ...bare } = PLAIN;
    expect(warningOf(withStudy(bare), 'tolerance-default')).toContain('5 %');
    expect(codesOf(withStudy(PLAIN))).not.toContain('tolerance-default');
  });

  test('a meter without a name is warned of', () => {
    const study = withStudy({ ...PLAIN, candidate: {} });
    expect(study.candidate.name).toBe('candidate');
    expect(warningOf(study, 'meter-name-default')).toContain('candidate');
  });

  test('an uncertainty that looks like a fraction is warned of', () => {
    const study = withStudy({
      ...PLAIN,
      reference: { name: 'bench', expanded_uncertainty_percent: 0.03, coverage_factor: 2 },
    });
    expect(warningOf(study, 'uncertainty-implausible')).toContain('Write 3 for 3 %');
  });

  test('unknown fields at every depth are warned of, with what they may have meant', () => {
    const study = withStudy({
      ...PLAIN,
      tolerence: 5,
      reference: { ...PLAIN.reference, resolution: 1 },
      sources: [{ name: 'green', wavelength_nm: 520, lable_class: '2' }],
      protocol: { discard_first_lap: 1, weather: 'fine' },
    });
    const messages = study.warnings.map(({ message }) => message);
    expect(codesOf(study)).toEqual(Array(5).fill('unknown-field'));
    // tolerance_percent is stated already, so it cannot be what was meant.
    expect(messages.find((text) => text.includes('tolerence'))).not.toContain('Did you mean');
    expect(messages.join('\n')).toMatch(/"reference, resolution".*"resolution_mW"/);
    expect(messages.join('\n')).toMatch(/"sources, entry 1, lable_class".*"label_class"/);
    expect(messages.join('\n')).toMatch(/"protocol, discard_first_lap".*"discard_first_laps"/);
    expect(messages.join('\n')).toMatch(/"protocol, weather"/);
  });

  test('$schema is no unknown field', () => {
    expect(withStudy({ ...PLAIN, $schema: './x.json' }).warnings).toEqual([]);
  });
});

describe('labels', () => {
  test.each([
    ...['1', '1M', '2', '2M', '3R', '3B', '4'],
    ...['I', 'II', 'IIa', 'IIIa', 'IIIb', 'IV'],
  ])('class %s is kept as typed', (label_class) => {
    const study = withStudy({
      ...PLAIN,
      sources: [{ name: 'green', wavelength_nm: 520, label_class }],
    });
    expect(study.sources[0]?.label_class).toBe(label_class);
  });

  test.each([1, 2, 4])('class %d may be a number', (label_class) => {
    const study = withStudy({
      ...PLAIN,
      sources: [{ name: 'green', wavelength_nm: 520, label_class }],
    });
    expect(study.sources[0]?.label_class).toBe(String(label_class));
  });

  test.each(['3A', '5', 'V', '', 3, true, '2 ', 'Class 2'])(
    'class %j is refused with the list',
    (label_class) => {
      const error = errorOf(() =>
        withStudy({ ...PLAIN, sources: [{ name: 'green', wavelength_nm: 520, label_class }] }),
      );
      expect(error).toMatchObject({ code: 'study-field-wrong', file: 'study.json' });
      expect(error.message).toContain('sources, entry 1, label_class');
      expect(error.expected).toMatch(/1M.*3R.*IIIb/);
    },
  );
});

describe('faults', () => {
  test.each([undefined, null, 7, 'text', [], true])('%j is no study', (study) => {
    const call = () => parseStudy(study, { runs: TIDY });
    expect(errorOf(call)).toMatchObject({ code: 'study-json-invalid', file: 'study.json' });
  });

  test('all faults are reported at once', () => {
    const error = errorOf(() =>
      withStudy({
        reference: { name: '', coverage_factor: 0, expanded_uncertainty_percent: 0 },
        candidate: 'drawer',
        sources: [{ name: 'green' }],
        protocol: { order: 'BABA', discard_first_laps: 0.5 },
        confidence: 95,
      }),
    );
    const text = error.message;
    expect(error.code).toBe('study-field-wrong');
    expect(error.others).toHaveLength(7);
    for (const field of [
      '"reference, name"',
      '"reference, coverage_factor"',
      '"reference, expanded_uncertainty_percent"',
      '"candidate"',
      '"sources, entry 1, wavelength_nm" is missing',
      '"protocol, order"',
      '"protocol, discard_first_laps"',
      '"confidence"',
    ]) {
      expect(text).toContain(field);
    }
    expect(text).toContain('reference-first, candidate-first, ABBA, ABBA-BAAB');
    expect(text).toContain('for example 0.95 (not 95)');
  });

  test('a required field that looks misspelt is pointed out', () => {
    const error = errorOf(() => withStudy({ refrence: { name: 'b' }, candidate: { name: 'p' } }));
    expect(error.message).toContain('"refrence" looks like a misspelling');
  });

  test('a number in quotation marks is pointed out', () => {
    const error = errorOf(() => withStudy({ ...PLAIN, tolerance_percent: '5 %' }));
    expect(error.message).toContain('Numbers stand without quotation marks.');
    expect(error.found).toBe('"5 %"');
  });

  test.each([
    ['tolerance_percent', 0],
    ['tolerance_percent', -5],
    ['tolerance_percent', 100],
    ['tolerance_percent', Number.NaN],
    ['tolerance_percent', Number.POSITIVE_INFINITY],
    ['confidence', 0.5],
    ['confidence', 1],
    ['confidence', 95],
    ['limits_multiplier', 0],
    ['between_series_percent', -1],
    ['title', ' '],
    ['sources', {}],
  ])('%s = %j is refused', (field, value) => {
    const error = errorOf(() => withStudy({ ...PLAIN, [field]: value }));
    expect(error.code).toBe('study-field-wrong');
    expect(error.message).toContain(`"${field}"`);
    expect(error.expected).toBeDefined();
  });

  test.each([
    ['resolution_mW', 0],
    ['rated_max_mW', -1],
    ['coverage_factor', 0],
    ['coverage_factor', -2],
    ['expanded_uncertainty_percent', 0],
    ['expanded_uncertainty_percent', 100],
    ['time_constant_s', 0],
    ['wavelength_setting', 'yes'],
  ])('a meter with %s = %j is refused', (field, value) => {
    const error = errorOf(() => withStudy({ ...PLAIN, candidate: { name: 'p', [field]: value } }));
    expect(error.message).toContain(`"candidate, ${field}"`);
  });

  test('two sources or two filters of one name are refused', () => {
    const green = { name: 'green', wavelength_nm: 520 };
    const error = errorOf(() =>
      withStudy({ ...PLAIN, sources: [green, { ...green, name: ' green ', wavelength_nm: 532 }] }),
    );
    expect(error.message).toContain('"sources, entry 2, name" repeats entry 1');
    const transmission = { wavelength_nm: 520, transmission: 0.9, standard_uncertainty: 0.01 };
    const filter = { name: 'f', transmissions: [transmission, transmission] };
    const filters = errorOf(() => withStudy({ ...PLAIN, filters: [filter, filter] }));
    expect([filters, ...filters.others]).toHaveLength(3);
  });

  test('a transmission above 1 is refused: it is a fraction, not percent', () => {
    const error = errorOf(() =>
      withStudy({
        ...PLAIN,
        filters: [
          {
            name: 'f',
            transmissions: [{ wavelength_nm: 520, transmission: 92, standard_uncertainty: 0.01 }],
          },
        ],
      }),
    );
    expect(error.expected).toContain('0.92 for 92 %');
  });

  test('a study that refers to itself is refused, not followed', () => {
    const study: Record<string, unknown> = { ...PLAIN };
    study.self = study;
    expect(errorOf(() => withStudy(study)).code).toBe('argument-wrong');
  });
});

test('the bounds of a display step are named as numbers that differ from zero', () => {
  const wrong = errorOf(() =>
    withStudy({
      reference: { name: 'bench', resolution_mW: 1e-13 },
      candidate: { name: 'drawer' },
    }),
  );
  expect(wrong.message).toContain('not below 0.000000000001 nor above 100000000');
});

test('a certificate that runs out before it was issued is a fault, on that day and within stated months not', () => {
  const withDays = (issued: string, valid_until: string) => () =>
    withStudy({ ...PLAIN, reference: { name: 'R', certificate: { issued, valid_until } } });
  const error = errorOf(withDays('2025-05-01', '2025-04-30'));
  expect(error.code).toBe('study-field-wrong');
  expect(error.message).toMatch(
    /"reference, certificate, valid_until" is not right.*before "issued"/,
  );
  expect(withDays('2025-05-01', '2025-05-01')().reference.certificate).not.toBeNull();
  expect(withDays('2025-05-01', '2025')().reference.certificate).not.toBeNull();
});
