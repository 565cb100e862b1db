/** study.json: checked, with its defaults filled in and said aloud. */
import { argumentWrong, type ErrorParts } from '../error.js';
import type {
  Certificate,
  Filter,
  Meter,
  MeterRole,
  Protocol,
  Source,
  StudyRecord,
  Warning,
} from '../vocabulary.js';
import { quoted, throwFaults } from './faults.js';
import { jsonValue } from './jsonText.js';
import { shapeFaults, unknownFields } from './shapeFaults.js';
import type { MeterFields, StudyFields } from './studySchema.js';
import { DEFAULTS, studySchema } from './studySchema.js';

const FILE = 'study.json';

/** What study.json settles before a run is looked at. */
export interface StudySettings {
  readonly title: string;
  readonly record: StudyRecord;
  readonly reference: Meter;
  readonly candidate: Meter;
  /** `null`: left out, so the runs have to carry the wavelength of the one source. */
  readonly sources: readonly Source[] | null;
  readonly filters: readonly Filter[];
  readonly protocol: Protocol;
  readonly tolerance: number;
  readonly tolerance_stated: boolean;
  readonly confidence: number;
  readonly limits_multiplier: number;
  readonly between_series: number | null;
}

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
  const reference = meter('reference', fields.reference);
  const candidate = meter('candidate', fields.candidate);
  const between = fields.between_series_percent ?? null;
  return {
    title: fields.title?.trim() ?? `${candidate.name} against ${reference.name}`,
    record: recordOf(fields.record ?? {}),
    reference,
    candidate,
    sources: fields.sources?.length ? fields.sources.map(sourceOf) : null,
    filters: (fields.filters ?? []).map((filter) => ({
      name: filter.name.trim(),
      transmissions: filter.transmissions ?? [],
    })),
    protocol: protocolOf(fields.protocol ?? {}),
    tolerance: (fields.tolerance_percent ?? DEFAULTS.tolerance_percent) / 100,
    tolerance_stated: typeof fields.tolerance_percent === 'number',
    confidence: fields.confidence ?? DEFAULTS.confidence,
    limits_multiplier: fields.limits_multiplier ?? DEFAULTS.limits_multiplier,
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

type Given<Key extends keyof StudyFields> = NonNullable<StudyFields[Key]>;

function recordOf(record: Given<'record'>): StudyRecord {
  return {
    date: record.date ?? null,
    place: record.place ?? null,
    operator: record.operator ?? null,
    temperature_C: record.temperature_C ?? null,
    distance_mm: record.distance_mm ?? null,
    remarks: record.remarks ?? null,
  };
}

function sourceOf(source: Given<'sources'>[number]): Source {
  return {
    name: source.name.trim(),
    wavelength_nm: source.wavelength_nm,
    label_class: textOrNull(source.label_class),
    label_max_mW: source.label_max_mW ?? null,
    emission: source.emission ?? null,
    beam_diameter_mm: source.beam_diameter_mm ?? null,
  };
}

function protocolOf(protocol: Given<'protocol'>): Protocol {
  return {
    order: protocol.order ?? null,
    discard_first_laps: protocol.discard_first_laps ?? DEFAULTS.discard_first_laps,
    read_at_s: protocol.read_at_s ?? null,
    placement: protocol.placement ?? null,
    exclude_cold_starts: protocol.exclude_cold_starts ?? DEFAULTS.exclude_cold_starts,
    exclude_outliers: protocol.exclude_outliers ?? DEFAULTS.exclude_outliers,
  };
}

function meter(role: MeterRole, fields: MeterFields): Meter {
  return {
    role,
    name: fields.name?.trim() ?? role,
    resolution_mW: fields.resolution_mW ?? null,
    rated_max_mW: fields.rated_max_mW ?? null,
    expanded_uncertainty_percent: fields.expanded_uncertainty_percent ?? null,
    coverage_factor: fields.coverage_factor ?? DEFAULTS.coverage_factor,
    wavelength_setting: fields.wavelength_setting ?? null,
    time_constant_s: fields.time_constant_s ?? null,
    serial: fields.serial ?? null,
    linearity_percent: fields.linearity_percent ?? null,
    drift_percent_per_year: fields.drift_percent_per_year ?? null,
    certificate: certificateOf(fields),
    recheck_after_months: fields.recheck_after_months ?? DEFAULTS.recheck_after_months,
  };
}

function certificateOf({ certificate }: MeterFields): Certificate | null {
  if (certificate === null || certificate === undefined) return null;
  return {
    number: certificate.number ?? null,
    laboratory: certificate.laboratory ?? null,
    issued: certificate.issued ?? null,
    valid_until: certificate.valid_until ?? null,
    by_wavelength: [...(certificate.by_wavelength ?? [])]
      .map((one) => ({
        wavelength_nm: one.wavelength_nm,
        correction_factor: one.correction_factor ?? 1,
        expanded_uncertainty_percent: one.expanded_uncertainty_percent,
        coverage_factor: one.coverage_factor ?? DEFAULTS.coverage_factor,
      }))
      .sort((a, b) => a.wavelength_nm - b.wavelength_nm),
  };
}

function textOrNull(value: string | number | null | undefined): string | null {
  return value === null || value === undefined ? null : String(value);
}

function fieldWarnings(fields: StudyFields): Warning[] {
  const warnings: Warning[] = [];
  const warn = (code: string, message: string): void => {
    warnings.push({ code, message });
  };
  for (const role of ['reference', 'candidate'] as const) {
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
  check(
    'sources',
    'name',
    (fields.sources ?? []).map((source) => source.name.trim()),
  );
  const filters = fields.filters ?? [];
  check(
    'filters',
    'name',
    filters.map((filter) => filter.name.trim()),
  );
  filters.forEach((filter, index) => {
    check(
      `filters, entry ${index + 1}, transmissions`,
      'wavelength_nm',
      (filter.transmissions ?? []).map((at) => at.wavelength_nm),
    );
  });
  return faults;
}
