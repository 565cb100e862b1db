/** study.json: checked, with its defaults filled in and said aloud. */
import { argumentWrong, type ErrorParts } from '../error.js';
import type { Meter, MeterRole, Source, Study, Warning } from '../vocabulary.js';
import { quoted, throwFaults } from './faults.js';
import { jsonValue } from './jsonText.js';
import { METERS } from './meters.js';
import { shapeFaults, unknownFields } from './shapeFaults.js';
import { DEFAULTS, type MeterFields, type StudyFields, studySchema } from './studySchema.js';

const FILE = 'study.json';

/** What study.json settles before a run is looked at. */
export type StudySettings = Pick<
  Study,
  | 'title'
  | 'record'
  | 'reference'
  | 'candidate'
  | 'filters'
  | 'protocol'
  | 'tolerance'
  | 'tolerance_stated'
  | 'confidence'
  | 'limits_multiplier'
  | 'between_series'
> & {
  /** `null`: left out, so the runs have to carry the wavelength of the one source. */
  readonly sources: readonly Source[] | null;
};

/**
 * The content of study.json from its text.
 *
 * @throws study-json-invalid with line and column
 */
export function studyValue(text: string): unknown {
  const faults: ErrorParts[] = [];
  const value = jsonValue(text, { code: 'study-json-invalid', file: FILE }, faults);
  throwFaults(faults);
  return value;
}

/** @throws as `studySettings` has faults */
export function checkedSettings(input: unknown): StudySettings {
  const faults: ErrorParts[] = [];
  const settings = studySettings(input, faults, []);
  throwFaults(faults);
  // Whatever withholds them has left a fault.
  if (settings === null) throw argumentWrong('The settings cannot be read.');
  return settings;
}

/** Checks the content of study.json. Faults and warnings go to the given lists; `null` if faulty. */
export function studySettings(
  input: unknown,
  faults: ErrorParts[],
  warnings: Warning[],
): StudySettings | null {
  const fields = checkedFields(input, faults);
  if (fields === null) return null;
  warnings.push(...unknownFields(studySchema, input, FILE), ...fieldWarnings(fields));
  const { record, sources, filters, protocol, confidence, limits_multiplier } = fields;
  const { tolerance_percent, between_series_percent: between } = fields;
  const reference = meter('reference', fields.reference);
  const candidate = meter('candidate', fields.candidate);
  return {
    title: fields.title ?? `${candidate.name} against ${reference.name}`,
    record,
    reference,
    candidate,
    sources: sources?.length ? sources : null,
    filters,
    protocol,
    tolerance: (tolerance_percent ?? DEFAULTS.tolerance_percent) / 100,
    tolerance_stated: typeof tolerance_percent === 'number',
    confidence,
    limits_multiplier,
    between_series: between === null ? null : between / 100,
  };
}

/** The fields as the schema has them; `null` where one is wrong. */
function checkedFields(input: unknown, faults: ErrorParts[]): StudyFields | null {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    faults.push({
      code: 'study-json-invalid',
      file: FILE,
      message: 'The study is not an object.',
      found: quoted(input),
      expected: 'an object in braces with at least "reference" and "candidate"',
    });
    return null;
  }
  const checked = studySchema.safeParse(input);
  const place = { code: 'study-field-wrong', file: FILE } as const;
  const found = checked.success
    ? twice(checked.data)
    : shapeFaults(checked.error.issues, studySchema, input, place);
  faults.push(...found);
  return checked.success && found.length === 0 ? checked.data : null;
}

function meter(role: MeterRole, fields: MeterFields): Meter {
  const { name, coverage_factor } = fields;
  return {
    ...fields,
    role,
    name: name ?? role,
    coverage_factor: coverage_factor ?? DEFAULTS.coverage_factor,
  };
}

function fieldWarnings(fields: StudyFields): Warning[] {
  const warnings: Warning[] = [];
  const warn = (code: string, message: string): void => {
    warnings.push({ code, message });
  };
  for (const role of METERS) {
    const { name, expanded_uncertainty_percent: U, coverage_factor: k } = fields[role];
    if (typeof name !== 'string') {
      warn(
        'meter-name-default',
        `The ${role} meter has no name in study.json, so nobody can tell later which meter these factors belong to.`,
      );
    }
    if (typeof U === 'number' && typeof k !== 'number') {
      warn(
        'coverage-factor-default',
        `The ${role}'s expanded uncertainty of ${U} % is stated without its coverage factor; k = ${DEFAULTS.coverage_factor} is assumed. Look it up in the certificate.`,
      );
    }
    if (typeof U !== 'number' && typeof k === 'number') {
      warn(
        'coverage-factor-alone',
        `The ${role} has a coverage factor but no expanded_uncertainty_percent; the coverage factor is not used.`,
      );
    }
    // Common practice, no source: thermal meters are calibrated to about 1 % to 5 %.
    if (typeof U === 'number' && U < 0.1) {
      warn(
        'uncertainty-implausible',
        `The ${role}'s expanded uncertainty is given as ${U} %, better than laser power meters are calibrated. Is it a fraction? Write 3 for 3 %.`,
      );
    }
  }
  const certified = (fields.reference.certificate?.by_wavelength ?? []).length > 0;
  if (typeof fields.reference.expanded_uncertainty_percent !== 'number' && !certified) {
    warn(
      'reference-uncertainty-not-stated',
      'study.json states no calibration uncertainty of the reference meter (expanded_uncertainty_percent), so every factor holds relative to this reference only: its own error is in none of the intervals.',
    );
  }
  if (typeof fields.tolerance_percent !== 'number') {
    warn(
      'tolerance-default',
      `study.json states no tolerance_percent; ${DEFAULTS.tolerance_percent} % stands in. The verdicts depend on it, so state what you need.`,
    );
  }
  return warnings;
}

/** Names that stand twice, which the shape alone cannot tell. */
function twice(fields: StudyFields): ErrorParts[] {
  const faults: ErrorParts[] = [];
  const check = (list: string, key: string, values: readonly (string | number)[]): void => {
    const seen = new Map<string | number, number>();
    values.forEach((value, index) => {
      const first = seen.get(value);
      if (first === undefined) {
        seen.set(value, index);
        return;
      }
      faults.push({
        code: 'study-field-wrong',
        file: FILE,
        message: `"${list}, entry ${index + 1}, ${key}" repeats entry ${first + 1}.`,
        found: quoted(value),
        expected: 'every entry different',
      });
    });
  };
  const nameOf = (one: { readonly name: string }) => one.name;
  check('sources', 'name', (fields.sources ?? []).map(nameOf));
  check('filters', 'name', fields.filters.map(nameOf));
  fields.filters.forEach(({ transmissions }, index) => {
    const list = `filters, entry ${index + 1}, transmissions`;
    check(
      list,
      'wavelength_nm',
      transmissions.map((at) => at.wavelength_nm),
    );
  });
  return faults;
}
