import { expect, test } from 'vitest';
import { contradictsReference } from '../../src/opinions/contradictsReference.js';
import type { OpinionComparison, OpinionResult } from '../../src/vocabulary.js';

/** Outcomes of the candidate and the reference, in this order. */
const of = (candidate: OpinionComparison['verdict'], reference: OpinionComparison['verdict']) =>
  contradictsReference({
    comparisons: [
      { meter: 'candidate', verdict: candidate },
      { meter: 'reference', verdict: reference },
    ],
  } as unknown as OpinionResult);

test('only what excludes the reference contradicts it', () => {
  expect([of('agrees', 'disagrees'), of('agrees', 'too-high')]).toEqual([true, true]);
  expect([of('disagrees', 'agrees'), of('too-high', 'possible')]).toEqual([false, false]);
  expect([of('agrees', 'questionable'), of('agrees', null)]).toEqual([false, false]);
});

test('without a comparison nothing contradicts it', () => {
  expect(contradictsReference({ comparisons: [] } as unknown as OpinionResult)).toBe(false);
});
