import { describe, expect, it } from 'vitest';
import { biasPower } from '../../src/plan/lapsToShowBias.js';
import { contrastBias, residualBias, residualBiasOf } from '../../src/plan/residualBias.js';
import type { MeterRole } from '../../src/vocabulary.js';
import { holds } from './holds.js';
import { lapsFor, sources } from './planning.cases.js';

holds(sources);

const meters = (letters: string): MeterRole[] =>
  [...letters].map((letter) => (letter === 'A' ? 'reference' : 'candidate'));

describe('lapsToShowBias against printed sample sizes', () => {
  it.each([0.2, 0.5, 0.8])('the laps for an effect of %f reach the power', (bias) => {
    expect(lapsFor(bias).power).toBeGreaterThanOrEqual(0.8);
  });

  it('34 pairs show half a standard deviation of their differences, 33 do not', () => {
    // Cohen (1988), paired test, d = 0.5, power 0.80: 34 (from memory). The exact size is 33.4; R:
    // power.t.test(delta=.5, power=.8, type='paired')
    const at = (n: number) =>
      biasPower({
        bias: 0.5,
        standardUncertainty: 1 / Math.sqrt(n),
        dof: n - 1,
        confidence: 0.95,
      });
    expect(at(34)).toBeGreaterThanOrEqual(0.8);
    expect(at(33)).toBeLessThan(0.8);
  });
});

describe('contrastBias against NIST/SEMATECH e-Handbook, 2.3.3.1.2', () => {
  it('the order X R R X with D = ½[(Y1 − Y2) − (Y3 − Y4)] is free of linear drift', () => {
    expect(contrastBias([1, -1, -1, 1], 2).linear.value).toBe(0);
  });

  it('¼(−Y1 + Y2 − Y3 + Y4) is the drift itself: one for a drift of one per half step', () => {
    // Times −3, −1, 1, 3 in half steps, as the Handbook's drift-eliminating designs count them.
    const { linear } = contrastBias([-1, 1, -1, 1], 4);
    expect(linear.value * 2).toBe(1);
  });
});

describe('residualBias against elementary sums', () => {
  // Sums Σ t and Σ t² by hand, t in runs from the middle.
  it.each([
    ['AAAABBBB', 4, 0],
    ['AB', 1, 0],
    ['ABABABAB', 1, 0],
    ['ABA', 0, -1],
    ['ABABA', 0, -5 / 3],
    ['ABABABABABA', 0, -11 / 3],
    ['ABBA', 0, -2],
    ['ABBAABBA', 0, -2],
    ['ABBABAAB', 0, 0],
    // Leaving the first run of ABABAB out leaves BABAB, free of linear drift; leaving out the lap
    // leaves ABAB with its step.
    ['BABAB', 0, 5 / 3],
    ['BABA', -1, 0],
  ])('%s keeps %f steps of linear and %f of quadratic drift', (letters, linear, quadratic) => {
    const bias = residualBiasOf(meters(letters));
    expect(bias.linear.value).toBe(linear);
    expect(bias.quadratic.value).toBeCloseTo(quadratic, 14);
  });

  it('each B against the mean of its neighbours keeps −1 of quadratic drift', () => {
    expect(contrastBias([-1, 2, -1], 2)).toMatchObject({
      linear: { value: 0 },
      quadratic: { numerator: -1, denominator: 1 },
    });
  });

  it('(−1, 3, −3, 1)/4 on ABAB cancels both', () => {
    const bias = contrastBias([-1, 3, -3, 1], 4);
    expect([bias.linear.value, bias.quadratic.value]).toEqual([0, 0]);
  });

  it('ABBA BAAB keeps neither over whole blocks, plain alternation always one step', () => {
    for (const laps of [4, 8, 12, 40]) {
      expect(residualBias('ABBA-BAAB', laps).linear.value).toBe(0);
      expect(residualBias('ABBA-BAAB', laps).quadratic.value).toBe(0);
      expect(residualBias('reference-first', laps).linear.value).toBe(1);
      expect(residualBias('candidate-first', laps).linear.value).toBe(-1);
      expect(residualBias('ABBA', laps)).toMatchObject({
        linear: { value: 0 },
        quadratic: { value: -2 },
      });
    }
  });
});
