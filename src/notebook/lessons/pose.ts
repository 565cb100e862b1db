import { showSentences } from '../display.js';
import { type AnswerCheck, checkAnswer } from '../exercises/checkAnswer.js';
import type { TypedAnswer } from '../exercises/readAnswer.js';

/** A question with everything that judges an answer to it. */
export interface Exercise extends Omit<AnswerCheck, 'answer' | 'hint'> {
  readonly question: readonly string[];
  /** Shown one after the other to answers that no slip explains. */
  readonly hints: readonly [string, ...string[]];
  readonly why: string;
}

export interface Posed {
  readonly question: string;
  /** Judges an answer and shows the verdict. Never throws for what somebody typed. */
  readonly answer: (...typed: TypedAnswer[]) => void;
}

/** Shows a question, and gives what takes the answers to it. */
function pose(exercise: Exercise): Posed {
  const { question, hints, ...check } = exercise;
  const tried = new Set<string>();
  showSentences(question);
  return {
    question: question.join(' '),
    answer: (...typed) => showSentences([verdict(typed)]),
  };

  function verdict(typed: readonly TypedAnswer[]): string {
    const [only = ''] = typed;
    // answer(-14,94) is two numbers to the language, and its leading zeros are lost already.
    if (typed.length > 1) {
      return `Put the answer between quotes, so that the comma is read as a decimal one: answer('${typed.join(',')}').`;
    }
    const place = Math.min(tried.size, hints.length - 1);
    const said = checkAnswer({ ...check, answer: only, hint: hints[place] ?? hints[0] });
    if (said.includes('Hint:')) tried.add(String(only).trim());
    return said;
  }
}

/** What poses exercises of a kind, each with numbers of its own. */
export const posing =
  <Task extends readonly unknown[]>(exercise: (...task: Task) => Exercise) =>
  (...task: Task): Posed =>
    pose(exercise(...task));
