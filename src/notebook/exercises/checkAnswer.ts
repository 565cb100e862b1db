import { argumentWrong } from '../../error.js';
import { type ReadAnswer, readAnswer, type TypedAnswer } from './readAnswer.js';

/** A number, or where a range begins and ends. */
export type AnswerValue = number | readonly [number, number];

export interface AnswerCheck {
  /** The reader's answer, as text or number. */
  readonly answer: TypedAnswer;
  readonly right: AnswerValue;
  /** Unit that the question asks for: `%`, `of 100`, `mW`, `nm`, `s`, or none. */
  readonly unit?: string;
  /** `free`: the question does not ask for the sign. */
  readonly sign?: 'free';
  /** How far off still counts as right, as a fraction of the right answer or range (default 0.01). */
  readonly within?: number;
  /** Why the right answer is right, in one sentence. */
  readonly why?: string;
  readonly hint: string;
  /** Wrong answers that have a name, and what to say to them. */
  readonly slips?: readonly Slip[];
}

export type Slip = readonly [value: AnswerValue, say: string];

/**
 * Is the answer to an exercise right? A wrong one is told what it looks like and is not told the
 * right one.
 *
 * @throws argument-wrong unless the right answer is finite and not 0, or a range that is not empty
 */
export function checkAnswer(check: AnswerCheck): string {
  const { answer, right, hint, why } = check;
  requireRight(right);
  const read = readAnswer(answer, check.unit);
  if (read.kind === 'none') {
    return 'No answer yet. Write it between the quotes and run the cell again.';
  }
  if (read.kind === 'unclear') return `Not a number yet: ${read.why}`;
  const same = sameAs(read, check);
  if (same(right)) return `Right: ${String(answer).trim()}${why === undefined ? '.' : `; ${why}`}`;
  const slip = (check.slips ?? []).find(([value]) => same(value)) ?? commonSlip(check, same);
  if (slip !== undefined) return `Not yet: ${slip[1]}`;
  const wanted = typeof right === 'number' ? 'number' : 'range';
  if (read.kind === wanted) return `Not yet. Hint: ${hint}`;
  return wanted === 'number'
    ? 'Not yet: that is a range, and the question asks for one number.'
    : 'Not yet: that is one number, and the question asks from where to where.';
}

/** Is what was read this value, as closely as the question wants it? */
function sameAs(read: ReadAnswer, check: AnswerCheck): (value: AnswerValue) => boolean {
  const { right, within = 0.01, sign } = check;
  const size = typeof right === 'number' ? Math.abs(right) : right[1] - right[0];
  const near = (a: number, b: number, slack: number) =>
    Math.abs(a - b) <= slack || (sign === 'free' && Math.abs(a + b) <= slack);
  return (value) => {
    if (read.kind === 'number' && typeof value === 'number') {
      // A slip is known as closely, in proportion, as the right answer.
      return near(read.value, value, within * (value === 0 ? size : Math.abs(value)));
    }
    if (read.kind !== 'range' || typeof value === 'number') return false;
    const [low, high] = value;
    const flipped = sign === 'free' && near(read.low, high, within * size);
    return flipped
      ? near(read.high, low, within * size)
      : near(read.low, low, within * size) && near(read.high, high, within * size);
  };
}

const times = (value: AnswerValue, by: number): AnswerValue =>
  typeof value === 'number'
    ? value * by
    : by < 0
      ? [value[1] * by, value[0] * by]
      : [value[0] * by, value[1] * by];

/** Slips that every question knows. */
function commonSlip(check: AnswerCheck, same: (value: AnswerValue) => boolean): Slip | undefined {
  const { right, unit = '' } = check;
  const slip = (by: number, say: string): Slip => [times(right, by), say];
  const percent = unit === '%' || unit === 'of 100';
  return [
    slip(-1, 'the size is right, the sign is not: which way does it go?'),
    ...(percent ? [slip(0.01, `that is a fraction, and the question asks for ${unit}.`)] : []),
    ...(unit === ''
      ? [slip(100, 'that is in percent, and the question asks for a plain number.')]
      : []),
    ...[0.001, 0.01, 0.1, 10, 100, 1000].map((by) =>
      slip(by, 'the digits are right, the decimal point is not.'),
    ),
  ].find(([value]) => same(value));
}

function requireRight(right: AnswerValue): void {
  const good =
    typeof right === 'number'
      ? Number.isFinite(right) && right !== 0
      : right.every(Number.isFinite) && right[0] < right[1];
  if (good) return;
  throw argumentWrong('A right answer must be a finite number other than 0, or a range.', right);
}
