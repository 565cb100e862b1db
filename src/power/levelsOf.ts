import { argumentWrong, failure } from '../error.js';
import type { LogFactor } from '../series/seriesMean.js';
import { fCdf } from '../statistics/distributions.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import { type DrawnEstimate, shrinkTowardsCommon } from '../statistics/shrinkTowardsCommon.js';
import { hull } from '../statistics/summary.js';
import { clusterByPower } from './clusterByPower.js';
import { meanAtOnePower } from './meanAtOnePower.js';
import { offsetOfLevels } from './offsetOfLevels.js';
import type {
  ByPower,
  MeasuredLevel,
  Placement,
  PowerCurve,
  PowerLevel,
  SeriesAtPower,
} from './powerLevels.js';

export interface LevelsOfPower extends PowerCurve<MeasuredLevel> {
  readonly by_power: ByPower;
}

/** Levels differ when chance alone would make them do so in less than 5 % (common practice). */
const DIFFER = 0.05;

/**
 * ln K of one wavelength by level of power, lowest first. What all wavelengths share (calibration of
 * the reference) and what the displays add is not in it: whoever joins the budget adds both.
 *
 * Nothing is tested before K goes by level. Each level is drawn towards the common value as far as
 * the data allow (`shrinkTowardsCommon`): levels that agree help each other, levels that do not stay
 * where they are. `by_power` says which of the two it is, and decides nothing.
 *
 * @param series of one wavelength, in any order; at least one
 * @param placement spread between series *at one power*: pooled over levels, never over powers, for
 *   a factor that changes with the power would pass for placement; or as stated
 * @throws too-few-values, argument-wrong
 * Source: docs/methods/power.md
 */
export function levelsOf(series: readonly SeriesAtPower[], placement: Placement): LevelsOfPower {
  check(series, placement);
  const groups = clusterByPower(series);
  const own = groups.map((group) => meanAtOnePower(group, placement));
  const drawn =
    own.length > 1
      ? shrinkTowardsCommon(own.map(({ logFactor, ...rest }) => ({ value: logFactor, ...rest })))
      : null;
  const levels = groups.map((group, j): MeasuredLevel => {
    const level = drawn?.[j] ?? null;
    return {
      candidate_mW: hull(group.map((one) => one.candidateRange_mW)),
      centre_mW: Math.exp(
        group.reduce((sum, one) => sum + Math.log(one.candidateMean_mW), 0) / group.length,
      ),
      logFactor: level?.value ?? own[j].logFactor,
      standardUncertainty: level?.standardUncertainty ?? own[j].standardUncertainty,
      // The spread of the placement is one number for all levels: joining them teaches nothing of it.
      dof: own[j].dof,
      own: own[j],
      ...correlationWithNext(drawn, j),
      series: group.map((one) => one.id),
    };
  });
  return {
    levels,
    offset_mW: offsetOfLevels(levels.map(({ own, centre_mW }) => ({ ...own, centre_mW }))),
    by_power: byPower(own),
  };
}

/** Each level has placements of its own; what two share is what drawing them together made of it. */
function correlationWithNext(
  drawn: readonly DrawnEstimate[] | null,
  j: number,
): Pick<PowerLevel, 'correlationWithNext'> {
  if (drawn === null || j + 1 >= drawn.length) return {};
  const { covarianceWithNext, standardUncertainty: u } = drawn[j];
  return { correlationWithNext: covarianceWithNext / (u * drawn[j + 1].standardUncertainty) };
}

/** Weighted squares about the common mean against F, because the placement is not known exactly. */
function byPower(own: readonly LogFactor[]): ByPower {
  if (own.length < 2) return { verdict: null, p: null };
  const weights = own.map((level) => 1 / level.standardUncertainty ** 2);
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = own.reduce((sum, level, j) => sum + (weights[j] / total) * level.logFactor, 0);
  const q = own.reduce((sum, level, j) => sum + weights[j] * (level.logFactor - mean) ** 2, 0);
  const dof = Math.min(...own.map((level) => level.dof));
  const p = Math.max(0, 1 - fCdf(q / (own.length - 1), own.length - 1, dof));
  return { verdict: p < DIFFER ? 'differ' : 'not-shown', p };
}

const MEASURED: Shape = {
  fields: { logFactor: 'number', standardUncertainty: 'not-negative', dof: 'above-zero' },
};

function check(series: readonly SeriesAtPower[], placement: Placement): void {
  if (series.length === 0) throw failure('too-few-values', 'A level of power needs a series.', 0);
  requireShape(placement, 'The spread of the placement', {
    fields: { sd: 'not-negative', dof: 'above-zero' },
  });
  for (const one of series) {
    requireShape(one, `The series ${one.id}`, MEASURED);
    const [low, high] = one.candidateRange_mW;
    if (!(low > 0) || !(high >= low) || !Number.isFinite(high)) {
      throw argumentWrong(
        'A range of indications must be above 0 mW, the lower end first.',
        one.id,
      );
    }
  }
}
