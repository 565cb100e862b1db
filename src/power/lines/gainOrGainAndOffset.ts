import { argumentWrong, failure, MeterpairError } from '../../error.js';
import { significant } from '../../findings/formatNumber.js';
import { correctedAkaike } from '../../statistics/akaike.js';
import { coverageFactorOf, fCdf } from '../../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { requireAsMany, requireNumbers, requireRecord } from '../../statistics/shapes.js';
import { extremes, requireValues } from '../../statistics/summary.js';
import type { Interval, MeterRole } from '../../vocabulary.js';
import { coefficient, type LineCoefficient } from './line.js';
import { type YorkLine, yorkLine } from './yorkLine.js';

/** Readings of both meters on the same power, one pair a place, in mW and above 0. */
export interface MeterReadings {
  readonly candidate_mW: readonly number[];
  readonly reference_mW: readonly number[];
}

export interface GainOrOffset {
  readonly verdict: 'offset-shown' | 'offset-not-shown';
  readonly why: string;
  /** corrected = factor · candidate. */
  readonly gain: {
    readonly factor: LineCoefficient;
    /** Scatter of a pair about the line: the common multiplier of the stated noise. */
    readonly residual_sd: number;
    readonly dof: number;
    readonly aicc: number | null;
  };
  /** corrected = offset + factor · candidate. */
  readonly gain_and_offset: {
    readonly factor: LineCoefficient;
    readonly offset_mW: LineCoefficient;
    readonly covariance: number;
    readonly residual_sd: number;
    readonly dof: number;
    readonly aicc: number | null;
  };
  /** F with 1 and `gain_and_offset.dof` degrees of freedom, and its p; `null` for a perfect line. */
  readonly f: number | null;
  readonly p: number | null;
  /** AICc of gain alone minus that with offset: above 0 speaks for the offset. */
  readonly aicc_difference: number | null;
  /** What the offset's interval is worth at the lowest reference reading, in percent of it. */
  readonly offset_at_lowest_percent: Interval;
}

/**
 * Does the correction of the candidate need an offset beside the factor? Fits both, with errors in
 * both meters that grow with the reading, and compares them.
 *
 * @param readings pairs at several powers: the wider apart, the better an offset shows. Give one
 *   pair a series (its means), for runs of one series share its drift; four pairs are the least
 * @param options `candidateRelativeSd`, `referenceRelativeSd`: noise as fractions of the reading
 *   (default equal, 0.01); `candidateSd_mW`, `referenceSd_mW`: noise that does not grow (default
 *   0). Only their proportions matter: the scatter sets the size. `confidence` (default 0.95)
 * @returns both corrections with intervals, the F test, the AICc difference and a verdict:
 *   `offset-shown` needs p below 1 − confidence and an AICc in favour. Not shown is not absent: see
 *   `offset_at_lowest_percent`
 * @throws reading-not-positive, argument-wrong, too-few-values, no-convergence
 * Source: York et al. (2004) for the fits; extra sum of squares F test: any textbook; AICc: C. M.
 * Hurvich, C.-L. Tsai (1989), Biometrika 76, 297–307.
 */
export function gainOrGainAndOffset(
  readings: MeterReadings,
  options: {
    readonly candidateRelativeSd?: number;
    readonly referenceRelativeSd?: number;
    readonly candidateSd_mW?: number;
    readonly referenceSd_mW?: number;
    readonly confidence?: number;
  } = {},
): GainOrOffset {
  const { confidence = 0.95 } = requireOptions(options, {
    candidateRelativeSd: true,
    referenceRelativeSd: true,
    candidateSd_mW: true,
    referenceSd_mW: true,
    confidence: CONFIDENCE,
  });
  requireReadings(readings, 4);
  const noise = {
    candidate: noiseOf(options.candidateRelativeSd, options.candidateSd_mW),
    reference: noiseOf(options.referenceRelativeSd, options.referenceSd_mW),
  };
  const { line, ux, uy } = lineWithNoiseOfLevels(readings, noise, confidence);
  const through = lineThroughZero(readings.candidate_mW, readings.reference_mW, ux, uy);
  const test = offsetTest(through.chiSquare, line, confidence);
  const offset = line.intercept.interval;
  if (offset === null) {
    throw failure('too-few-values', 'These readings do not tell an offset and a factor apart.');
  }
  const lowest = extremes(readings.reference_mW)[0];
  return {
    verdict: test.shown ? 'offset-shown' : 'offset-not-shown',
    why: words(test, offset),
    gain: gainAlone(through, line.points - 1, confidence),
    gain_and_offset: {
      factor: line.slope,
      offset_mW: line.intercept,
      covariance: line.covariance ?? 0,
      residual_sd: Math.sqrt(line.chi_square / line.dof),
      dof: line.dof,
      aicc: aicc(line.chi_square, line.points, 3),
    },
    f: test.f,
    p: test.p,
    aicc_difference: test.difference,
    offset_at_lowest_percent: [(100 * offset[0]) / lowest, (100 * offset[1]) / lowest],
  };
}

type Noise = (level_mW: number) => number;

function noiseOf(relative = 0.01, absolute = 0): Noise {
  const both = relative + absolute;
  if (!(relative >= 0 && absolute >= 0 && both > 0 && Number.isFinite(both))) {
    throw argumentWrong('Noise must be stated as finite numbers from 0 up, not both 0.');
  }
  return (level) => Math.hypot(relative * level, absolute);
}

/**
 * Noise taken from the readings themselves would favour readings that came out low, so it is taken
 * from the fitted levels, repeated until they stand still.
 */
function lineWithNoiseOfLevels(
  { candidate_mW: x, reference_mW: y }: MeterReadings,
  noise: Readonly<Record<MeterRole, Noise>>,
  confidence: number,
) {
  const fitted = (ux: readonly number[], uy: readonly number[]) => {
    const points = { x, y, x_standard_uncertainty: ux, y_standard_uncertainty: uy };
    return { line: yorkLine(points, { scale: 'estimated', confidence }), ux, uy };
  };
  // A level that came out at or below 0 keeps the noise of its reading.
  const levels = (adjusted: readonly number[], read: readonly number[]) =>
    adjusted.map((value, i) => (value > 0 ? value : read[i]));
  let found = fitted(x.map(noise.candidate), y.map(noise.reference));
  for (let round = 0; round < 50; round++) {
    const { slope, adjusted } = found.line;
    found = fitted(
      levels(adjusted.x, x).map(noise.candidate),
      levels(adjusted.y, y).map(noise.reference),
    );
    if (Math.abs(found.line.slope.value / slope.value - 1) < 1e-12) break;
  }
  return found;
}

/** F test of the squares that the offset takes away, and the difference of AICc beside it. */
function offsetTest(throughSquares: number, line: YorkLine, confidence: number) {
  const { chi_square: lineSquares, dof, points: n } = line;
  // Equal up to rounding: both lines run through every point.
  const perfect = !(lineSquares > 1e-20 * n) && !(throughSquares > 1e-18 * n);
  const f =
    lineSquares > 0 && !perfect
      ? Math.max(0, throughSquares - lineSquares) / (lineSquares / dof)
      : null;
  const p = f === null ? null : 1 - fCdf(f, 1, dof);
  const [alone, both] = [aicc(throughSquares, n, 2), aicc(lineSquares, n, 3)];
  const difference = alone === null || both === null || perfect ? null : alone - both;
  const shown =
    p === null ? !perfect : p < 1 - confidence && (difference === null || difference > 0);
  return { f, p, difference, shown };
}

function words({ shown, p }: ReturnType<typeof offsetTest>, [low, high]: Interval): string {
  return shown
    ? `A factor alone does not follow the readings${p === null ? '' : ` (p = ${significant(p, 2)})`}.`
    : `A factor alone follows the readings as well; an offset between ${significant(low, 2)} and ${significant(high, 2)} mW is not excluded.`;
}

function gainAlone(
  { slope, chiSquare, unscaledUncertainty }: ReturnType<typeof lineThroughZero>,
  dof: number,
  confidence: number,
): GainOrOffset['gain'] {
  const sd = Math.sqrt(chiSquare / dof);
  return {
    factor: coefficient(slope, sd * unscaledUncertainty, coverageFactorOf(confidence, dof)),
    residual_sd: sd,
    dof,
    aicc: aicc(chiSquare, dof + 1, 2),
  };
}

/** @throws reading-not-positive, argument-wrong, too-few-values. */
export function requireReadings(readings: MeterReadings, least: number): void {
  requireRecord(readings, 'Readings', ['candidate_mW', 'reference_mW']);
  const { candidate_mW, reference_mW } = readings;
  requireNumbers(candidate_mW, 'Readings of the candidate');
  requireNumbers(reference_mW, 'Readings of the reference');
  const message = 'Every candidate reading needs its reference reading.';
  requireAsMany(candidate_mW, reference_mW, message);
  requireValues(candidate_mW, least, 'This comparison');
  requireValues(reference_mW, least, 'This comparison');
  const wrong = [...candidate_mW, ...reference_mW].find((value) => value <= 0);
  if (wrong !== undefined) {
    throw new MeterpairError({
      code: 'reading-not-positive',
      message: 'A reading at or below zero cannot enter a ratio.',
      found: `${wrong} mW`,
      expected: 'readings above 0',
    });
  }
}

/** York's equations with the centre held at the origin. */
function lineThroughZero(
  x: readonly number[],
  y: readonly number[],
  ux: readonly number[],
  uy: readonly number[],
) {
  let slope = y.reduce((sum, v) => sum + v, 0) / x.reduce((sum, v) => sum + v, 0);
  let spread = 0;
  for (let round = 0; round < 500; round++) {
    let above = 0;
    let below = 0;
    spread = 0;
    for (let i = 0; i < x.length; i++) {
      const w = 1 / (uy[i] ** 2 + slope ** 2 * ux[i] ** 2);
      const level = w * (x[i] * uy[i] ** 2 + slope * y[i] * ux[i] ** 2);
      above += w * level * y[i];
      below += w * level * x[i];
      spread += w * level ** 2;
    }
    const moved = Math.abs(above / below - slope);
    slope = above / below;
    if (moved <= 1e-15 * Math.abs(slope)) break;
  }
  const chiSquare = y.reduce(
    (sum, v, i) => sum + (v - slope * x[i]) ** 2 / (uy[i] ** 2 + slope ** 2 * ux[i] ** 2),
    0,
  );
  return { slope, chiSquare, unscaledUncertainty: 1 / Math.sqrt(spread) };
}

/** Corrected Akaike criterion up to a constant; `parameters` counts the scatter. */
function aicc(squares: number, n: number, parameters: number): number | null {
  if (n - parameters - 1 <= 0 || !(squares > 0)) return null;
  return correctedAkaike({ residualSumOfSquares: squares, n, p: parameters - 1 });
}
