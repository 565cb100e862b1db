import type { OpinionResult } from '../vocabulary.js';

/** Whether a value from elsewhere and the reference exclude each other. */
export function contradictsReference({ comparisons }: OpinionResult): boolean {
  const reference = comparisons.find((found) => found.meter === 'reference');
  return reference?.verdict === 'disagrees' || reference?.verdict === 'too-high';
}
