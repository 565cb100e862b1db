/** Lesson: from difference to factor. */
import type { PairedReadings } from '../../agree/pairedLevels.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { seededRandom } from '../../statistics/random.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { show, showSentences, showTable } from '../display.js';
import { factorExercise } from './exercises/factor.js';
import { linesFigure } from './figures/linesFigure.js';
import { withOwnLaps } from './ownLaps.js';
import { factorOf, ratioLogs } from './pairs.js';
import { posing } from './pose.js';
import { type Prediction, predicting, predictionSentence } from './predict.js';
import { told } from './told.js';

export const predict = predicting('%');

/** By how many percent a candidate's readings have to be changed, beside the prediction. */
export function count(prediction: Prediction | null, difference_percent: number): void {
  const K = factorOf(difference_percent);
  showSentences([
    predictionSentence(prediction, {
      was: 100 * (K - 1),
      standardError: 0,
      unit: '%',
      within: 0.5,
      thoughts: [
        [
          -difference_percent,
          'The same number undoes it only if both percents are of the same thing, and they are not.',
        ],
        [100 * K, 'That is the factor, in percent; the question was how much is added.'],
      ],
    }),
    `A beam of 100 mW is shown as ${formatNumber(100 + difference_percent)} mW; 100 ÷ ${formatNumber(100 + difference_percent)} = ${formatNumber(K, { digits: 5 })}. Candidate − reference is ${formatNumber(difference_percent)} %, and K = reference ÷ candidate lies ${difference_percent < 0 ? 'above' : 'below'} one: the two have opposite signs.`,
  ]);
}

/** K against the difference, and the straight line of those who take both percents for one. */
export function curve(): void {
  const x = Array.from({ length: 37 }, (_, i) => -45 + 2.5 * i);
  show(
    linesFigure({
      title: 'The factor that undoes a difference',
      alt: 'K = 1 ÷ (1 + difference) and the line 1 − difference: they touch at no difference, at −20 % K is 1.25 and the line 1.2, at +25 % K is 0.8 and the line 0.75. The curve is nowhere below the line.',
      x: ['candidate − reference / %'],
      y: ['factor K'],
      lines: [
        { name: 'K = reference ÷ candidate', as: 'line', x, y: x.map(factorOf) },
        { name: 'minus the same percent', as: 'line', x, y: x.map((d) => 1 - d / 100) },
      ],
    }),
  );
}

/** Differences, the factors that undo them, and their logarithms. */
export function differences(list: readonly number[]): void {
  showTable(
    list.map((d) => ({
      'Difference in %': formatNumber(d),
      K: formatNumber(factorOf(d), { digits: 4, keepZeros: true }),
      '100 · ln K': formatNumber(100 * Math.log(factorOf(d)), { digits: 3 }),
    })),
  );
}

/** Three ways from laps to one factor. */
export const WAYS = {
  'mean of the ratios': ({ reference, candidate }: PairedReadings) =>
    mean(reference.map((r, i) => r / candidate[i])),
  'ratio of the means': ({ reference, candidate }: PairedReadings) =>
    mean(reference) / mean(candidate),
  'mean of the logarithms': (laps: PairedReadings) => Math.exp(mean(ratioLogs(laps))),
} as const;

/** Each way, and the same way with the meters exchanged: a factor and its inverse should give one. */
export function ways(laps: PairedReadings): void {
  // A product of one is one to the digits shown, whatever the last binary digit says.
  const print = (value: number) =>
    formatNumber(Number(value.toPrecision(12)), { digits: 5, keepZeros: true });
  const exchanged = { reference: laps.candidate, candidate: laps.reference };
  showTable(
    Object.entries(WAYS).map(([name, way]) => ({
      Way: name,
      K: print(way(laps)),
      'K with the meters exchanged': print(way(exchanged)),
      'Both multiplied': print(way(laps) * way(exchanged)),
    })),
  );
}

/**
 * Relative standard uncertainty of the sum of several alike quantities.
 *
 * @param shared relative standard uncertainty that all have in common
 * @param own of each by itself
 * @see JCGM 100:2008, 5.2.2: what is in common adds as it is, the rest as squares
 */
export function ofSum(count: number, shared: number, own: number): number {
  return Math.hypot(shared, own / Math.sqrt(count));
}

/**
 * Many workshops, each with a reference that is off by its own amount and two candidates corrected
 * by it; how well are two corrected readings, their sum and their ratio known?
 */
export function sharedReference(plan: {
  /** Standard uncertainty of the reference and of each comparison's own part, in percent. */
  readonly reference: number;
  readonly own: number;
}): void {
  const times = 4000;
  const random = seededRandom(11);
  const [a, b] = [plan.reference / 100, plan.own / 100];
  const pairs = Array.from({ length: times }, () => {
    const shared = a * random.normal();
    return [1, 2].map(() => Math.exp(shared + b * random.normal()));
  });
  const one = Math.hypot(a, b);
  const print = (u: number) => formatNumber(100 * u, { digits: 3, keepZeros: true });
  const cases: readonly [string, (pair: readonly number[]) => number, number, number][] = [
    ['one corrected reading', ([x = 1]) => x, one, one],
    ['the sum of two', ([x = 1, y = 1]) => (x + y) / 2, ofSum(2, 0, one), ofSum(2, a, b)],
    ['the ratio of two', ([x = 1, y = 1]) => x / y, one * Math.SQRT2, b * Math.SQRT2],
  ];
  showTable(
    cases.map(([name, of, alone, known]) => {
      const s = 100 * standardDeviation(pairs.map(of));
      return {
        Quantity: name,
        'u in %, as if the references were two': print(alone),
        'u in %, one reference': print(known),
        [`Counted in ${times} workshops`]: told(s, s / Math.sqrt(2 * times)),
      };
    }),
  );
}

export const exercise = posing(factorExercise);

/** Three ways for the reader's own laps. */
export async function own(source: string): Promise<void> {
  await withOwnLaps(source, 2, (laps) => {
    ways(laps);
    const all = Object.values(WAYS).map((way) => way(laps));
    const s = standardDeviation(ratioLogs(laps));
    showSentences([
      `The ways differ by ${formatNumber(100 * (Math.max(...all) / Math.min(...all) - 1), { digits: 2 })} %, one lap scatters by ${formatNumber(100 * s, { digits: 2 })} %.`,
      'Not shown by this: the factor at another colour or power, and the error that all laps share with the reference.',
    ]);
  });
}
