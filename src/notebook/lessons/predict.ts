import { formatNumber } from '../../findings/formatNumber.js';
import { showSentences } from '../display.js';
import { readAnswer, type TypedAnswer } from '../exercises/readAnswer.js';
import { told } from './told.js';

/** What the reader expects, before anything is counted. */
export interface Prediction {
  readonly low: number;
  readonly high: number;
}

/** What notes a prediction in this unit and says what was understood; `null` where none was read. */
export const predicting =
  (unit: string) =>
  (...typed: TypedAnswer[]): Prediction | null => {
    const read = readAnswer(typed.length === 1 ? (typed[0] ?? '') : typed.join(','), unit);
    const noted =
      read.kind === 'number'
        ? { low: read.value, high: read.value }
        : read.kind === 'range'
          ? { low: read.low, high: read.high }
          : null;
    showSentences([
      noted !== null
        ? `Noted: ${textOf(noted)} ${unit}`.trim().concat('.')
        : read.kind === 'unclear'
          ? `Not noted: ${read.why}`
          : 'Nothing noted yet. Write your number between the quotes and run the cell again; a wrong guess teaches more than none.',
    ]);
    return noted;
  };

/** What came out, and beside what the reader may have thought. */
export interface CameOut {
  readonly was: number;
  /** Of what came out, from the number of repetitions; 0 where it was computed. */
  readonly standardError: number;
  readonly unit: string;
  /** How far off still counts as close, in the same unit. */
  readonly within: number;
  /** `free`: asked for without its sign. */
  readonly sign?: 'free';
  /** Predictions that many people make, and what lies behind them. */
  readonly thoughts?: readonly (readonly [value: number, say: string])[];
}

/**
 * What the reader expected beside what came out. A missing prediction is never blamed, and a wrong
 * one gets the thought behind it, where it is a known one.
 */
export function predictionSentence(prediction: Prediction | null, found: CameOut): string {
  const { was, standardError, unit, within, sign, thoughts = [] } = found;
  const text = standardError === 0 ? formatNumber(was, { digits: 5 }) : told(was, standardError);
  const is = `${text} ${unit}`.trim();
  if (prediction === null) return `No prediction was noted. It is ${is}.`;
  const own = sign === 'free' ? unsigned(prediction) : prediction;
  const holds = (value: number) => own.low - within <= value && value <= own.high + within;
  const thought = thoughts.find(([value]) => holds(value));
  const after = holds(was)
    ? 'That is what happens.'
    : (thought?.[1] ?? 'What makes the difference comes next.');
  return `You predicted ${textOf(prediction)}; it is ${is}. ${after}`;
}

function unsigned({ low, high }: Prediction): Prediction {
  const [a, b] = [Math.abs(low), Math.abs(high)];
  return { low: Math.min(a, b), high: Math.max(a, b) };
}

const textOf = ({ low, high }: Prediction) =>
  low === high ? formatNumber(low, { digits: 5 }) : `${formatNumber(low)} to ${formatNumber(high)}`;

/** How often something held, as what came out of 100. */
export const outOf100 = (found: {
  readonly fraction: number;
  readonly standardUncertainty: number;
}): Pick<CameOut, 'was' | 'standardError' | 'unit'> => ({
  was: 100 * found.fraction,
  standardError: 100 * found.standardUncertainty,
  unit: 'of 100',
});
