import { type BudgetPart, coverageOfBudget } from '../budget/coverageOfBudget.js';
import { readingParts } from '../factors/readingParts.js';
import { METERS } from '../record/meters.js';
import {
  combineSeries,
  pooledBetweenSeries,
  type SeriesEstimate,
} from '../series/combineSeries.js';
import { combineContributed, type Part } from '../statistics/combineIndependent.js';
import { coverageFactor } from '../statistics/distributions.js';
import type { ContributionKind, MeterRole } from '../vocabulary.js';
import { type ShapedInput, scattered } from '../wavelengths/collected.js';
import { calibration, resolution, zero } from '../wavelengths/wavelengthContributions.js';
import type { CompleteWishes } from './comparisonWishes.js';

/** What one comparison shows, as far as the uncertainty depends on it. */
export interface ShownComparison {
  readonly series: readonly SeriesEstimate[];
  /** Scatter of one candidate reading, relative, and its degrees of freedom. */
  readonly reading: { readonly sd: number; readonly dof: number };
  /** What the step of each display leaves in the factor, relative. */
  readonly rounding: Readonly<Record<MeterRole, number>>;
}

/** Relative expanded uncertainties. */
export interface PlannedU {
  readonly factor: number;
  /** Of one corrected reading with the head put up anew. */
  readonly reading: number;
}

/**
 * U of K and of a corrected reading for what a comparison shows. The parts and the way they are put
 * together are those of the analysis: `combineSeries`, `readingParts` and `coverageOfBudget`.
 *
 * @param stated the spread between series that the study states; `null`: nothing
 */
export function plannedReading(
  wishes: CompleteWishes,
  shown: ShownComparison,
  stated: number | null,
): PlannedU {
  return exactU(plannedParts(wishes, shown, stated, null), wishes.confidence);
}

/** Contributions to ln K and to the logarithm of a corrected reading. */
export interface PlannedParts {
  readonly factor: readonly ShapedInput[];
  readonly reading: readonly (BudgetPart & { readonly name: string })[];
}

/** U as the analysis gives it. */
export function exactU({ factor, reading }: PlannedParts, confidence: number): PlannedU {
  const K = coverageOfBudget(factor, confidence).high;
  return {
    factor: Math.expm1(K),
    reading: Math.expm1(Math.max(K, coverageOfBudget(reading, confidence).high)),
  };
}

/** k·u by Welch–Satterthwaite: in the order of `exactU`, and far quicker. */
export function roughU(parts: readonly BudgetPart[], confidence: number): number {
  const { standardUncertainty, dof } = combineContributed(parts);
  return coverageFactor(confidence, dof) * standardUncertainty;
}

/**
 * @param known `knownParts` of the wishes, where many comparisons of the same wishes are put together
 */
export function plannedParts(
  wishes: CompleteWishes,
  shown: ShownComparison,
  stated: number | null,
  word: 'jig' | 'by-hand' | null,
  known: readonly ShapedInput[] = knownParts(wishes),
): PlannedParts {
  const { display } = wishes;
  // A plan is for one wavelength: no other repeated series speak for these.
  const combined = combineSeries(shown.series, pooledBetweenSeries([], stated, word));
  const own = (name: string, kind: ContributionKind, part: Part) =>
    scattered(kind, name, part, 'planned');
  const besides: readonly ShapedInput[] = [
    ...(combined.repeatability === null
      ? []
      : [own('repeatability', 'repeatability', combined.repeatability)]),
    ...(display === undefined
      ? []
      : METERS.flatMap(
          (meter) => resolution(meter, shown.rounding[meter], display.step_mW[meter]).inputs,
        )),
    ...known,
  ];
  const parts = readingParts(
    { candidate: { resolution_mW: display?.step_mW.candidate ?? null } },
    {
      rest: combineContributed(besides),
      placement: combined.between.standardUncertainty,
      nextPlacement: { sd: combined.next.sd, dof: combined.next.dof },
      scatter: shown.reading,
      between: 0,
      outside: 0,
      colour: 0,
    },
    {
      indication_mW: display?.level_mW ?? 1,
      readings: 1,
      seatings: 1,
      scatter: null,
      settling: 0,
    },
  );
  return {
    factor: [...besides, own('between series', 'between-series', combined.between)],
    reading: parts.map((part) => ({
      ...part,
      relative_standard_uncertainty: part.standardUncertainty,
    })),
  };
}

/** What stands in the budget whatever a comparison shows: certificate and zeros. */
export function knownParts({ certificate, display }: CompleteWishes): readonly ShapedInput[] {
  return [
    ...(certificate === undefined ? [] : calibration(meterOf(certificate), NM).inputs),
    ...(display === undefined
      ? []
      : METERS.flatMap(
          (meter) =>
            zero(meter, display.step_mW[meter], [
              {
                recorded: display.zero_recorded === false ? 0 : 1,
                open_mW: null,
                level_mW: display.level_mW,
              },
            ]).inputs,
        )),
  ];
}

/** Which wavelength it is does not matter: a plan is for one. */
const NM = 520;

const meterOf = ({
  expanded_uncertainty,
  coverage_factor,
}: NonNullable<CompleteWishes['certificate']>) => ({
  role: 'reference' as const,
  name: 'reference',
  resolution_mW: null,
  rated_max_mW: null,
  expanded_uncertainty_percent: 100 * expanded_uncertainty,
  coverage_factor,
  wavelength_setting: null,
  time_constant_s: null,
  serial: null,
  linearity_percent: null,
  drift_percent_per_year: null,
  certificate: null,
  recheck_after_months: 12,
});
