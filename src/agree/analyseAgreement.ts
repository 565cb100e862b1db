/** Agreement over the whole study, before and after the correction. */

import { sentences } from '../statistics/sentences.js';
import type {
  AgreementResult,
  ComparedSeries,
  DifferenceSummary,
  LimitsOfAgreement,
  Study,
} from '../vocabulary.js';
import { analyseSeriesMeans, type FactorByPower } from './analyseSeriesMeans.js';
import { limitsOf } from './limitsOfAgreement.js';
import { replicateLimits } from './replicateLimits.js';
import { differenceSummary } from './summarise.js';

interface Agreement {
  readonly summary: DifferenceSummary;
  readonly limits: LimitsOfAgreement;
  readonly why: string;
}

/**
 * Limits of agreement with the series as the unit: several laps of one series are replicates, not
 * independent evidence (Bland and Altman 1999, section 5.3). With one lap per series these are the
 * plain limits of Bland and Altman 1986.
 */
export function analyseAgreement(
  study: Study,
  series: readonly ComparedSeries[],
  factorAt: FactorByPower,
): AgreementResult {
  const used = series.filter(({ laps }) => laps.length > 0);
  const groups = (
    difference: (candidate: number, reference: number, nm: number) => number | null,
  ) =>
    used
      .map(({ laps, result }) =>
        laps.flatMap(({ candidate, reference }) => {
          const value = difference(
            candidate.reading_mW,
            reference.reading_mW,
            result.wavelength_nm,
          );
          return value === null ? [] : [value];
        }),
      )
      .filter((group) => group.length > 0);
  const mW = agreement(
    groups((c, r) => c - r),
    study,
  );
  const percent = agreement(
    groups((c, r) => 100 * (c / r - 1)),
    study,
  );
  const corrected = agreement(
    groups((c, r, nm) => {
      const factor = factorAt(nm, c);
      return factor === null ? null : 100 * ((factor * c) / r - 1);
    }),
    study,
  );
  return {
    series: used.length,
    laps: used.reduce((sum, { laps }) => sum + laps.length, 0),
    difference_mW: mW.summary,
    difference_percent: percent.summary,
    limits_mW: mW.limits,
    limits_percent: percent.limits,
    corrected_difference_percent: corrected.summary,
    corrected_limits_percent: corrected.limits,
    ...analyseSeriesMeans(study, used, factorAt),
    why: sentences([percent.why, correctedWhy(used.length, corrected)]),
  };
}

/** Why there are no limits after the correction, where there are series to have them. */
function correctedWhy(series: number, corrected: Agreement): string {
  if (series < 2 || corrected.limits.low !== null) return '';
  return corrected.summary.mean === null
    ? 'After the correction nothing can be given: no wavelength of these series has a factor.'
    : 'After the correction limits need at least two series with a factor at their wavelength.';
}

function agreement(groups: readonly (readonly number[])[], study: Study): Agreement {
  const { confidence, limits_multiplier: multiplier } = study;
  if (groups.every((group) => group.length === 1)) {
    const values = groups.flat();
    return {
      summary: differenceSummary(values, { confidence }),
      limits: limitsOf(values, { confidence, multiplier }),
      why: values.length < 2 ? 'Limits of agreement need at least two series.' : '',
    };
  }
  const all = replicateLimits(groups, { confidence, multiplier });
  return {
    summary: { mean: all.bias, sd: all.sd_total, low: all.bias_low, high: all.bias_high },
    limits: {
      low: all.low,
      high: all.high,
      low_interval: all.low_interval,
      high_interval: all.high_interval,
    },
    why: all.why,
  };
}
