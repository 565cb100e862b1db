/** Checks shared by functions that take a confidence level. */
import { argumentWrong } from '../error.js';

/** A confidence level as a fraction, above 0 and below 1. @throws argument-wrong. */
export function requireConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) {
    throw argumentWrong(
      'A confidence level must lie between 0 and 1.',
      confidence,
      'a fraction such as 0.95',
    );
  }
}
