/** Difference against level: do bias and spread change with the power, and which limits serve? */

import { median } from 'simple-statistics';
import { significant } from '../findings/formatNumber.js';
import {
  type AgreementAgainstLevel,
  type AgreementAtLevel,
  type ComparedSeries,
  type LevelSlope,
  POWERS_APART,
  type Study,
} from '../vocabulary.js';
import { lapLimitsAtLevel } from './lapLimitsAtLevel.js';
import { levelChanges } from './levelChanges.js';
import type { PairedReadings } from './pairedLevels.js';
import { storable } from './ratioLimits.js';
import { type SeriesAgainstLevel, seriesAgainstLevel } from './seriesAgainstLevel.js';

const LEAST_SERIES = 4;

const NO_SLOPE: LevelSlope = { value: null, low: null, high: null, p: null };

/**
 * The series is the unit, each at the mean level of both meters. Percent is tried first, because most
 * errors of a power meter grow with the power; limits that change with the level are taken only where
 * neither scale makes them constant.
 */
export function analyseAgainstLevel(
  study: Study,
  series: readonly ComparedSeries[],
): AgreementAgainstLevel {
  const pairs = series.map(
    ({ laps }): PairedReadings => ({
      reference: laps.map((lap) => lap.reference.reading_mW),
      candidate: laps.map((lap) => lap.candidate.reading_mW),
    }),
  );
  if (pairs.length < LEAST_SERIES) {
    const count = pairs.length === 1 ? 'is 1' : `are ${pairs.length}`;
    return none(`Limits at a level need ${LEAST_SERIES} series; there ${count}.`);
  }
  const { confidence } = study;
  const found = {
    percent: seriesAgainstLevel(pairs, { scale: 'log', confidence }),
    mW: seriesAgainstLevel(pairs, { scale: 'difference', confidence }),
  };
  const [low, high] = found.percent.lines.range.map(Math.exp);
  if (!(high >= POWERS_APART * low)) {
    return none(
      `The series lie too close together (${significant(low, 3)} to ${significant(high, 3)} mW): the highest level should be ${POWERS_APART} times the lowest.`,
    );
  }
  const colours = series.map(({ result }) => result.wavelength_nm);
  const changes = {
    percent: levelChanges(found.percent, colours),
    mW: levelChanges(found.mW, colours),
  };
  const constant = (scale: 'percent' | 'mW') =>
    changes[scale].bias_change !== 'shown' && changes[scale].spread_change !== 'shown';
  // In mW differences grow with the power almost always: to be taken only where percent fails.
  const scale = !constant('percent') && constant('mW') ? 'mW' : 'percent';
  const { lines, weighted, slope_of_noise } = found[scale];
  const { bias_change, spread_change, why } = changes[scale];
  const fitting = spread_change === 'shown' ? (weighted ?? lines) : lines;
  const levels = levelsOf(found[scale], scale, spread_change === 'shown', study);
  return {
    description: constant(scale) ? `constant-${scale}` : 'changes-with-level',
    scale,
    bias_change,
    spread_change,
    bias_slope: slopeOf(fitting.bias),
    spread_slope: slopeOf(lines.spread),
    slope_of_noise,
    levels,
    why: [why, ...(spread_change === 'shown' ? [spreadWords(levels)] : [])].join(' '),
  };
}

function none(why: string): AgreementAgainstLevel {
  return {
    description: 'not-computable',
    scale: null,
    bias_change: 'not-computable',
    spread_change: 'not-computable',
    bias_slope: NO_SLOPE,
    spread_slope: NO_SLOPE,
    slope_of_noise: null,
    levels: [],
    why,
  };
}

/** What a spread that changes takes away. */
function spreadWords(levels: readonly AgreementAtLevel[]): string {
  const without = levels.filter((one) => one.low === null).map((one) => one.place);
  const missing =
    without.length === 0
      ? ''
      : ` At the ${without.join(' and ')} level the line of the spread is not above 0, so there are no limits.`;
  return `Limits whose spread changes have no interval here, and at the ends of the range they are rather too narrow.${missing}`;
}

function slopeOf(line: SeriesAgainstLevel['lines']['bias']): LevelSlope {
  const [low, high] = line.slope_interval;
  return { value: line.slope, low, high, p: line.slope_p };
}

function levelsOf(
  found: SeriesAgainstLevel,
  scale: 'percent' | 'mW',
  grows: boolean,
  { limits_multiplier: multiplier }: Study,
): AgreementAtLevel[] {
  const [lowest, highest] = found.lines.range;
  const places = [
    ['lowest', lowest],
    ['middle', median([...found.levels])],
    ['highest', highest],
  ] as const;
  const show = (value: number) => (scale === 'mW' ? value : 100 * Math.expm1(storable(value)));
  const shown = (value: number | null) => (value === null ? null : show(value));
  return places.map(([place, level]): AgreementAtLevel => {
    const at = lapLimitsAtLevel(found, level, {
      spread: grows ? 'linear' : 'constant',
      multiplier,
    });
    return {
      place,
      level_mW: scale === 'mW' ? level : Math.exp(level),
      bias: show(at.bias),
      bias_interval: [show(at.bias_interval[0]), show(at.bias_interval[1])],
      low: shown(at.low),
      high: shown(at.high),
      low_interval: [shown(at.low_interval[0]), shown(at.low_interval[1])],
      high_interval: [shown(at.high_interval[0]), shown(at.high_interval[1])],
    };
  });
}
