import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { studyJsonSchema } from '../../src/record/studyJsonSchema.js';
import { LABEL_CLASSES } from '../../src/record/studySchema.js';

const schema = studyJsonSchema();
const accepts = new Ajv2020({ strict: true, strictTypes: false }).compile(schema);

const FULL = {
  $schema: './study.schema.json',
  title: 'Invented study',
  reference: {
    name: 'bench meter',
    resolution_mW: 0.1,
    rated_max_mW: 5000,
    expanded_uncertainty_percent: 3,
    coverage_factor: 2,
    wavelength_setting: true,
    time_constant_s: 2.5,
  },
  candidate: { name: 'drawer meter', resolution_mW: 1, wavelength_setting: false },
  sources: [{ name: 'green', wavelength_nm: 520, label_class: '3B', label_max_mW: 60 }],
  filters: [
    {
      name: 'short pass',
      transmissions: [{ wavelength_nm: 520, transmission: 0.92, standard_uncertainty: 0.01 }],
    },
  ],
  protocol: {
    order: 'ABBA-BAAB',
    discard_first_laps: 0,
    read_at_s: 20,
    exclude_cold_starts: true,
    exclude_outliers: false,
  },
  tolerance_percent: 5,
  confidence: 0.95,
  limits_multiplier: 1.96,
  between_series_percent: 0.5,
};

test('a study with every field is accepted', () => {
  expect(accepts(FULL)).toBe(true);
  expect(accepts.errors).toBeNull();
});

test('the smallest study is accepted, and so is an unknown field, which reading only warns of', () => {
  expect(accepts({ reference: {}, candidate: {} })).toBe(true);
  expect(accepts({ reference: {}, candidate: {}, weather: 'fine' })).toBe(true);
});

test('every label class is accepted', () => {
  for (const label_class of [...LABEL_CLASSES, 1, 2, 4]) {
    expect(accepts({ ...FULL, sources: [{ name: 'g', wavelength_nm: 520, label_class }] })).toBe(
      true,
    );
  }
});

test.each([
  ['no candidate', { reference: {} }],
  ['a confidence of 95', { ...FULL, confidence: 95 }],
  ['a number in quotation marks', { ...FULL, tolerance_percent: '5' }],
  ['a source without wavelength', { ...FULL, sources: [{ name: 'green' }] }],
  ['an unknown order', { ...FULL, protocol: { order: 'BABA' } }],
  [
    'an unknown label class',
    { ...FULL, sources: [{ name: 'g', wavelength_nm: 5e2, label_class: 3 }] },
  ],
  ['a coverage factor of 0', { ...FULL, reference: { coverage_factor: 0 } }],
  ['an empty name', { ...FULL, reference: { name: ' ' } }],
])('%s is refused', (_, study) => {
  expect(accepts(study)).toBe(false);
});

test('every field has a description, and the document names its draft', () => {
  expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
  const bare: string[] = [];
  let fields = 0;
  const visit = (node: unknown, path: string): void => {
    if (typeof node !== 'object' || node === null) return;
    for (const [key, value] of Object.entries(node)) {
      if (key === 'properties') {
        for (const [name, field] of Object.entries(value as Record<string, unknown>)) {
          fields += 1;
          const { description } = field as { description?: unknown };
          if (typeof description !== 'string' || description.length < 15)
            bare.push(`${path}/${name}`);
        }
      }
      visit(value, `${path}/${key}`);
    }
  };
  visit(schema, '');
  expect(bare).toEqual([]);
  // As many as docs/file-formats.md lists; a schema that came out empty would pass the rest.
  const [study, record, meter, certificate, byWavelength] = [12, 6, 12, 5, 4];
  const [source, filter, transmission, protocol] = [6, 2, 3, 6];
  expect(fields).toBe(
    study +
      record +
      2 * (meter + certificate + byWavelength) +
      source +
      filter +
      transmission +
      protocol,
  );
});
