/** Lesson: how often is an interval right? */
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { show, showSentences, showTable } from '../display.js';
import { coverageByLaps, coverageOf } from './counts.js';
import { type Estimate, lapEstimate, lapLogs, narrowest, studentFactor } from './estimates.js';
import { intervalsExercise } from './exercises/intervals.js';
import { coverageFigure } from './figures/coverageFigure.js';
import { intervalsFigure } from './figures/intervalsFigure.js';
import { withOwnLaps } from './ownLaps.js';
import { ratioLogs } from './pairs.js';
import { posing } from './pose.js';
import { outOf100, type Prediction, predicting, predictionSentence } from './predict.js';
import { QUIET_BENCH, repeatSeries } from './repeat.js';
import { cells, coverageRows } from './told.js';

/** A way to an interval: so many laps, and mean ± k · s/√n; Student's t where k is left out. */
export interface Recipe {
  readonly laps: number;
  readonly k?: number;
}

const TRUTH = QUIET_BENCH.factor;
const EVENINGS = 4000;

export const predict = predicting('of 100');

const evenings = (laps: number, times: number) =>
  repeatSeries({ bench: { ...QUIET_BENCH, laps }, times, seed: 10 + laps });

const estimates = ({ laps, k }: Recipe, times: number) =>
  evenings(laps, times).map((series) => lapEstimate(lapLogs(series), { ...(k && { k }) }));

/** The laps of one evening and what the recipe makes of them. */
export function oneEvening(recipe: Recipe): void {
  const logs = evenings(recipe.laps, 1).flatMap((series) => lapLogs(series));
  const k = recipe.k ?? studentFactor(recipe.laps);
  const { value, low, high } = lapEstimate(logs, { k });
  const print = (number: number) => formatNumber(number, { digits: 5, keepZeros: true });
  showTable(logs.map((log, i) => ({ Lap: i + 1, 'K of the lap': print(Math.exp(log)) })));
  showSentences([
    `Invented: the true factor is ${TRUTH}.`,
    `Mean ${print(value)}; the laps scatter with s = ${formatRelative(standardDeviation(logs))} %; k · s/√n with k = ${formatNumber(k, { digits: 3 })} is ${formatRelative(Math.log(high / low) / 2)} %.`,
    `The interval: from ${print(low)} to ${print(high)}.`,
  ]);
}

/** The intervals of many evenings one below the other. */
export function manyEvenings(recipe: Recipe, times: number): void {
  show(intervalsFigure(estimates(recipe, times), TRUTH));
}

/** How many of many evenings hold the truth, beside the prediction. */
export function count(prediction: Prediction | null, recipe: Recipe): void {
  const found = coverageOf(estimates(recipe, EVENINGS), TRUTH);
  showSentences([
    `${found.held} of ${found.times} intervals held the truth.`,
    predictionSentence(prediction, {
      ...outOf100(found),
      within: 2,
      thoughts: [
        [95, 'Ninety-five is what the recipe promises, and it does not keep it.'],
        [100, 'No recipe holds the truth always.'],
        [68, 'That is about what one standard deviation would hold, not two.'],
      ],
    }),
  ]);
}

/** 1.96 against Student's t, for several numbers of laps. */
export function byLaps(laps: readonly number[]): void {
  const lines = coverageByLaps({
    laps,
    series: (number) => evenings(number, EVENINGS / 2),
    ways: [
      { name: '1.96', estimate: (logs) => lapEstimate(logs, { k: 1.96 }) },
      { name: 't', estimate: (logs) => lapEstimate(logs) },
    ],
    truth: TRUTH,
  });
  show(coverageFigure(lines));
  showTable(
    coverageRows(lines).map((row, i) => ({
      ...row,
      t: formatNumber(studentFactor(laps[i] ?? 2), { digits: 4, keepZeros: true }),
    })),
  );
}

/** Levels of confidence, and the habit of showing the best of three; all with Student's t. */
export function prices(laps: number): void {
  const all = evenings(laps, EVENINGS).map((series) => lapLogs(series));
  const at = (confidence: number) => all.map((logs) => lapEstimate(logs, { confidence }));
  const joined = all.flatMap((_, i) => (i % 3 === 2 ? [all.slice(i - 2, i + 1).flat()] : []));
  const kinds: readonly [string, readonly Estimate[]][] = [
    ['99 %', at(0.99)],
    ['95 %', at(0.95)],
    ['68 %', at(0.68)],
    ['95 %, narrowest of three', narrowest(at(0.95), 3)],
    ['95 %, all three as one series', joined.map((logs) => lapEstimate(logs))],
  ];
  showTable(
    kinds.map(([name, list]) => ({
      Intervals: name,
      ...Object.fromEntries(
        cells('', coverageOf(list, TRUTH)).map(([key, value]) => [key.replace(/, $/, ''), value]),
      ),
    })),
  );
}

export const exercise = posing(intervalsExercise);

/** Mean, scatter and interval of the reader's own laps. */
export async function own(source: string): Promise<void> {
  await withOwnLaps(source, 2, (laps) => {
    const logs = ratioLogs(laps);
    const { value, low, high } = lapEstimate(logs);
    const u = standardDeviation(logs) / Math.sqrt(logs.length);
    const print = (number: number) => formatNumber(number, { digits: 5 });
    showSentences([
      `K = ${print(value)}, interval from ${print(low)} to ${print(high)} (95 %, t for ${logs.length - 1} degrees of freedom); s = ${formatRelative(standardDeviation(logs))} %, u of the mean ${formatRelative(u)} %.`,
      u === 0
        ? 'All laps show the same: the display is coarser than the scatter, and an interval of no width is not to be believed.'
        : `The first half of the laps alone would give K = ${print(Math.exp(mean(logs.slice(0, Math.ceil(logs.length / 2)))))}: chance moves a mean by about that much.`,
      'Not shown by this: whether the interval holds the truth (nobody can see that from one interval), what the reference is off by, a drift of the source, and what another placement of the heads would give.',
    ]);
  });
}
