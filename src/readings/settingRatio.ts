import { nullIfTooFew } from '../error.js';
import { coverageFactor } from '../statistics/distributions.js';
import { baseDegree } from '../statistics/driftDegree.js';
import { polynomialColumns } from '../statistics/polynomial.js';
import { type Group, twoGroupFit } from '../statistics/twoGroupFit.js';
import type { Run, Series, SettingResult } from '../vocabulary.js';

/**
 * What a wavelength setting is worth: the ratio of one meter's readings under each setting to those
 * under the first one, by the model of a comparison series with the setting in the place of the
 * meter.
 *
 * @param series a series of kind `setting`
 * @returns one entry per further setting; numbers `null` with the reason in `why` where the runs
 *   are too few
 */
export function settingRatios(series: Series, confidence: number): SettingResult[] {
  const kept = series.runs.filter((run) => run.exclude === null && run.setting_nm !== null);
  const settings = [...new Set(kept.map((run) => run.setting_nm as number))];
  const [from, ...others] = settings;
  if (from === undefined) return [];
  return others.map((to) => {
    const runs = kept.filter((run) => run.setting_nm === from || run.setting_nm === to);
    const base = {
      series: series.id,
      source: series.source,
      wavelength_nm: series.wavelength_nm,
      meter: series.runs[0].meter,
      from_nm: from,
      to_nm: to,
    };
    const fit = ratio(runs, to, confidence);
    return fit === null
      ? {
          ...base,
          ratio: null,
          low: null,
          high: null,
          relative_standard_uncertainty: null,
          dof: null,
          why: `Too few runs under ${from} nm and ${to} nm: at least two of each, alternated.`,
        }
      : { ...base, ...fit };
  });
}

function ratio(runs: readonly Run[], to: number, confidence: number) {
  const groups = runs.map((run): Group => (run.setting_nm === to ? 1 : 0));
  const second = groups.filter((group) => group === 1).length;
  if (Math.min(second, runs.length - second) < 2) return null;
  const degree = baseDegree(runs.length);
  const drift = polynomialColumns(
    runs.map((run) => run.time_s),
    degree,
  );
  return nullIfTooFew(() => {
    const fit = twoGroupFit(
      runs.map((_, i) => [1, groups[i] - 0.5, ...drift[i]]),
      runs.map((run) => Math.log(run.reading_mW)),
      groups,
    );
    const { standardUncertainty: u, dof } = fit.uncertaintyOf(fit.weights[1]);
    const half = coverageFactor(confidence, dof) * u;
    const value = Math.exp(fit.coefficients[1]);
    return {
      ratio: value,
      low: value * Math.exp(-half),
      high: value * Math.exp(half),
      relative_standard_uncertainty: u,
      dof,
      why: `From ${runs.length} runs; drift of degree ${degree} taken out.`,
    };
  });
}
