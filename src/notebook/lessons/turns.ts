/** Lesson: taking turns. */
import { argumentWrong } from '../../error.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { ordinaryLine } from '../../power/lines/ordinaryLine.js';
import { mean } from '../../statistics/summary.js';
import type { RunOrder, Series } from '../../vocabulary.js';
import { show, showSentences, showTable } from '../display.js';
import { coverageOf, errorsOf } from './counts.js';
import { lapEstimate, lapLogs, modelEstimate } from './estimates.js';
import { type Drift, turnsExercise } from './exercises/turns.js';
import { errorsFigure } from './figures/errorsFigure.js';
import { ordersFigure } from './figures/ordersFigure.js';
import { withOwnLaps } from './ownLaps.js';
import { posing } from './pose.js';
import { type Prediction, predicting, predictionSentence } from './predict.js';
import { QUIET_BENCH, repeatSeries } from './repeat.js';
import { cells, told } from './told.js';

const TRUTH = QUIET_BENCH.factor;
const EVENINGS = 200;
const ORDERS = ['reference-first', 'ABBA', 'ABBA-BAAB'] as const;

export const predict = predicting('%');

const sourceWith = ({ percent_per_run }: Drift) => ({
  drift: { linear_per_run: percent_per_run / 100 },
});

const evenings = (drift: Drift, laps: number, order: RunOrder = 'reference-first') =>
  repeatSeries({
    bench: { ...QUIET_BENCH, source: sourceWith(drift), laps, order },
    times: EVENINGS,
    seed: 1,
  });

const plain = (list: readonly Series[]) => list.map((series) => lapEstimate(lapLogs(series)));

/** How far off the mean K of many evenings is, the reference first in every lap. */
export function count(prediction: Prediction | null, drift: Drift, laps: readonly number[]): void {
  const found = laps.map((number) => ({
    number,
    ...errorsOf(plain(evenings(drift, number)), TRUTH),
  }));
  const last = found.at(-1);
  if (last === undefined) throw argumentWrong('Which numbers of laps?', laps.length);
  showSentences([
    predictionSentence(prediction, {
      was: Math.abs(last.mean),
      standardError: last.standardError,
      unit: '%',
      within: 0.1,
      sign: 'free',
      thoughts: [
        [0, 'Taking turns is said to cancel a drift; plain turn about does not.'],
        [
          Math.abs(drift.percent_per_run) * last.number,
          'A mean does not add the steps of all laps up.',
        ],
        [
          Math.abs(drift.percent_per_run) / 2,
          'Half a step would be left if the reference were read before and after.',
        ],
      ],
    }),
    `The mean K of ${EVENINGS} evenings, above the truth: ${found.map((one) => `${told(one.mean, one.standardError)} % with ${one.number} laps`).join(', ')}. Behind ± stands what so many evenings can tell.`,
  ]);
}

/** What each meter gets of the fading source, order by order. */
export function orders(drift: Drift): void {
  show(ordersFigure({ laps: 8, source: sourceWith(drift) }, ORDERS));
}

/** The plain mean and the drift in the model, order by order. */
export function compare(drift: Drift, laps: number): void {
  const groups = ORDERS.map((name) => {
    const list = evenings(drift, laps, name);
    const model = list.map((series) => modelEstimate(series));
    const ways = [
      { name: 'plain mean of laps', estimates: plain(list) },
      { name: 'drift in the model', estimates: model },
    ];
    return { name, ways };
  });
  show(errorsFigure(groups, TRUTH));
  showTable(
    groups.flatMap(({ name, ways }) =>
      ways.map((way) => {
        const errors = errorsOf(way.estimates, TRUTH);
        const [width, held] = cells('', coverageOf(way.estimates, TRUTH));
        return {
          Order: name,
          Computed: way.name,
          'Mean error of K in %': told(errors.mean, errors.standardError),
          '± in %': width?.[1],
          'Hold it, of 100': held?.[1],
        };
      }),
    ),
  );
}

/**
 * What sequences of runs leave of a steady drift in the plain mean of candidate minus reference.
 *
 * @param list letters in the order of the runs: A the reference, B the candidate, – a run that was
 *   lost; blanks count for nothing. A lost run keeps its place in time.
 * @throws argument-wrong when one of the meters does not occur
 */
export function lost(list: readonly string[], { percent_per_run }: Drift): void {
  showTable(
    list.map((text) => {
      const steps = stepsLeft(text);
      return {
        Runs: text,
        'Steps of drift left': formatNumber(steps, { digits: 3 }),
        'Left in the difference, in %': formatNumber(steps * percent_per_run, { digits: 3 }),
      };
    }),
  );
}

/** Mean place of the candidate's runs minus that of the reference's, in runs. */
export function stepsLeft(text: string): number {
  const letters = [...text].filter((letter) => letter.trim() !== '');
  const places = (own: string) => letters.flatMap((letter, i) => (letter === own ? [i] : []));
  const [reference, candidate] = [places('A'), places('B')];
  if (reference.length === 0 || candidate.length === 0) {
    throw argumentWrong('A comparison needs at least one run on each meter.', text, 'A and B');
  }
  return mean(candidate) - mean(reference);
}

export const exercise = posing(turnsExercise);

/** How far the reader's own reference drifts from lap to lap, and what turn about leaves of it. */
export async function own(source: string): Promise<void> {
  await withOwnLaps(source, 4, (laps) => {
    const y = laps.reference.map((reading) => 100 * Math.log(reading));
    const { slope } = ordinaryLine({ x: y.map((_, i) => i), y });
    // A lap is two runs, if the meters took turns evenly.
    const [perRun, doubt] = [slope.value / 2, (slope.standard_uncertainty ?? 0) / 2];
    showSentences([
      `A straight line through the reference's readings changes by ${told(perRun, doubt)} % from run to run, if the meters took turns evenly.`,
      Math.abs(perRun) > 2 * doubt
        ? 'With the reference first in every lap that much is in the mean difference; with the order turned round in every other lap it is not.'
        : 'These readings cannot tell that from no drift at all.',
      'Not shown by this: a drift that turned back in between, the times of the runs if they were not even, and runs that were lost and not written down.',
    ]);
  });
}
