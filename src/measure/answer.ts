/** What becomes of a request: a new text for a file, a question, or a refusal. */
import { MeterpairError } from '../error.js';

export type Answer =
  | { readonly kind: 'written'; readonly file: 'runs.csv' | 'traces.csv'; readonly text: string }
  /** Unlikely: to be typed once more as the display shows it. */
  | {
      readonly kind: 'question';
      readonly quantity: 'reading' | 'peak' | 'zero';
      readonly message: string;
    }
  | { readonly kind: 'refused'; readonly message: string };

export const refused = (message: string): Answer => ({ kind: 'refused', message });

/** The answer, or a refusal where the files, or what they would become, cannot be read. */
export function answerOf(work: () => Answer): Answer {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return refused(error.message);
  }
}
