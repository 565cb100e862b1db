import { argumentWrong } from '../error.js';
import type { LogFactor } from '../series/seriesMean.js';
import { requireShape } from '../statistics/shapes.js';
import { hull } from '../statistics/summary.js';
import { offsetAt, type PowerCurve, type PowerLevel } from './powerLevels.js';

/** So many times below the lowest and above the highest indication a factor is still offered. */
export const BEYOND = 2;
/**
 * What K may change by at half or twice the power where nobody looked: 2 %, the upper end of the
 * linearity of 1 to 2 % that makers state for thermal sensors (application notes).
 */
const NOT_LOOKED_FOR = 0.02;
/**
 * A change in proportion to the power, or to 1/power, through two levels is what a heat sink that
 * warms and an offset make. Three times as much also holds a bend that sets in between the levels:
 * nothing up to a third of the highest power, then in proportion (measured: docs/measured.md).
 */
const BENDS_LATE = 3;
/** Part of a shown offset that is not taken for granted below and above: a trend may look like it. */
const OFFSET_DOUBTED = 0.5;

/** ln K for an indication. */
export interface FactorAtPower extends LogFactor {
  /** Half-width of a rectangular contribution: what the data leave open about the way between levels. */
  readonly between: number;
  /** Half-width of a rectangular contribution: an offset and a bend that nobody looked for out there. */
  readonly outside: number;
}

/**
 * ln K of a reading of the candidate. Between two levels it runs straight in ln(indication), or, where
 * the levels show an offset, along that offset with the remainder straight. Its uncertainty is that of the
 * mean of both levels with the weights 1 − t and t: what both share counts in full, what each has alone
 * (its placements) averages out.
 *
 * `between` at the part t of the way, r the ratio of both indications, Δ what changes between them
 * (without the offset): 3·|Δ|·½ ln r·t(1 − t), at most |Δ|·max(t, 1 − t). By ½ ln r·t(1 − t) of it a
 * change in proportion to the power, or to 1/power, leaves the straight way (to first order in ln r);
 * at most, because K then stays in the span of both levels.
 *
 * Below the lowest and above the highest indication the factor of that level holds (along the
 * offset); `outside` = d·(3·|Δ|/(1 − 1/r) + 2 %) with Δ and r to the next level, d = lowest/c − 1 or
 * c/highest − 1; of a shown offset's own change a half is added to 3·|Δ|, because a trend may have passed for it.
 *
 * @param curve from `levelsOf`, or levels read from a file
 * @returns `null`: no factor is given below half of the lowest or above twice the highest indication,
 *   nor where the offset is all that is shown
 * @throws argument-wrong
 */
export function factorAtPower(curve: PowerCurve, candidate_mW: number): FactorAtPower | null {
  const { levels, offset_mW } = curve;
  requireShape(candidate_mW, 'An indication', 'above-zero');
  if (levels.length === 0) throw argumentWrong('A curve needs at least one level.');
  const [lowest, highest] = hull(levels.map((level) => level.candidate_mW));
  const [below, above] = [lowest / candidate_mW, candidate_mW / highest];
  if (Math.max(below, above) > BEYOND || (offset_mW ?? 0) >= candidate_mW) return null;
  const here = offsetAt(offset_mW, candidate_mW);
  const rest = (level: PowerLevel) => level.logFactor - offsetAt(offset_mW, level.centre_mW);
  const next = levels.findIndex((level) => level.centre_mW >= candidate_mW);
  if (next > 0) {
    const [a, b] = [levels[next - 1], levels[next]];
    const logRatio = Math.log(b.centre_mW / a.centre_mW);
    const t = Math.log(candidate_mW / a.centre_mW) / logRatio;
    return {
      logFactor: (1 - t) * rest(a) + t * rest(b) + here,
      standardUncertainty: onTheWay(a, b, t),
      dof: 1 / ((1 - t) / a.dof + t / b.dof),
      between:
        Math.abs(rest(b) - rest(a)) *
        Math.min((BENDS_LATE / 2) * logRatio * t * (1 - t), Math.max(t, 1 - t)),
      outside: 0,
    };
  }
  const [end, neighbour] =
    next === 0 ? [levels[0], levels[1]] : [levels[levels.length - 1], levels[levels.length - 2]];
  let change = 0;
  if (neighbour !== undefined) {
    const r = Math.max(end.centre_mW / neighbour.centre_mW, neighbour.centre_mW / end.centre_mW);
    const ofOffset = offsetAt(offset_mW, neighbour.centre_mW) - offsetAt(offset_mW, end.centre_mW);
    change =
      (BENDS_LATE * Math.abs(rest(neighbour) - rest(end)) + OFFSET_DOUBTED * Math.abs(ofOffset)) /
      (1 - 1 / r);
  }
  return {
    logFactor: rest(end) + here,
    standardUncertainty: end.standardUncertainty,
    dof: end.dof,
    between: 0,
    outside: Math.max(0, below - 1, above - 1) * (change + NOT_LOOKED_FOR),
  };
}

/** u of (1 − t)·a + t·b for correlated values (JCGM 100:2008, 5.2.2). */
function onTheWay(a: PowerLevel, b: PowerLevel, t: number): number {
  const [ua, ub] = [(1 - t) * a.standardUncertainty, t * b.standardUncertainty];
  const { correlationWithNext: r = 1 } = a;
  return Math.sqrt(Math.max(0, ua ** 2 + ub ** 2 + 2 * r * ua * ub));
}
