/** Checks shared by functions that take options. */

import { argumentWrong } from '../error.js';
import { suggestion } from './didYouMean.js';
import { isRecord, requireShape, type Shape, shown } from './shapes.js';

/** A confidence level as a fraction, above 0 and below 1. @throws argument-wrong. */
export function requireConfidence(confidence: number): void {
  requireShape(confidence, 'The confidence', 'confidence');
}

/** As an option that has a default. */
export const CONFIDENCE = { maybe: 'confidence' } as const;

/** The keys of a record; of a choice of records, those of each. */
type KeyOf<Options> = Options extends unknown ? keyof Options : never;

/**
 * Refuses an option that nobody reads, which would be ignored without a word when its name is
 * misspelt, and what is no record of options at all.
 *
 * @param known every option by its name, with its shape, or `true` where it is looked at elsewhere; the
 *   compiler holds that none is missing
 * @returns the same options @throws argument-wrong.
 */
export function requireOptions<Options extends object>(
  options: Options,
  known: Readonly<Record<KeyOf<Options>, true | Shape>>,
): Options {
  const names = Object.keys(known);
  if (!isRecord(options)) {
    throw argumentWrong('Options belong in a record.', shown(options), `{ ${names.join(', ')} }`);
  }
  const wrong = Object.keys(options).find((name) => !names.includes(name));
  if (wrong !== undefined) {
    const message = `There is no such option.${suggestion(wrong, names)}`;
    throw argumentWrong(message, wrong, names.join(', '));
  }
  for (const [name, shape] of Object.entries<true | Shape>(known)) {
    if (shape !== true) requireShape(options[name], name, shape);
  }
  return options;
}
