import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recommendOrder } from '../../src/plan/recommendOrder.js';
import { contrastBias, residualBias, residualBiasOf } from '../../src/plan/residualBias.js';
import { resolutionNote } from '../../src/plan/resolutionNote.js';
import { RUN_ORDERS, runOrder, wholeBlocks } from '../../src/plan/runOrder.js';
import { LEAST_LAPS } from '../../src/vocabulary.js';

describe('runOrder', () => {
  it.each([
    ['reference-first', 'ABABAB'],
    ['candidate-first', 'BABABA'],
    ['ABBA', 'ABBAAB'],
    ['ABBA-BAAB', 'ABBABA'],
  ] as const)('writes %s out as %s', (order, letters) => {
    const written = runOrder(order, 3).map((meter) => (meter === 'reference' ? 'A' : 'B'));
    expect(written.join('')).toBe(letters);
  });

  it('gives every lap one run on each meter', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...RUN_ORDERS),
        fc.integer({ min: 1, max: 60 }),
        (order, laps) => {
          const meters = runOrder(order, laps);
          expect(meters).toHaveLength(2 * laps);
          for (let i = 0; i < laps; i++) {
            expect(new Set(meters.slice(2 * i, 2 * i + 2)).size).toBe(2);
          }
        },
      ),
      { seed: 1 },
    );
  });

  it.each([0, 2.5, Number.NaN])('refuses %f laps', (laps) => {
    expect(() => runOrder('ABBA', laps)).toThrowError(/whole number/);
  });
});

describe('residualBias', () => {
  it('is what mean(candidate) − mean(reference) of a drifting source comes to', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...RUN_ORDERS),
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (order, laps, slope, bend) => {
          const meters = runOrder(order, laps);
          const middle = (meters.length - 1) / 2;
          const mean = (which: string) => {
            const own = meters.flatMap((meter, i) =>
              meter === which ? [slope * (i - middle) + bend * (i - middle) ** 2] : [],
            );
            return own.reduce((sum, one) => sum + one, 0) / own.length;
          };
          const bias = residualBias(order, laps);
          expect(slope * bias.linear.value + bend * bias.quadratic.value).toBeCloseTo(
            mean('candidate') - mean('reference'),
            8,
          );
        },
      ),
      { seed: 4 },
    );
  });

  it('is exact: a third stays a third', () => {
    expect(residualBias('ABBA', 3).linear).toEqual({
      numerator: 1,
      denominator: 3,
      value: 1 / 3,
    });
  });

  it('refuses a sequence of one meter and weights that are not whole', () => {
    expect(() => residualBiasOf(['reference', 'reference'])).toThrowError(/each meter/);
    expect(() => contrastBias([0.5, -0.5], 1)).toThrowError(/whole numbers/);
    expect(() => contrastBias([1, -1], 0)).toThrowError(/whole numbers/);
  });
});

describe('recommendOrder', () => {
  it('offers an order that cancels the drift it was told of', () => {
    for (let laps = 1; laps <= 12; laps++) {
      const steady = recommendOrder({ laps, drift: 'steady' });
      expect(steady.order).toBe('ABBA');
      expect(residualBias(steady.order, steady.laps).linear.value).toBe(0);
      expect(steady.laps).toBeGreaterThanOrEqual(laps);
      const curving = recommendOrder({ laps: laps + 2, drift: 'curving' });
      expect(residualBias(curving.order, curving.laps).linear.value).toBe(0);
      expect(residualBias(curving.order, curving.laps).quadratic.value).toBe(0);
    }
  });

  it('never advises fewer laps than the analysis warns of', () => {
    for (const drift of ['none', 'steady', 'curving', 'unknown'] as const) {
      expect(recommendOrder({ laps: 1, drift }).laps).toBeGreaterThanOrEqual(LEAST_LAPS);
    }
  });

  it('takes unknown drift for one that may curve, and a still source for what it is', () => {
    expect(recommendOrder({ laps: 6, drift: 'unknown' })).toMatchObject({
      order: 'ABBA-BAAB',
      laps: 8,
    });
    expect(recommendOrder({ laps: 6, drift: 'none' })).toMatchObject({
      order: 'reference-first',
      laps: 6,
    });
    expect(wholeBlocks('ABBA', 5)).toBe(6);
  });
});

describe('resolutionNote', () => {
  it('asks for 58 mW where a step of 1 mW may take all of a tolerance of 1 % once', () => {
    // By hand: 2 × 1 mW/√12 = 0.577 mW; over 1 %: 57.7 mW.
    const { smallest_mW, sentence } = resolutionNote({
      resolution_mW: 1,
      tolerance: 0.01,
      share: 1,
      zeroSubtracted: false,
    });
    expect(smallest_mW).toBeCloseTo(57.735, 3);
    expect(sentence).toMatch(/Below 58 mW/);
  });

  it('asks for √2 more when a zero from the same display is subtracted', () => {
    const base = { resolution_mW: 0.1, tolerance: 0.05 };
    const without = resolutionNote({ ...base, zeroSubtracted: false }).smallest_mW;
    expect(resolutionNote(base).smallest_mW / without).toBeCloseTo(Math.SQRT2, 12);
  });

  it('grows with the step and shrinks with the tolerance', () => {
    const positive = fc.double({ min: 1e-3, max: 10, noNaN: true });
    fc.assert(
      fc.property(positive, positive, (resolution_mW, tolerance) => {
        const { smallest_mW } = resolutionNote({ resolution_mW, tolerance });
        expect(
          resolutionNote({ resolution_mW: 2 * resolution_mW, tolerance }).smallest_mW / smallest_mW,
        ).toBeCloseTo(2, 10);
        expect(
          resolutionNote({ resolution_mW, tolerance: 2 * tolerance }).smallest_mW / smallest_mW,
        ).toBeCloseTo(0.5, 10);
      }),
      { seed: 6 },
    );
  });

  it('rounds its limit up, never down', () => {
    expect(
      resolutionNote({ resolution_mW: 1, tolerance: 0.01, share: 1, coverageFactor: 2.1 }).sentence,
    ).toMatch(/Below 86 mW/);
  });

  it.each([
    { resolution_mW: 0, tolerance: 0.05 },
    { resolution_mW: 1, tolerance: -0.05 },
    { resolution_mW: 1, tolerance: 0.05, share: 1.5 },
    { resolution_mW: 1, tolerance: 0.05, coverage_factor: Number.NaN },
  ])('refuses %o', (options) => {
    expect(() => resolutionNote(options)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});
