/** Lesson: agreement is not correlation. */
import { correlation } from '../../agree/correlation.js';
import { limitsOfAgreement } from '../../agree/limitsOfAgreement.js';
import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { show, showSentences, showTable } from '../display.js';
import { agreementExercise } from './exercises/agreement.js';
import { metersFigure, type NamedPairs } from './figures/metersFigure.js';
import { rangeFigure } from './figures/rangeFigure.js';
import { withOwnLaps } from './ownLaps.js';
import { correctedPairs, pairsOverRange, percentDifferences, rangeStudy } from './pairs.js';
import { posing } from './pose.js';
import { type Prediction, predicting, predictionSentence } from './predict.js';
import { told } from './told.js';

export const predict = predicting('');

const meter = (factor: number, candidate: number) => ({
  factor,
  noise: { reference: 0.003, candidate },
});

/** Two invented candidates over many sources: one reads low, one is restless. */
export function candidates(plan: {
  readonly range_mW: readonly [number, number];
  readonly sources: number;
}): readonly NamedPairs[] {
  const pairs = (meters: ReturnType<typeof meter>) => pairsOverRange({ ...plan, meters, seed: 4 });
  showSentences([
    `Invented: ${plan.sources} sources from ${plan.range_mW.join(' to ')} mW, each read once on the reference and once on both candidates.`,
  ]);
  return [
    { name: 'reads low', pairs: pairs(meter(1.25, 0.004)) },
    { name: 'restless', pairs: pairs(meter(1, 0.05)) },
  ];
}

/** Both candidates plotted twice. */
export function picture(list: readonly NamedPairs[]): void {
  show(metersFigure(list));
}

/** Correlation beside what it does not tell. */
export function numbers(list: readonly NamedPairs[], prediction?: Prediction | null): void {
  const [first] = list;
  if (first !== undefined && prediction !== undefined)
    showSentences([
      predictionSentence(prediction, {
        was: correlation(first.pairs) ?? 0,
        standardError: 0,
        unit: '',
        within: 0.005,
        thoughts: [
          [0.8, 'Four fifths is how much it shows, and correlation does not look at that.'],
          [0.2, 'A fifth is how much is missing, and correlation does not look at that.'],
        ],
      }),
    ]);
  showTable(
    list.map(({ name, pairs }) => {
      const percent = percentDifferences(pairs);
      const { low, high } = limitsOfAgreement(percent);
      const error = standardDeviation(percent) / Math.sqrt(percent.length);
      return {
        Candidate: name,
        'Correlation r': formatNumber(correlation(pairs), { digits: 5 }),
        'Mean difference in %': told(mean(percent), error),
        'Limits of agreement in %': formatInterval(low, high),
      };
    }),
  );
}

/** One meter over ranges of power that grow; new luck in every range. */
export function ranges(list: readonly (readonly [number, number])[]): void {
  const times = 200;
  const studies = list.map((range_mW, i) =>
    rangeStudy({ meters: meter(1.1, 0.03), sources: 20, range_mW, seed: 1 + times * i }, { times }),
  );
  show(rangeFigure(studies));
  showTable(
    studies.map(({ range_mW: [low, high], r, width }) => ({
      'Power in mW': `${low} to ${high}`,
      'Correlation r': told(r.mean, r.standardError),
      '95 of 100 r lie': formatInterval(...r.most),
      'Limits of agreement apart by %': told(width.mean, width.standardError),
    })),
  );
}

/** Both candidates after each was given the factor that its own pairs give. */
export function cured(list: readonly NamedPairs[]): void {
  numbers(
    list.map((one) => {
      const found = correctedPairs(one.pairs);
      return { name: `${one.name}, times ${found.factor.toFixed(3)}`, pairs: found.pairs };
    }),
  );
}

export const exercise = posing(agreementExercise);

/** Correlation and limits of the reader's own laps. */
export async function own(source: string): Promise<void> {
  await withOwnLaps(source, 3, (laps) => {
    const percent = percentDifferences(laps);
    const { low, high } = limitsOfAgreement(percent);
    const error = standardDeviation(percent) / Math.sqrt(percent.length);
    showSentences([
      `Candidate − reference: mean ${told(mean(percent), error)} %, limits of agreement ${formatInterval(low, high)} %. Correlation r = ${formatNumber(correlation(laps), { digits: 2 })}: at one power it says nothing about either meter.`,
      'Not shown by this: how the meters differ at another power or colour, what another placement would give (laps of one series are no independent pairs), and which of the two is right.',
    ]);
  });
}
