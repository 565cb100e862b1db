/** Reads factors.json and refuses what a correction could not rest on. */
import * as z from 'zod';
import { type ErrorParts, MeterpairError } from '../error.js';
import { DAY_EXPECTED, isDay } from '../record/days.js';
import type { Factors } from '../vocabulary.js';

const SCHEMA = 'meterpair.factors/2';
/** Written by earlier versions, and still read. */
const EARLIER = 'meterpair.factors/1';

const positive = z.number().positive();
const interval = z
  .tuple([z.number(), z.number()])
  .readonly()
  .refine(([low, high]) => low <= high, 'The lower end must not lie above the upper end.');

const share = z.number().nonnegative();

const holdsFactor = ({ low, factor, high }: Readonly<Record<'low' | 'factor' | 'high', number>>) =>
  low <= factor && factor <= high;
const OUTSIDE = 'The factor must lie between its low and its high.';

// The fields in the order of the file, so that what is read is written with the same bytes.
const level = z
  .object({
    candidate_mW: interval,
    centre_mW: positive,
    factor: positive,
    low: positive,
    high: positive,
    relative_standard_uncertainty: share,
    dof: positive,
    coverage_factor: positive,
    placement_relative_standard_uncertainty: share,
    rest_dof: positive,
    placement_correlation_with_next: z.number().gte(-1).lte(1).optional(),
    own: z.object({
      factor: positive,
      relative_standard_uncertainty: share,
      dof: positive,
      coverage_factor: positive,
    }),
    series: z.array(z.string()),
  })
  .refine(holdsFactor, OUTSIDE);

const entry = z
  .object({
    wavelength_nm: positive,
    factor: positive,
    low: positive,
    high: positive,
    relative_standard_uncertainty: share,
    dof: positive,
    relative_expanded_uncertainty: share,
    coverage_factor: positive,
    candidate_range_mW: interval,
    levels: z.array(level).min(1, 'At least one level of power is needed.'),
    offset_mW: z.number().nullable(),
    reading_relative_sd: share,
    reading_dof: share,
    next_series_relative_sd: share.optional(),
    next_series_dof: positive.optional(),
    verdict: z.enum(['within-tolerance', 'correct-it', 'not-shown', 'inconclusive']),
    reference_contradicted_by: z.array(z.enum(['certificate', 'maker', 'third-meter'])).optional(),
  })
  .refine(holdsFactor, OUTSIDE);

const readingKind = z.object({
  kind: z.enum(['settled', 'as-read']),
  read_at_s: positive.nullable(),
  candidate_time_constant_s: positive.nullable(),
  candidate_time_constant_standard_uncertainty_s: z.number().nonnegative().nullable(),
  why: z.string(),
});

const factorsSchema: z.ZodType<Factors> = z
  .object({
    schema: z.literal(SCHEMA),
    date: z.string().refine(isDay, `Must be ${DAY_EXPECTED}.`).nullable(),
    recheck_after_months: positive.max(1e6).optional(),
    data_sha256: z.string().regex(/^[0-9a-f]{64}$/, 'Must be 64 hexadecimal digits.'),
    readings_sha256: z.string().optional(),
    title: z.string(),
    reading: readingKind.optional(),
    direction: z.literal('corrected = factor × candidate reading'),
    reference: z.object({
      name: z.string(),
      uncertainty_stated: z.boolean(),
      relative_standard_uncertainty: z.number().nonnegative().nullable().optional(),
    }),
    candidate: z.object({
      name: z.string(),
      resolution_mW: positive.nullable(),
      rated_max_mW: positive.nullable(),
    }),
    confidence: z.number().gt(0).lt(1),
    tolerance_percent: positive,
    wavelength_range_nm: interval.nullable(),
    factors: z.array(entry),
    cautions: z.array(z.string()),
  })
  .refine(
    ({ factors }) => new Set(factors.map((one) => one.wavelength_nm)).size === factors.length,
    'A wavelength must not appear twice.',
  );

/**
 * Reads and checks the content of factors.json.
 *
 * @param content the text of the file, or what `JSON.parse` made of it
 * @param file name of the file, for error messages
 * @returns the factors; a candidate reading is multiplied by a factor
 * @throws factors-invalid for text that is no JSON, for another version of the format, and, with
 *   all faults at once, for fields that are missing or wrong
 */
export function parseFactors(content: unknown, file?: string): Factors {
  const place = file === undefined ? {} : { file };
  const data = typeof content === 'string' ? readJson(content, place) : content;
  const version = schemaOf(data);
  if (version !== SCHEMA && version !== EARLIER) {
    throw new MeterpairError({
      code: 'factors-invalid',
      ...place,
      message: version?.startsWith('meterpair.factors/')
        ? 'The factors are written in another version of the format, which this version of meterpair cannot read.'
        : 'This is not a file of factors: its field "schema" does not say so.',
      found: version === null ? 'no schema' : JSON.stringify(version),
      expected: `"${SCHEMA}"`,
    });
  }
  const read = factorsSchema.safeParse(version === EARLIER ? fromEarlier(data) : data);
  if (read.success) return read.data;
  const [first, ...others] = read.error.issues.map(
    (issue): ErrorParts => ({
      code: 'factors-invalid',
      ...place,
      message: `${pathOf(issue.path)}: ${issue.message}`,
      ...foundAt(data, issue.path),
    }),
  );
  throw new MeterpairError({ ...first, others });
}

/** One level for each wavelength: an earlier version knew no more. A fault stays for the check. */
function fromEarlier(data: unknown): unknown {
  if (typeof data !== 'object' || data === null || !('factors' in data)) return data;
  if (!Array.isArray(data.factors)) return data;
  return {
    ...data,
    schema: SCHEMA,
    date: null,
    factors: data.factors.map((one: unknown) => {
      if (typeof one !== 'object' || one === null) return one;
      const entry = one as Readonly<Record<string, unknown>>;
      const { factor, low, high, relative_standard_uncertainty, dof, coverage_factor } = entry;
      const own = { factor, relative_standard_uncertainty, dof, coverage_factor };
      const range = entry.candidate_range_mW;
      const [least, most] = Array.isArray(range) ? range.map(Number) : [Number.NaN, Number.NaN];
      return {
        ...entry,
        offset_mW: null,
        levels: [
          {
            ...own,
            low,
            high,
            candidate_mW: range,
            centre_mW: Math.sqrt(least * most),
            placement_relative_standard_uncertainty: 0,
            rest_dof: dof,
            own,
            series: [],
          },
        ],
      };
    }),
  };
}

function readJson(text: string, place: { readonly file?: string }): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new MeterpairError({
      code: 'factors-invalid',
      ...place,
      message: `The factors cannot be read as JSON (${cause instanceof Error ? cause.message : 'unknown fault'}).`,
      expected: 'the factors.json that an analysis wrote',
    });
  }
}

function schemaOf(data: unknown): string | null {
  if (typeof data !== 'object' || data === null || !('schema' in data)) return null;
  return typeof data.schema === 'string' ? data.schema : JSON.stringify(data.schema);
}

function pathOf(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, key) => (typeof key === 'number' ? `${text}[${key}]` : `${text}.${String(key)}`),
    'factors',
  );
}

function foundAt(data: unknown, path: readonly PropertyKey[]): { readonly found?: string } {
  let value = data;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return {};
    value = Object.entries(value).find(([name]) => name === String(key))?.[1];
  }
  if (value === undefined) return { found: 'nothing' };
  const text = JSON.stringify(value) ?? '';
  return text.length > 80 ? {} : { found: text };
}
