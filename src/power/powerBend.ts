/** Does the candidate bend away from one gain towards the top of its range? */

import { significant } from '../findings/formatNumber.js';
import { pooledBetweenSeries } from '../series/combineSeries.js';
import type { PowerBend, Study } from '../vocabulary.js';
import { type CommonBend, commonBend } from './lines/commonBend.js';
import { curvature } from './lines/curvature.js';
import { type PowerPoint, readingsOf, spreadWithin, tooFew, unless } from './powerPoints.js';

const NO_BEND: PowerBend = {
  verdict: 'not-computable',
  at_top_percent: null,
  low_percent: null,
  high_percent: null,
  p: null,
  dof: null,
  top_mW: null,
  why: '',
};

/** Judged by the scatter of these series alone. */
export function bend(points: readonly PowerPoint[], study: Study): PowerBend {
  const levels = new Set(points.map((one) => one.reference_mean_mW)).size;
  const withOffset = points.length >= 5 && levels >= 3;
  return unless(tooFew(points, 3), NO_BEND, () => {
    const found = curvature(readingsOf(points), {
      offset: withOffset,
      confidence: study.confidence,
    });
    return {
      verdict: found.verdict,
      at_top_percent: found.at_top_percent,
      low_percent: found.interval_percent?.[0] ?? null,
      high_percent: found.interval_percent?.[1] ?? null,
      p: found.p,
      dof: found.dof,
      top_mW: found.top_mW,
      why: `${found.why}${withOffset ? '' : ' An offset of the zero would look the same.'}${found.dof < 3 ? ` Judged by ${points.length} series alone, which see large bends only.` : ''}${consequence(found.verdict)}`,
    };
  });
}

/** Against the scatter between series that the other wavelengths show, or the default. */
export function bendByPooledScatter(
  groups: readonly (readonly PowerPoint[])[],
  others: readonly (readonly PowerPoint[])[],
  study: Study,
): PowerBend {
  const points = groups.flat();
  const pooled = pooledBetweenSeries(
    others.map((group) => group.map(({ estimate }) => estimate)),
    study.between_series,
  );
  const scatter = {
    sd: points.map(({ estimate }) =>
      Math.max(1e-6, Math.hypot(estimate.standardUncertainty, pooled.sd)),
    ),
    dof: Math.min(pooled.dof, ...points.map(({ estimate }) => estimate.dof)),
  };
  return unless(spreadWithin(groups, 2), NO_BEND, () =>
    fromCommon(
      commonBend(
        { ...readingsOf(points), groups: points.map((one) => one.wavelength_nm) },
        { scatter, confidence: study.confidence },
      ),
      study,
      `Judged by a scatter between series of ${significant(100 * pooled.sd, 2)} % (${others.length === 0 && study.between_series === null ? 'the default' : pooled.note}) and that of the runs.`,
    ),
  );
}

/** Over all wavelengths with several series, each with a gain of its own. */
export function bendOverall(groups: readonly (readonly PowerPoint[])[], study: Study): PowerBend {
  const points = groups.flat();
  const why =
    groups.length < 2
      ? 'This needs two wavelengths with several series each; a single one has its own entry.'
      : spreadWithin(groups, groups.length + 2);
  return unless(why, NO_BEND, () =>
    fromCommon(
      commonBend(
        { ...readingsOf(points), groups: points.map((one) => one.wavelength_nm) },
        { confidence: study.confidence },
      ),
      study,
      `Every wavelength has a gain of its own; judged by the scatter of ${points.length} series.`,
    ),
  );
}

function fromCommon(found: CommonBend, study: Study, basis: string): PowerBend {
  const shown =
    found.p === null ? Math.abs(found.at_top_percent) > 1e-9 : found.p < 1 - study.confidence;
  const verdict = !shown
    ? 'not-shown'
    : found.at_top_percent < 0
      ? 'reads-low-at-the-top'
      : 'reads-high-at-the-top';
  return {
    verdict,
    at_top_percent: found.at_top_percent,
    low_percent: found.interval_percent[0],
    high_percent: found.interval_percent[1],
    p: found.p,
    dof: found.dof,
    top_mW: found.top_mW,
    why: `${shown ? 'The readings do not follow one gain.' : 'No bend is shown; one within the interval is not excluded.'} ${basis}${consequence(verdict)}`,
  };
}

function consequence(verdict: PowerBend['verdict']): string {
  if (verdict === 'reads-low-at-the-top') {
    return ' The candidate reads low at the top, as when its heat sink warms: at that power and above, one factor for all powers makes a laser look weaker than it is.';
  }
  return verdict === 'reads-high-at-the-top'
    ? ' The candidate reads high at the top, or low at the bottom: use a factor at the power at which it was measured.'
    : '';
}
