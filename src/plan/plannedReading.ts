import {
  type ContributionInput,
  calibration,
  combineContributions,
  resolution,
  zero,
} from '../budget/index.js';
import {
  combineSeries,
  correct,
  pooledBetweenSeries,
  type SeriesEstimate,
} from '../correct/index.js';
import type { MeterRole } from '../vocabulary.js';
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
 * together are those of the analysis: `combineSeries`, `combineContributions` and `correct` itself.
 *
 * @param stated the spread between series that the study states; `null`: nothing
 */
export function plannedReading(
  wishes: CompleteWishes,
  shown: ShownComparison,
  stated: number | null,
): PlannedU {
  const { certificate, confidence, display } = wishes;
  const combined = combineSeries(shown.series, pooledBetweenSeries([shown.series], stated));
  const meters: readonly MeterRole[] = ['reference', 'candidate'];
  const own = (
    name: string,
    part: { standardUncertainty: number; dof: number },
  ): ContributionInput => ({
    name,
    relative_standard_uncertainty: part.standardUncertainty,
    dof: part.dof,
    type: 'A',
    note: 'planned',
  });
  const stands = [
    ...(certificate === undefined ? [] : [calibration(meterOf(certificate))]),
    ...(display === undefined
      ? []
      : meters.flatMap((meter) => [
          resolution(meter, shown.rounding[meter], display.step_mW[meter]),
          zero(meter, display.step_mW[meter], [
            {
              recorded: display.zero_recorded === false ? 0 : 1,
              open_mW: null,
              level_mW: display.level_mW,
            },
          ]),
        ])),
  ];
  const total = combineContributions(
    [
      ...(combined.repeatability === null ? [] : [own('repeatability', combined.repeatability)]),
      own('between series', combined.between),
      ...stands.flatMap(({ inputs }) => inputs.map(({ shape: _, ...rest }) => rest)),
    ],
    { confidence },
  );
  const U = total.relative_expanded_uncertainty;
  const level = display?.level_mW ?? 1;
  const { value, U: half_mW } = correct(
    {
      schema: 'meterpair.factors/1',
      data_sha256: '',
      title: 'planned',
      direction: 'corrected = factor × candidate reading',
      reference: { name: 'reference', uncertainty_stated: certificate !== undefined },
      candidate: {
        name: 'candidate',
        resolution_mW: display?.step_mW.candidate ?? null,
        rated_max_mW: null,
      },
      confidence,
      tolerance_percent: 100 * wishes.wanted,
      wavelength_range_nm: [NM, NM],
      factors: [
        {
          wavelength_nm: NM,
          factor: 1,
          low: Math.exp(-U),
          high: Math.exp(U),
          relative_standard_uncertainty: total.relative_standard_uncertainty,
          dof: total.dof,
          relative_expanded_uncertainty: U,
          coverage_factor: total.coverage_factor,
          candidate_range_mW: [level, level],
          reading_relative_sd: shown.reading.sd,
          reading_dof: shown.reading.dof,
          next_series_relative_sd: combined.next.sd,
          next_series_dof: combined.next.dof,
          verdict: 'correct-it',
        },
      ],
      cautions: [],
    },
    { reading_mW: level, wavelength_nm: NM },
  );
  return { factor: U, reading: half_mW / value };
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
});
