/** The record: who, when, where and on what grounds, as ISO/IEC 17025 7.8.2 and 7.8.4 ask. */
import { monthsLater } from '../record/days.js';
import type { Meter, Result, Study } from '../vocabulary.js';
import { formatNumber } from './formatNumber.js';
import { reportId } from './reportId.js';
import { confidenceWords, NOT_STATED } from './words.js';

export type RecordEntry = readonly [name: string, value: string];

const or = (value: string | null): string => value ?? NOT_STATED;
const numberOr = (value: number | null, unit: string): string =>
  value === null ? NOT_STATED : formatNumber(value, { unit });

/** "Bench head R, serial number not stated". */
const itemOf = ({ name, serial }: Meter): string =>
  `${name}, serial number ${serial ?? NOT_STATED}`;

/** What was compared, when, by whom and against which certificate, in four entries. */
export function comparedWhat(study: Study): readonly RecordEntry[] {
  return [
    ['Compared', `${study.candidate.name} (candidate) with ${study.reference.name} (reference)`],
    ['Date', or(study.record.date)],
    ['By', or(study.record.operator)],
    ['Certificate of the reference', certificateWords(study)],
  ];
}

/** "No. 17, Some laboratory, issued 2025-01-20, valid until not stated; U = 3 % (k = 2)". */
function certificateWords({ reference }: Study): string {
  const { certificate: one, expanded_uncertainty_percent: U, coverage_factor: k } = reference;
  const stated =
    U === null ? '' : `U = ${formatNumber(U, { unit: '%' })} (k = ${formatNumber(k)}) is stated`;
  if (one === null) return stated === '' ? NOT_STATED : `${NOT_STATED}; ${stated}`;
  return [
    `No. ${or(one.number)}`,
    `laboratory ${or(one.laboratory)}`,
    `issued ${or(one.issued)}`,
    `valid until ${or(one.valid_until)}`,
    ...(stated === '' ? [] : [stated]),
  ].join(', ');
}

/** All entries. What nobody stated is said to be not stated; clause numbers are those of ISO/IEC 17025:2017. */
export function recordList(
  study: Study,
  result: Result,
  versions: Readonly<Record<string, string>>,
): readonly RecordEntry[] {
  const { record, protocol } = study;
  const made = Object.entries(versions).map(([name, version]) => `${name} ${version}`);
  return [
    [
      'Identification',
      `${reportId(result)}, from the fingerprint of the data (SHA-256) ${result.data_sha256}`,
    ],
    [
      'Kind',
      'A comparison report, not a calibration certificate; no accredited laboratory took part.',
    ],
    [
      'Items',
      `${itemOf(study.candidate)}; ${itemOf(study.reference)}. Their condition: ${NOT_STATED}.`,
    ],
    ['Date, place', `${or(record.date)}, ${or(record.place)}`],
    ['Measured by', or(record.operator)],
    ['Authorised by, customer', NOT_STATED],
    [
      'Conditions',
      `temperature ${numberOr(record.temperature_C, '°C')}; distance ${numberOr(record.distance_mm, 'mm')}; heads put back: ${or(protocol.placement)}`,
    ],
    ['Remarks', or(record.remarks)],
    [
      'Method',
      `Both meters in turn on the same source; K = reference ÷ candidate from a model with the drift in it. Runs as ${study.layout} table.`,
    ],
    ['Reading', result.reading.why],
    [
      'Traceability',
      'Through the certificate of the reference, as page one names it; no chain is claimed beyond what is stated there.',
    ],
    [
      'Uncertainty',
      `JCGM 100, with the exact distribution of the budget (JCGM 101) where few degrees of freedom or a rectangle rule it. Confidence of every interval that does not state its own: ${confidenceWords(result.confidence)}.`,
    ],
    [
      'Decision rule',
      `Tolerance ± ${formatNumber(result.tolerance_percent)} % (${study.tolerance_stated ? 'stated in the study' : 'not stated: the default'}). A wavelength is decided only where the whole interval of K keeps within it; an uncorrected reading serves only where the whole interval for a single reading does. The uncertainty counts against the candidate in both.`,
    ],
    [
      'Adjustment',
      'Nothing was adjusted; readings before and after the correction stand in the report.',
    ],
    [
      'Validity',
      `The results relate only to the items compared, in the state they were in, at the wavelengths and powers named. Compare again after ${formatNumber(study.candidate.recheck_after_months)} months.`,
    ],
    ['Made with', made.length === 0 ? NOT_STATED : made.join(', ')],
  ];
}

/** Until when the comparison should be made again: "2027-03-14", or in words without a date. */
export function recheckBy({ record, candidate }: Study): string {
  const months = candidate.recheck_after_months;
  if (record.date === null) return `${formatNumber(months)} months after the comparison`;
  return monthsLater(record.date, months);
}
