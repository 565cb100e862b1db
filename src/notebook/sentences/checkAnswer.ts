import { argumentWrong } from '../../error.js';

export interface AnswerCheck {
  /** The reader's answer; `null` as long as there is none. */
  readonly answer: number | null;
  readonly right: number;
  /** How far off still counts as right, as a fraction of the right answer (default 0.01). */
  readonly within?: number;
  readonly hint: string;
  /** Wrong answers that have a name, and what to say to them. */
  readonly slips?: readonly { readonly value: number; readonly say: string }[];
}

/**
 * Is the answer to an exercise right? A wrong one is told what it looks like and is not told the
 * right one.
 *
 * @throws argument-wrong unless the right answer is a finite number other than 0
 */
export function checkAnswer(check: AnswerCheck): string {
  const { answer, right, hint, within = 0.01, slips = [] } = check;
  if (!Number.isFinite(right) || right === 0) {
    throw argumentWrong('A right answer must be a finite number other than 0.', right);
  }
  if (answer === null) return `No answer yet. Hint: ${hint}`;
  if (!Number.isFinite(answer)) return `Not a number yet. Hint: ${hint}`;
  const near = (value: number) => Math.abs(answer - value) <= within * Math.abs(right);
  if (near(right)) return `Right: ${answer}.`;
  const slip = slips.find((one) => near(one.value));
  return slip === undefined ? `Not yet. Hint: ${hint}` : `Not yet: ${slip.say}`;
}
