/** What the certificate of the reference says at one wavelength. */

import { isBefore, yearsBetween } from '../record/days.js';
import type { Meter, MeterRole, Study, StudyRecord, Warning } from '../vocabulary.js';
import { scaled } from './settings.js';

/** An entry of a certificate counts for wavelengths this near, nm (common practice, no source). */
const AT_NM = 2;

export interface CalibrationAt {
  /** Multiplies a reading of the reference; 1 where the certificate says nothing. */
  readonly correction: number;
  /** Expanded uncertainty in percent and its coverage factor; `null` where nothing is stated. */
  readonly expanded_uncertainty_percent: number | null;
  readonly coverage_factor: number;
  /** Half of what the correction changes by between two entries of the certificate, as a fraction. */
  readonly between: number;
  /** Whether a certificate is there and says nothing of this wavelength. */
  readonly silent: boolean;
}

/**
 * Between two wavelengths of a certificate the correction runs straight, with the larger uncertainty of
 * both; what they differ by is a contribution of its own. Outside of them the certificate is silent, and
 * what is stated of the meter as a whole counts.
 */
export function calibrationAt(reference: Meter, nm: number): CalibrationAt {
  const entries = reference.certificate?.by_wavelength ?? [];
  const whole = {
    correction: 1,
    expanded_uncertainty_percent: reference.expanded_uncertainty_percent,
    coverage_factor: reference.coverage_factor,
    between: 0,
    silent: entries.length > 0,
  };
  const here = entries
    .filter((one) => Math.abs(one.wavelength_nm - nm) <= AT_NM)
    .sort((a, b) => Math.abs(a.wavelength_nm - nm) - Math.abs(b.wavelength_nm - nm))[0];
  if (here !== undefined) {
    return {
      correction: here.correction_factor,
      expanded_uncertainty_percent: here.expanded_uncertainty_percent,
      coverage_factor: here.coverage_factor,
      between: 0,
      silent: false,
    };
  }
  const below = entries.filter((one) => one.wavelength_nm < nm).at(-1);
  const above = entries.find((one) => one.wavelength_nm > nm);
  if (below === undefined || above === undefined) return whole;
  const t = (nm - below.wavelength_nm) / (above.wavelength_nm - below.wavelength_nm);
  const u = (one: typeof below) => statedRelative(one) ?? 0;
  const worse = u(above) > u(below) ? above : below;
  return {
    correction: below.correction_factor + t * (above.correction_factor - below.correction_factor),
    expanded_uncertainty_percent: worse.expanded_uncertainty_percent,
    coverage_factor: worse.coverage_factor,
    between: Math.abs(above.correction_factor / below.correction_factor - 1) / 2,
    silent: false,
  };
}

/** Relative standard uncertainty u = U ÷ k of a meter as stated; `null` where none is. */
export function statedRelative({
  expanded_uncertainty_percent: percent,
  coverage_factor: k,
}: Pick<Meter, 'expanded_uncertainty_percent' | 'coverage_factor'>): number | null {
  return percent === null ? null : percent / 100 / k;
}

/** The meter as its certificate describes it at one wavelength. */
export function meterAt(meter: Meter, nm: number): Meter {
  const { expanded_uncertainty_percent, coverage_factor } = calibrationAt(meter, nm);
  return { ...meter, expanded_uncertainty_percent, coverage_factor };
}

/** Every reading and trace of the reference multiplied by the correction of its certificate. */
export function calibrated(study: Study): Study {
  const at = new Map(
    study.series.map((series) => [
      series.id,
      calibrationAt(study.reference, series.wavelength_nm).correction,
    ]),
  );
  const correction = (meter: MeterRole, series: string) =>
    meter === 'candidate' ? 1 : (at.get(series) ?? 1);
  return {
    ...study,
    series: study.series.map((series) => ({
      ...series,
      runs: series.runs.map((run) => scaled(run, correction(run.meter, series.id))),
    })),
    traces: study.traces.map((trace) => ({
      ...trace,
      reading_mW: trace.reading_mW.map(
        (reading) => reading * correction(trace.meter, trace.series),
      ),
    })),
  };
}

/**
 * A certificate that had run out on the day, or came only after it, or of which nobody can tell, because no
 * day is stated.
 */
export function certificateWarnings({ reference, record }: Study): readonly Warning[] {
  const issued = reference.certificate?.issued ?? null;
  const late: readonly Warning[] =
    issued === null || record.date === null || !isBefore(record.date, issued)
      ? []
      : [
          {
            code: 'certificate-issued-later',
            message: `The certificate of the reference was issued on ${issued}, after the meters were compared on ${record.date}: whether the reference was then as it says, before whatever the laboratory did to it, cannot be told, and every factor leans on it.`,
          },
        ];
  return [...late, ...validity(reference, record)];
}

function validity(reference: Meter, record: StudyRecord): readonly Warning[] {
  const until = reference.certificate?.valid_until ?? null;
  if (until === null || (record.date !== null && record.date <= until)) return [];
  return [
    record.date === null
      ? {
          code: 'certificate-not-dated',
          message: `The certificate of the reference is valid until ${until}; the day of the comparison is not stated (record.date), so whether it was valid then cannot be told.`,
        }
      : {
          code: 'certificate-out-of-date',
          message: `The certificate of the reference was valid until ${until}, and the meters were compared on ${record.date}: what it says may no longer hold, and every factor leans on it.`,
        },
  ];
}

/** Years from one day to another; `null` where one of them is not stated. */
export function yearsSince(
  certificate: Meter['certificate'],
  { date }: Pick<StudyRecord, 'date'>,
): number | null {
  if (date === null || certificate?.issued === null || certificate?.issued === undefined) {
    return null;
  }
  return Math.max(0, yearsBetween(certificate.issued, date));
}
