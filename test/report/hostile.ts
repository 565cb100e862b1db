/** Results as bad as files can make them: for the tests of the report and the figures. */
import type { Factors, Result, Study } from '../../src/vocabulary.js';
import { exampleFactors, exampleResult, exampleStudy } from './exampleResult.js';

/** Text that tries to leave every place it may stand in. */
export const HOSTILE = `</script><script>window.hacked=1</script><img src=x onerror="window.hacked=2">"'&<!--`;

const KEEP = new Set([
  'schema',
  'kind',
  'meter',
  'role',
  'verdict',
  'class',
  'reading_class',
  'type',
  'test',
  'layout',
  'order',
  'direction',
  'data_sha256',
  'label_class',
  'decision',
  'supports',
]);

/** The same record with every text that a file could hold made hostile; ids stay apart. */
function poison<T>(value: T, key?: string): T;
function poison(value: unknown, key = ''): unknown {
  if (typeof value === 'string') return KEEP.has(key) ? value : `${value} ${HOSTILE}`;
  if (Array.isArray(value)) return value.map((one) => poison(one, key));
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(
      Object.entries(value).map(([name, one]) => [name, poison(one, name)]),
    );
  }
  return value;
}

export interface Example {
  readonly study: Study;
  readonly result: Result;
  readonly factors: Factors;
}

export function hostileExample(): Example {
  return poison({ study: exampleStudy(), result: exampleResult(), factors: exampleFactors() });
}

/** Everything that may be missing is missing: no factor, no interval, no class, nothing stated. */
export function emptyExample(): Example {
  const study = exampleStudy();
  const result = exampleResult();
  const none = { mean: null, sd: null, low: null, high: null };
  const noLimits = {
    low: null,
    high: null,
    low_interval: [null, null],
    high_interval: [null, null],
  } as const;
  const noFactor = {
    value: null,
    relative_standard_uncertainty: null,
    dof: null,
    low: null,
    high: null,
  };
  const unstated = {
    resolution_mW: null,
    rated_max_mW: null,
    expanded_uncertainty_percent: null,
    wavelength_setting: null,
  };
  return {
    study: {
      ...study,
      reference: { ...study.reference, ...unstated },
      candidate: { ...study.candidate, ...unstated },
      protocol: { ...study.protocol, order: null, read_at_s: null },
      tolerance_stated: false,
    },
    result: {
      ...result,
      series: result.series.map((one) => ({
        ...one,
        difference_mW: none,
        difference_percent: none,
        limits_mW: noLimits,
        limits_percent: noLimits,
        drift: {
          degree: null,
          evident_degree: null,
          percent_per_run: null,
          percent_per_run_interval: [null, null],
          wander_percent_per_run: null,
          order_bias_percent: null,
        },
        factor: noFactor,
        factor_bracketed: noFactor,
        exclusion_effects: one.exclusion_effects.map((effect) => ({
          ...effect,
          factor_with: null,
          factor_without: null,
        })),
        repeatability: { reference: null, candidate: null },
        candidate_range_mW: null,
        reference_range_mW: null,
        verdict: 'inconclusive',
        why: 'Too few laps are left.',
      })),
      settings: result.settings.map((one) => ({
        ...one,
        ratio: null,
        low: null,
        high: null,
        relative_standard_uncertainty: null,
      })),
      infrared: result.infrared.map((one) => ({
        ...one,
        wanted_mW: null,
        infrared_mW: null,
        infrared_fraction: null,
        infrared_fraction_standard_uncertainty: null,
      })),
      agreement: {
        ...result.agreement,
        difference_mW: none,
        difference_percent: none,
        limits_mW: noLimits,
        limits_percent: noLimits,
        corrected_difference_percent: none,
        corrected_limits_percent: noLimits,
        ratio_limits: { ratio: null, low: null, high: null, limits: noLimits, why: 'No pair.' },
        wilcoxon: {
          series: 0,
          p: null,
          estimate_percent: null,
          low_percent: null,
          high_percent: null,
          achieved_confidence: null,
          why: 'There is no value.',
        },
        equivalence: {
          before: result.agreement.equivalence.after,
          after: result.agreement.equivalence.after,
        },
        proportional_bias: {
          slope: null,
          low: null,
          high: null,
          p: null,
          range_mW: null,
          why: 'A line needs four series.',
        },
        concordance: {
          value: null,
          low: null,
          high: null,
          precision: null,
          accuracy: null,
          why: 'It needs three series.',
        },
      },
      opinions: result.opinions.map((one) => ({
        ...one,
        date: null,
        standard_uncertainty_mW: null,
        comparisons: one.comparisons.map((compared) => ({
          ...compared,
          value_mW: null,
          standard_uncertainty_mW: null,
          difference_mW: null,
          difference_percent: null,
          zeta: null,
          en: null,
          verdict: null,
        })),
      })),
      then_and_now: result.then_and_now && {
        ...result.then_and_now,
        common_relative_standard_uncertainty: null,
        wavelengths: result.then_and_now.wavelengths.map((one) => ({
          ...one,
          earlier_factor: null,
          factor: null,
          change_percent: null,
          low_percent: null,
          high_percent: null,
          verdict: 'not-comparable' as const,
        })),
      },
      re_checks: (result.re_checks ?? []).map((one) => ({
        ...one,
        values: one.values.map((value) => ({
          ...value,
          factor: null,
          low: null,
          high: null,
          relative_standard_uncertainty: null,
          signals: [],
        })),
        common_relative_standard_uncertainty: null,
        centre: null,
        limits: null,
        limits_from_uncertainty: null,
        scatter_ratio: null,
        since_first: null,
        in_control: null,
      })),
      wavelengths: result.wavelengths.map((one) => ({
        ...one,
        factor: null,
        low: null,
        high: null,
        dof: null,
        relative_standard_uncertainty: null,
        relative_expanded_uncertainty: null,
        coverage_factor: null,
        between_series_relative_sd: null,
        next_series_relative_sd: null,
        next_series_dof: null,
        corrected_reading_relative_U: null,
        budget: [],
        monte_carlo: null,
        candidate_range_mW: null,
        verdict: 'inconclusive',
      })),
      common_factor: {
        supported: false,
        p: null,
        factor: null,
        low: null,
        high: null,
        why: 'No factors to compare.',
      },
      hazard: result.hazard.map((one) => ({
        ...one,
        highest_mW: null,
        upper_mW: null,
        class: null,
        reading_class: null,
        decided: false,
        label_class: null,
        label_max_mW: null,
        label_understates: null,
      })),
    },
    factors: { ...exampleFactors(), factors: [], wavelength_range_nm: null },
  };
}
