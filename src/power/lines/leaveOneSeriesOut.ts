import { argumentWrong, failure } from '../../error.js';
import { requireOptions } from '../../statistics/options.js';
import { requireShape, type Shape } from '../../statistics/shapes.js';
import { ordinaryLine } from './ordinaryLine.js';

/** Means of one series, in mW and above 0. */
export interface SeriesMeans {
  readonly id: string;
  readonly wavelength_nm: number;
  readonly reference_mean_mW: number;
  readonly candidate_mean_mW: number;
}

/**
 * How the others predict the series left out: `factor-per-wavelength` (geometric mean of the factors
 * of the others at its wavelength), `common-factor` (of all others), `gain-and-offset` (line through
 * all others, relative noise).
 */
export type SeriesPrediction = 'factor-per-wavelength' | 'common-factor' | 'gain-and-offset';

export interface LeftOutSeries {
  readonly id: string;
  /** What the others make of its candidate mean, in mW; `null`: see `why`. */
  readonly corrected_mW: number | null;
  /** Corrected ÷ reference − 1, in percent. */
  readonly error_percent: number | null;
  /** The same without any correction. */
  readonly uncorrected_error_percent: number;
  /** Series that predicted it. */
  readonly predicted_from: readonly string[];
  readonly why: string;
}

export interface LeaveOneSeriesOut {
  readonly series: readonly LeftOutSeries[];
  readonly predicted: number;
  /** √ mean error² over the series that could be predicted, in percent; `null` for none. */
  readonly rms_error_percent: number | null;
  /** The same series without correction. */
  readonly uncorrected_rms_error_percent: number | null;
  readonly why: string;
}

/**
 * How far off are corrected readings of a series that the correction has not seen? Each series in
 * turn is predicted from the others.
 *
 * @param series one record a series, each id once
 * @param options `prediction` (default `factor-per-wavelength`); `sameWavelengthWithin_nm`: how
 *   far two wavelengths may differ and count as one (default 0.5)
 * @returns per series the error, and its root mean square; with reasons where it cannot be said. The
 *   error is relative to this reference: what the reference itself is off does not show here
 * @throws reading-not-positive, argument-wrong
 * Source: cross-validation, M. Stone (1974), J. R. Stat. Soc. B 36, 111–147.
 */
export function leaveOneSeriesOut(
  series: readonly SeriesMeans[],
  options: {
    readonly prediction?: SeriesPrediction;
    readonly sameWavelengthWithin_nm?: number;
  } = {},
): LeaveOneSeriesOut {
  const { prediction = 'factor-per-wavelength', sameWavelengthWithin_nm: within = 0.5 } =
    requireOptions(options, {
      prediction: { maybe: ['factor-per-wavelength', 'common-factor', 'gain-and-offset'] },
      sameWavelengthWithin_nm: { maybe: 'not-negative' },
    });
  requireSeriesMeans(series);
  const left = series.map((one) => {
    const others = series.filter(
      (other) =>
        other !== one &&
        (prediction !== 'factor-per-wavelength' ||
          Math.abs(other.wavelength_nm - one.wavelength_nm) <= within),
    );
    return leftOut(one, others, prediction);
  });
  const done = left.filter((one) => one.error_percent !== null);
  return {
    series: left,
    predicted: done.length,
    rms_error_percent: rms(done.map((one) => one.error_percent ?? 0)),
    uncorrected_rms_error_percent: rms(done.map((one) => one.uncorrected_error_percent)),
    why:
      done.length === left.length && left.length > 0
        ? ''
        : done.length === 0
          ? 'No series can be predicted from the others.'
          : `${left.length - done.length} of ${left.length} series cannot be predicted from the others.`,
  };
}

const SERIES: Shape = {
  list: { fields: { id: 'text', wavelength_nm: 'number' } },
};

function requireSeriesMeans(series: readonly SeriesMeans[]): void {
  requireShape(series, 'The series', SERIES);
  if (new Set(series.map((one) => one.id)).size !== series.length) {
    throw argumentWrong('Every series must have a name of its own.');
  }
  for (const { id, reference_mean_mW, candidate_mean_mW } of series) {
    const wrong = [reference_mean_mW, candidate_mean_mW].find(
      (mean) => !(mean > 0 && Number.isFinite(mean)),
    );
    if (wrong === undefined) continue;
    throw failure(
      'reading-not-positive',
      `Series ${id}: a mean must be a finite number above 0 to enter a ratio.`,
      wrong,
    );
  }
}

function rms(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  return Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);
}

function leftOut(
  one: SeriesMeans,
  others: readonly SeriesMeans[],
  prediction: SeriesPrediction,
): LeftOutSeries {
  const { corrected, why } = predict(one, others, prediction);
  const percent = (power_mW: number) => 100 * (power_mW / one.reference_mean_mW - 1);
  return {
    id: one.id,
    corrected_mW: corrected,
    error_percent: corrected === null ? null : percent(corrected),
    uncorrected_error_percent: percent(one.candidate_mean_mW),
    predicted_from: corrected === null ? [] : others.map((other) => other.id),
    why,
  };
}

function predict(
  one: SeriesMeans,
  others: readonly SeriesMeans[],
  prediction: SeriesPrediction,
): { readonly corrected: number | null; readonly why: string } {
  if (others.length === 0) {
    const where = prediction === 'factor-per-wavelength' ? ` at ${one.wavelength_nm} nm` : '';
    return { corrected: null, why: `No other series${where} to predict it from.` };
  }
  if (prediction !== 'gain-and-offset') {
    const sum = others.reduce(
      (total, other) => total + Math.log(other.reference_mean_mW / other.candidate_mean_mW),
      0,
    );
    return { corrected: one.candidate_mean_mW * Math.exp(sum / others.length), why: '' };
  }
  const levels = new Set(others.map((other) => other.candidate_mean_mW));
  if (levels.size < 2) {
    return { corrected: null, why: 'A line needs two other series at different powers.' };
  }
  // reference ÷ candidate against 1 ÷ candidate is the line with relative noise: level = factor,
  // slope = offset.
  const line = ordinaryLine({
    x: others.map((other) => 1 / other.candidate_mean_mW),
    y: others.map((other) => other.reference_mean_mW / other.candidate_mean_mW),
  });
  const corrected = line.slope.value + line.intercept.value * one.candidate_mean_mW;
  return corrected > 0
    ? { corrected, why: '' }
    : { corrected: null, why: 'The line of the others gives no positive power here.' };
}
