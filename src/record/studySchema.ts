/** The fields of study.json: their shape for checking, their meaning for editors. */
import * as z from 'zod';
import { DAY_EXPECTED, isBefore, isDay } from './days.js';

/** Wavelengths that a laser in front of these meters can plausibly have, in nm. */
export const WAVELENGTH_MIN_NM = 150;
export const WAVELENGTH_MAX_NM = 20_000;
export const WAVELENGTH_EXPECTED = `a wavelength in nm from ${WAVELENGTH_MIN_NM} to ${WAVELENGTH_MAX_NM}, for example 520`;

/** Classes that a label may show: IEC 60825-1, and the Roman ones of 21 CFR 1040.10. */
export const LABEL_CLASSES = [
  ...['1', '1M', '2', '2M', '3R', '3B', '4'],
  ...['I', 'II', 'IIa', 'IIIa', 'IIIb', 'IV'],
] as const;

const plainNumber = (value: number): string =>
  value < 1 ? value.toFixed(12).replace(/0+$/, '') : String(value);

export const RUN_ORDERS = ['reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'] as const;

export const PLACEMENTS = ['jig', 'by-hand'] as const;

export const EMISSIONS = ['continuous', 'pulsed', 'unknown'] as const;

export const OPINION_KINDS = ['certificate', 'maker', 'third-meter'] as const;

/** Values that stand in for fields left out; docs/file-formats.md lists them with their effect. */
export const DEFAULTS = {
  tolerance_percent: 5,
  confidence: 0.95,
  limits_multiplier: 1.96,
  coverage_factor: 2,
  order: 'reference-first',
  discard_first_laps: 0,
  exclude_cold_starts: true,
  exclude_outliers: false,
  recheck_after_months: 12,
} as const;

/** Powers that a handheld meter can show: 1 nW to 100 kW, in mW. */
export const POWER_MIN_MW = 1e-6;
export const POWER_MAX_MW = 1e8;
export const POWER_EXPECTED = 'a power from 1 nW to 100 kW (0.000001 to 100000000 mW)';
/** Longer names are no names. */
export const LONGEST_NAME = 200;
/** A quantity outside was never measured, and inside, ratios and squares stay finite. */
const [LEAST, MOST] = [1e-6, 1e6];

// The error text of every check is the sentence part "what would be right".
const positive = (expected: string, [least, most] = [LEAST, MOST]) => {
  const within = `${expected}, not below ${plainNumber(least)} nor above ${plainNumber(most)}`;
  return z.number(expected).positive(expected).min(least, within).max(most, within);
};
/** A step is a small part of what it shows. */
const DISPLAY_STEPS: [number, number] = [1e-12, POWER_MAX_MW];
const power = (expected: string) => positive(expected, [POWER_MIN_MW, POWER_MAX_MW]);
const wavelength = () =>
  z
    .number(WAVELENGTH_EXPECTED)
    .min(WAVELENGTH_MIN_NM, WAVELENGTH_EXPECTED)
    .max(WAVELENGTH_MAX_NM, WAVELENGTH_EXPECTED);
const name = () => {
  const expected = 'a name in quotation marks, not empty';
  const short = `${expected} and of at most ${LONGEST_NAME} characters`;
  // A pattern, because an editor cannot check a length after trimming.
  const typed = z.string(expected).regex(/\S/, expected).max(LONGEST_NAME, short);
  return typed.transform((name) => name.trim());
};
const yesOrNo = () => z.boolean('true or false, without quotation marks');
const percent = () => {
  const expected = 'a percentage above 0 and below 100, for example 3 for 3 %';
  const within = `${expected}, not below ${plainNumber(LEAST)}`;
  return z.number(expected).positive(expected).min(LEAST, within).lt(100, expected);
};

/** A field that may be left out or `null`; then this stands in. */
const optional = <S extends z.ZodType, V = null>(schema: S, description: string, standIn?: V) =>
  schema
    .nullish()
    .describe(description)
    .transform((value) => value ?? standIn ?? (null as V));
/** The same, and the schema for editors says what stands in. */
const withDefault = <S extends z.ZodType, V>(schema: S, description: string, standIn: V) =>
  schema
    .nullish()
    .meta({ description, default: standIn })
    .transform((value) => value ?? standIn);
const part = (expected: string) => z.number(expected).min(0, expected).max(1, expected);
const listOf = <S extends z.ZodType>(schema: S) => z.array(schema, 'a list in square brackets');

const text = () => z.string('a text in quotation marks');
const date = () => z.string(DAY_EXPECTED).refine(isDay, DAY_EXPECTED);

const certificate = z
  .object(
    {
      number: optional(text(), 'Number of the certificate.'),
      laboratory: optional(text(), 'Name of the laboratory that issued it.'),
      issued: optional(date(), 'Day of issue, as "2024-05-01".'),
      valid_until: optional(date(), 'Last day of its validity, as "2025-05-01".'),
      by_wavelength: optional(
        listOf(
          z
            .object(
              {
                wavelength_nm: wavelength().describe('Wavelength in nm.'),
                correction_factor: optional(
                  positive('a number above 0, for example 1.004'),
                  'What a reading has to be multiplied by there. Default: 1.',
                  1,
                ),
                expanded_uncertainty_percent: percent().describe(
                  'Expanded uncertainty of that factor in percent.',
                ),
                coverage_factor: optional(
                  positive('a number above 0, most often 2'),
                  `Its coverage factor. Default: ${DEFAULTS.coverage_factor}.`,
                  DEFAULTS.coverage_factor,
                ),
              },
              'an object in braces',
            )
            .describe('What the certificate says at one wavelength.'),
        ),
        'Correction and uncertainty by wavelength: between two of them the correction runs straight; where it says nothing, expanded_uncertainty_percent counts.',
        [],
      ).transform((list) => [...list].sort((a, b) => a.wavelength_nm - b.wavelength_nm)),
    },
    'an object in braces',
  )
  .refine(
    ({ issued, valid_until }) =>
      issued === null || valid_until === null || !isBefore(valid_until, issued),
    { path: ['valid_until'], message: 'a day that is not before "issued"' },
  );

const record = z.object(
  {
    date: optional(date(), 'Day of the comparison, as "2024-05-01".'),
    place: optional(text(), 'Where it was made.'),
    operator: optional(text(), 'Who took the readings.'),
    temperature_C: optional(
      z.number('a temperature in degrees Celsius'),
      'Temperature of the room in degrees Celsius.',
    ),
    distance_mm: optional(
      positive('a number of mm above 0'),
      'Distance from the source to the heads in mm.',
    ),
    remarks: optional(text(), 'Anything else that belongs to the record.'),
  },
  'an object in braces, for example { "date": "2024-05-01" }',
);

const meterShape = (role: 'reference' | 'candidate') =>
  z.object(
    {
      name: optional(
        name(),
        `What you call the ${role} meter. The factors belong to the meter of this name. Default: "${role}".`,
      ),
      resolution_mW: optional(
        positive('a number of mW above 0, for example 0.1', DISPLAY_STEPS),
        'Smallest step of the display in mW, in the range used. Left out: the budget has no line for it.',
      ),
      rated_max_mW: optional(
        power('a number of mW above 0, for example 5000'),
        'Highest power in mW that the meter is rated for. Readings above it are warned of.',
      ),
      expanded_uncertainty_percent: optional(
        percent(),
        'Expanded uncertainty U of its calibration in percent of reading, from the certificate. Left out: factors hold relative to this reference only.',
      ),
      coverage_factor: optional(
        positive('a number above 0, most often 2'),
        `Coverage factor k that belongs to the expanded uncertainty. Default when only U is stated: ${DEFAULTS.coverage_factor}.`,
      ),
      wavelength_setting: optional(
        yesOrNo(),
        'Whether the meter has to be told the wavelength. Left out: not stated.',
      ),
      time_constant_s: optional(
        positive('a time in s above 0, for example 2.5'),
        'Time constant of the sensor in s (the time to reach 63 % of a step). Left out: not stated.',
      ),
      serial: optional(text(), 'Serial number, for the record. Left out: not stated.'),
      linearity_percent: optional(
        percent(),
        'How far it may depart from a straight line over its range, ± percent of reading. Left out: named as missing in the budget.',
      ),
      drift_percent_per_year: optional(
        percent(),
        'How far it may drift in a year since its calibration, ± percent of reading. Left out: named as missing in the budget.',
      ),
      certificate: optional(certificate, 'Its calibration certificate. Left out: none.'),
      recheck_after_months: withDefault(
        positive('a number of months above 0, for example 12'),
        'Months after which the comparison should be made again.',
        DEFAULTS.recheck_after_months,
      ),
    },
    'an object in braces, for example { "name": "…" }',
  );

const source = z
  .object(
    {
      name: name().describe('What you call the laser; runs.csv refers to it by this name.'),
      wavelength_nm: wavelength().describe('Nominal wavelength in nm.'),
      label_class: optional(
        z
          .union(
            [z.enum(LABEL_CLASSES), z.literal([1, 2, 4])],
            `one of ${LABEL_CLASSES.join(', ')}, written exactly so`,
          )
          .transform(String),
        'Laser class printed on the label. Left out: not stated.',
      ),
      label_max_mW: optional(
        power('a number of mW above 0, for example 1'),
        'Highest power in mW printed on the label. Left out: not stated.',
      ),
      emission: optional(
        z.enum(EMISSIONS, `one of ${EMISSIONS.join(', ')}`),
        'Whether it emits continuously. Pulsed or modulated light gets no class. Left out: not stated; the class is then that of continuous light, and a warning says so.',
      ),
      beam_diameter_mm: optional(
        positive('a number of mm above 0, for example 3'),
        'Diameter of the beam at the heads in mm. Left out: not stated.',
      ),
    },
    'an object in braces, for example { "name": "green", "wavelength_nm": 520 }',
  )
  .describe('One laser that stood in front of the meters.');

const transmission = z
  .object(
    {
      wavelength_nm: wavelength().describe('Wavelength in nm that this transmission holds for.'),
      transmission: part('a fraction from 0 to 1, for example 0.92 for 92 %').describe(
        'Part of the power that the filter lets through, 0 to 1.',
      ),
      standard_uncertainty: part('a fraction from 0 to 1, for example 0.01').describe(
        'Standard uncertainty of that fraction, as a fraction.',
      ),
    },
    'an object in braces',
  )
  .describe('Transmission of the filter at one wavelength.');

const filter = z
  .object(
    {
      name: name().describe(
        'What you call the filter; the filter column of runs.csv refers to it.',
      ),
      transmissions: optional(
        listOf(transmission),
        'What the filter lets through, one entry a wavelength. Left out, or without an entry for the wavelength of a source: the power in front of it is not known, and no class can be excluded.',
        [],
      ),
    },
    'an object in braces',
  )
  .describe('One filter that stood in the beam during whole series.');

const protocol = z.object(
  {
    order: optional(
      z.enum(RUN_ORDERS, `one of ${RUN_ORDERS.join(', ')}`),
      `Which meter goes first in each lap. Decides the order of a side-by-side runs.csv (default there: ${DEFAULTS.order}); a runs.csv with one row a run is only checked against it.`,
    ),
    discard_first_laps: withDefault(
      z.int('a whole number from 0 up').min(0, 'a whole number from 0 up'),
      'Laps at the start of every series that were declared to be warm-up before anybody saw the readings.',
      DEFAULTS.discard_first_laps,
    ),
    read_at_s: optional(
      positive('a time in s above 0, for example 20'),
      'Time in s after switch-on at which the reading was taken. Left out: not stated.',
    ),
    placement: optional(
      z.enum(PLACEMENTS, `one of ${PLACEMENTS.join(', ')}`),
      'How the heads were put back between series. Decides what is assumed of re-seating where the series do not show it: 0.5 % with a jig, 2 % by hand, 1 % when left out.',
    ),
    exclude_cold_starts: withDefault(
      yesOrNo(),
      'Whether first laps that the rest contradicts are left out.',
      DEFAULTS.exclude_cold_starts,
    ),
    exclude_outliers: withDefault(
      yesOrNo(),
      'Whether statistical outliers are left out. By default they are flagged and kept.',
      DEFAULTS.exclude_outliers,
    ),
  },
  'an object in braces, for example { "order": "ABBA" }',
);

const FROM_0_PERCENT = 'a percentage from 0 to below 100';
const confidenceExpected = 'a fraction above 0.5 and below 1, for example 0.95 (not 95)';

export const studySchema = z
  .object(
    {
      $schema: optional(
        z.string('a text'),
        'Where an editor finds this description of the file. Not part of the data.',
      ),
      record: optional(
        record,
        'When, where and by whom. What is left out is shown as not stated.',
        record.parse({}),
      ),
      title: optional(name(), 'Title of the report. Default: made of the meter names.'),
      reference: meterShape('reference').describe('The meter that you trust.'),
      candidate: meterShape('candidate').describe('The meter to be corrected.'),
      sources: optional(
        listOf(source),
        'The lasers. May be left out when there is one laser and runs.csv has the column wavelength_nm.',
      ),
      filters: optional(
        listOf(filter),
        'Filters named in the filter column of runs.csv. Left out: none.',
        [],
      ),
      protocol: optional(protocol, 'How the runs were taken.', protocol.parse({})),
      // Whether it was stated is told later on, so nothing stands in here.
      tolerance_percent: percent().nullish().meta({
        description:
          'How far, in percent, a corrected reading may be off and still serve you. The verdicts depend on it.',
        default: DEFAULTS.tolerance_percent,
      }),
      confidence: withDefault(
        z.number(confidenceExpected).gt(0.5, confidenceExpected).lt(1, confidenceExpected),
        'Confidence level of every interval that does not state its own, as a fraction.',
        DEFAULTS.confidence,
      ),
      limits_multiplier: withDefault(
        positive('a number above 0, for example 1.96').max(
          10,
          'a number above 0 and up to 10, for example 1.96',
        ),
        'Limits of agreement are the mean difference ± this many standard deviations.',
        DEFAULTS.limits_multiplier,
      ),
      between_series_percent: optional(
        z.number(FROM_0_PERCENT).min(0, FROM_0_PERCENT).lt(100, FROM_0_PERCENT),
        'Standard deviation in percent of factors from series to series, known from elsewhere. Left out: not stated.',
      ),
    },
    'an object in braces with at least "reference" and "candidate"',
  )
  .describe('What was compared, how, and what you need from the result.');

export type StudyFields = z.infer<typeof studySchema>;
export type MeterFields = StudyFields['reference'];

const orNull = <S extends z.ZodType>(schema: S) => schema.nullish().transform((one) => one ?? null);
const orNothing = <S extends z.ZodType>(schema: S) =>
  schema.nullish().transform((one) => one ?? undefined);

/** Values for a source from elsewhere: the content of opinions.json. */
export const opinionsSchema = z.array(
  z.object(
    {
      source: name(),
      kind: z.enum(OPINION_KINDS, `one of ${OPINION_KINDS.join(', ')}`),
      value_mW: power('a number of mW above 0'),
      expanded_uncertainty_mW: orNull(power('a number of mW above 0, or null when not stated')),
      coverage_factor: orNull(positive('a number above 0, most often 2, or null when not stated')),
      common_standard_uncertainty_mW: orNothing(
        power(
          'a number of mW above 0, or null when the value leans on nothing that the reference leans on',
        ),
      ),
      averaged_over_s: orNothing(
        positive('a number of s above 0, or null where the value is no average over a time'),
      ),
      date: orNull(date()),
      note: orNull(z.string('a text in quotation marks, or null')),
    },
    'an object in braces, one a value',
  ),
  'a list in square brackets, one entry a value',
);
