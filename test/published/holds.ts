import { describe, expect, test } from 'vitest';
import { allowed, type PublishedSource } from './figure.js';

/** Tests that every figure of the sources is ours too, to half a unit of the last digit or as stated. */
export function holds(sources: readonly PublishedSource[]): void {
  describe.each(sources)('$source', ({ figures }) => {
    test.each(figures)('$quantity: as printed', (one) => {
      const ours = one.ours();
      expect(ours).toHaveLength(one.printed.length);
      for (const [i, printed] of one.printed.entries()) {
        const found = ours[i] ?? Number.NaN;
        const distance = Math.abs(found - Number(printed));
        expect(distance, `${found} against ${printed}`).toBeLessThanOrEqual(allowed(one, printed));
      }
    });
  });
}
