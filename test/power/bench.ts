/** Studies at several powers with a known truth, and how later readings fare: for the property tests. */

import { clusterByPower } from '../../src/power/clusterByPower.js';
import { factorAtPower } from '../../src/power/factorAtPower.js';
import { type LevelsOfPower, levelsOf } from '../../src/power/levelsOf.js';
import type { Placement, SeriesAtPower } from '../../src/power/powerLevels.js';
import { wholeRange } from '../../src/power/wholeRange.js';
import { pooledBetweenSeries } from '../../src/series/combineSeries.js';
import { combineIndependent } from '../../src/statistics/combineIndependent.js';
import type { Random } from '../../src/statistics/random.js';
import { studentPlusRectangular } from '../../src/statistics/studentPlusRectangular.js';

export interface Scene {
  readonly name: string;
  /** True powers of the levels, mW, lowest first. */
  readonly powers: readonly number[];
  /** Indication ÷ true power, before placement, offset and display. */
  readonly response: (power_mW: number) => number;
  readonly offset_mW?: number;
  readonly seriesPerLevel?: number;
  /** True standard deviation of the placement (default 0.5 %). */
  readonly placement?: number;
  /** What is put in for it instead of the default of 1 % pooled with what the series show. */
  readonly stated?: Placement;
  /** Display step of the candidate, mW (default none). */
  readonly step_mW?: number;
}

/** Standard uncertainty of the reference's certificate: U = 2 %, k = 2. */
export const CERTIFICATE = 0.01;
const LAPS = 8;
/** Scatter of one reading of either meter within a series, and of a later one. */
const NOISE = 0.0045;
const LATER_NOISE = 0.005;
/** How far off a level is set: so that no display stands on the edge of a step in every study. */
const SET = 0.03;

export interface Drawn {
  /** True powers of the levels, mW: those of the scene, each up to 3 % off. */
  readonly powers: readonly number[];
  readonly series: readonly SeriesAtPower[];
  readonly placement: Placement;
  /** ln of what the reference reads too much. */
  readonly calibration: number;
}

/** Indication of the candidate: placement multiplies, the offset and the display come after it. */
export function indication(scene: Scene, power_mW: number, logError: number): number {
  const shown = power_mW * scene.response(power_mW) * Math.exp(logError) + (scene.offset_mW ?? 0);
  const step = scene.step_mW ?? 0;
  return step > 0 ? Math.max(step, Math.round(shown / step) * step) : shown;
}

export const evenly = (from: number, to: number, n: number): number[] =>
  Array.from({ length: n }, (_, i) => from * (to / from) ** (i / (n - 1)));

export function drawStudy(scene: Scene, random: Random): Drawn {
  const calibration = CERTIFICATE * random.normal();
  const powers = scene.powers.map((power) => power * (1 + SET * (2 * random.uniform() - 1)));
  const series = powers.flatMap((power, j) =>
    Array.from({ length: scene.seriesPerLevel ?? 1 }, (_, i): SeriesAtPower => {
      const seat = (scene.placement ?? 0.005) * random.normal();
      const candidate = Array.from({ length: LAPS }, () =>
        indication(scene, power, seat + NOISE * random.normal()),
      );
      const reference = Array.from({ length: LAPS }, () => NOISE * random.normal());
      const logs = moments(candidate.map(Math.log));
      const other = moments(reference.map((e) => Math.log(power) + calibration + e));
      return {
        id: `${j}-${i}`,
        candidateMean_mW: Math.exp(logs.mean),
        candidateRange_mW: [Math.min(...candidate), Math.max(...candidate)],
        logFactor: other.mean - logs.mean,
        ...combineIndependent(
          [logs, other].map(({ variance }) => ({
            standardUncertainty: Math.sqrt(variance / LAPS),
            dof: LAPS - 1,
          })),
        ),
      };
    }),
  );
  // Series are pooled where they were taken at one power.
  const pooled = pooledBetweenSeries(clusterByPower(series), null);
  return { powers, series, calibration, placement: scene.stated ?? pooled };
}

function moments(values: readonly number[]) {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  const variance = values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1);
  return { mean, variance };
}

interface Scored {
  readonly inside: boolean;
  /** Half-width of the 95 % interval of the corrected reading, as a fraction. */
  readonly half: number;
}

interface LaterReading {
  readonly power_mW: number;
  readonly shown_mW: number;
  /** What stands in its uncertainty beside the factor. */
  readonly beside: { readonly standardUncertainty: number; readonly dof: number };
}

/** A later reading of `power_mW`: the candidate seated anew. */
function later(scene: Scene, study: Drawn, power_mW: number, random: Random): LaterReading {
  const seat = (scene.placement ?? 0.005) * random.normal();
  const shown_mW = indication(scene, power_mW, seat + LATER_NOISE * random.normal());
  const display = (scene.step_mW ?? 0) / Math.sqrt(12) / shown_mW;
  const known = (standardUncertainty: number) => ({ standardUncertainty, dof: 1e6 });
  const beside = combineIndependent([
    known(CERTIFICATE),
    { standardUncertainty: study.placement.sd, dof: study.placement.dof },
    known(LATER_NOISE),
    // One display step for the later reading, one for the readings that made the factor.
    known(display),
    known(display),
  ]);
  return { power_mW, shown_mW, beside };
}

/** Corrected by the factor at its power, and held against the truth; `null`: no factor there. */
function scoreAtPower(curve: LevelsOfPower, reading: LaterReading): Scored | null {
  const at = factorAtPower(curve, reading.shown_mW);
  if (at === null) return null;
  const half = studentPlusRectangular({
    ...combineIndependent([at, reading.beside]),
    rectangular: Math.hypot(at.between, at.outside) / Math.sqrt(3),
    confidence: 0.95,
  });
  const error = at.logFactor + Math.log(reading.shown_mW / reading.power_mW);
  return { inside: Math.abs(error) <= half, half };
}

/** Corrected by the one factor for the whole range. */
function scoreByWhole(curve: LevelsOfPower, reading: LaterReading): Scored {
  const { low, high } = wholeRange(curve, { shared: reading.beside });
  const needed = Math.log(reading.power_mW / reading.shown_mW);
  return { inside: low <= needed && needed <= high, half: (high - low) / 2 };
}

interface Fared {
  /** Where the later readings were: each level, lowest first; between them; at half and at twice. */
  readonly levels: readonly { readonly inside: number; readonly half: number }[];
  readonly between: { readonly inside: number; readonly half: number };
  readonly half: { readonly inside: number; readonly half: number };
  readonly twice: { readonly inside: number; readonly half: number };
  /** With the one factor for the whole range, between the levels. */
  readonly whole: { readonly inside: number; readonly half: number };
  /** Mean half-width over levels and ways between, as a fraction. */
  readonly width: number;
  /** Part of the studies in which levels were said to differ, and an offset to be shown. */
  readonly differ: number;
  readonly offset: number;
  readonly refused: number;
}

/** The whole range is slow to score: once in so many studies. */
export const WHOLE_EVERY = 2;
/** Later readings between the levels, a study. */
const BETWEEN = 5;
/** How far out the readings beyond the levels are: indications just within a factor of two. */
const BEYOND = 1.9;

/** @param change what is made of the curve before it is used: for what the parts of the rule are worth */
export function fare(
  scene: Scene,
  studies: number,
  random: Random,
  change: (curve: LevelsOfPower) => LevelsOfPower = (curve) => curve,
): Fared {
  const places: Scored[][] = scene.powers.map(() => []);
  const between: Scored[] = [];
  const [half, twice, whole]: [Scored[], Scored[], Scored[]] = [[], [], []];
  let [differ, offset, refused] = [0, 0, 0];
  for (let i = 0; i < studies; i++) {
    const study = drawStudy(scene, random);
    const curve = change(levelsOf(study.series, study.placement));
    const [lowest, highest] = [study.powers[0], study.powers[study.powers.length - 1]];
    if (curve.by_power.verdict === 'differ') differ++;
    if (curve.offset_mW !== null) offset++;
    const read = (power: number, into: Scored[]) => {
      const scored = scoreAtPower(curve, later(scene, study, power, random));
      if (scored === null) refused++;
      else into.push(scored);
    };
    study.powers.forEach((power, j) => {
      read(power, places[j]);
    });
    for (let k = 0; k < BETWEEN; k++) {
      read(lowest * (highest / lowest) ** random.uniform(), between);
    }
    if (i % WHOLE_EVERY === 0) {
      const anywhere = lowest * (highest / lowest) ** random.uniform();
      whole.push(scoreByWhole(curve, later(scene, study, anywhere, random)));
    }
    read(lowest / BEYOND, half);
    read(highest * BEYOND, twice);
  }
  const summary = (list: readonly Scored[]) => ({
    inside: list.filter((one) => one.inside).length / list.length,
    half: list.reduce((sum, one) => sum + one.half, 0) / list.length,
  });
  return {
    levels: places.map(summary),
    between: summary(between),
    half: summary(half),
    twice: summary(twice),
    whole: summary(whole),
    width: summary([...places.flat(), ...between]).half,
    differ: differ / studies,
    offset: offset / studies,
    refused,
  };
}
