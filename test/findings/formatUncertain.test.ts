import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPower,
  formatProbability,
  formatRelative,
  percent,
  percentText,
  shareText,
  significant,
} from '../../src/findings/formatNumber.js';
import {
  formatKnown,
  formatUncertain,
  formatUncertainty,
  roundUncertain,
} from '../../src/findings/formatUncertain.js';

describe('published roundings', () => {
  // JCGM 100:2008, 7.2.6: "u_c(y) = 10,47 mΩ might be rounded up to 11 mΩ".
  it('rounds 10.47 up to 11 when asked to round up', () => {
    expect(formatUncertainty(10.47, { unit: 'mΩ', uncertainty: 'up' })).toBe('± 11 mΩ');
  });
  // JCGM 100:2008, 7.2.6: "28,05 kHz should be rounded down to 28 kHz".
  it('rounds 28.05 down to 28 by default', () => {
    expect(formatUncertainty(28.05, { unit: 'kHz' })).toBe('± 28 kHz');
  });
  // JCGM 100:2008, 7.2.6: y = 10,057 62 Ω with u_c(y) = 27 mΩ "should be rounded to 10,058 Ω".
  it('rounds 10.05762 with 0.027 to 10.058', () => {
    expect(formatUncertain(10.05762, 0.027, { unit: 'Ω' })).toBe('(10.058 ± 0.027) Ω');
  });
  // JCGM 100:2008, 7.2.2 and 7.2.4: m_S = (100,021 47 ± 0,000 79) g, from u_c = 0,35 mg and
  // k = 2,26, so U = 0,791 mg.
  it('prints the mass of 7.2.4 as the GUM does', () => {
    expect(formatUncertain(100.02147, 2.26 * 0.00035, { unit: 'g' })).toBe(
      '(100.02147 ± 0.00079) g',
    );
  });
  // JCGM 100:2008, H.1.6: l = (50,000 838 ± 0,000 093) mm, where u_c = 32 nm and k = 2,92.
  it('prints the end gauge of H.1.6 as the GUM does', () => {
    expect(formatUncertain(50.000838, 2.92 * 0.000032, { unit: 'mm' })).toBe(
      '(50.000838 ± 0.000093) mm',
    );
  });
});

describe('value ± uncertainty', () => {
  // value, U, text. Two significant digits of U, ties away from zero; value to match, ties to even.
  it.each([
    [0.9234, 0.0112, '0.923 ± 0.011'],
    [1.0876, 0.0354, '1.088 ± 0.035'],
    [1.0876, 0.0355, '1.088 ± 0.036'],
    [1.0876, 0.354, '1.09 ± 0.35'],
    [1.0876, 0.355, '1.09 ± 0.36'],
    // 1.005 is 1.00499999999999989… in binary; its shortest decimal is a tie.
    [100.5, 1.005, '100.5 ± 1.0'],
    [0.125, 0.125, '0.12 ± 0.13'],
    [0.135, 0.12, '0.14 ± 0.12'],
    [123.456, 9.94, '123.5 ± 9.9'],
    // Two digits, not three, when the rounding carries.
    [123.456, 9.96, '123 ± 10'],
    [0.5, 0.0996, '0.50 ± 0.10'],
    [1234, 148, '1230 ± 150'],
    [1235, 148, '1240 ± 150'],
    [98765, 12345, '99000 ± 12000'],
    [0.000123456, 0.0000012, '0.0001235 ± 0.0000012'],
    [-0.0004, 0.012, '0.000 ± 0.012'],
    [-7.93, 1.14, '−7.9 ± 1.1'],
    [0, 0.5, '0.00 ± 0.50'],
    [5, 0, '5 ± 0'],
    [1, 20, '1 ± 20'],
    [12, 200, '10 ± 200'],
  ])('%f with %f is %s', (value, U, text) => {
    expect(formatUncertain(value, U)).toBe(text);
  });

  it('moves the point before rounding to percent', () => {
    expect(formatUncertain(0.42, 0.0055, { as: 'percent' })).toBe('(42.00 ± 0.55) %');
    expect(formatUncertain(0.0815, 0.0096, { as: 'percent' })).toBe('(8.15 ± 0.96) %');
    expect(formatUncertain(-7.93, 1.14, { unit: '%' })).toBe('(−7.9 ± 1.1) %');
    // 0.285 × 100 is 28.499999999999996 in binary arithmetic; the text must not show it.
    expect(formatUncertainty(0.285, { as: 'percent' })).toBe('± 29 %');
  });

  it('uses a power of ten only far outside the usual range', () => {
    expect(formatUncertain(1.2345e12, 3.4e9)).toBe('(1.2345 ± 0.0034) × 10¹²');
    expect(formatUncertain(4.56e-9, 1.2e-10, { unit: 'mW' })).toBe('(4.56 ± 0.12) × 10⁻⁹ mW');
    expect(formatUncertain(5000, 0.001)).toBe('5000.0000 ± 0.0010');
  });

  it('shows a dash for a missing value and no ± for a missing uncertainty', () => {
    expect(formatUncertain(null, 0.1)).toBe('—');
    expect(formatUncertain(0.92345, null)).toBe('0.9234');
    expect(formatUncertainty(null)).toBe('—');
  });

  it('refuses what is no number and an uncertainty below zero', () => {
    expect(() => roundUncertain(Number.NaN, 1)).toThrow(MeterpairError);
    expect(() => roundUncertain(1, Number.POSITIVE_INFINITY)).toThrow(MeterpairError);
    expect(() => roundUncertain(1, -0.1)).toThrow('cannot be negative');
  });

  it('never moves a value by more than half a unit, nor an uncertainty by more than 5 %', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5000, max: 5000, noNaN: true }),
        fc.double({ min: 1e-5, max: 500, noNaN: true }),
        (value, U) => {
          const rounded = roundUncertain(value, U);
          const back = Number(rounded.value.replace('−', '-'));
          const backU = Number(rounded.uncertainty);
          const decimals = (text: string) => (text.split('.')[1] ?? '').length;
          expect(rounded.power).toBe(0);
          expect(decimals(rounded.value)).toBe(decimals(rounded.uncertainty));
          expect(Math.abs(backU - U)).toBeLessThanOrEqual(0.05 * U * (1 + 1e-9));
          expect(Math.abs(back - value)).toBeLessThanOrEqual(
            0.05 * Math.max(U, backU) * (1 + 1e-9) + 1e-12,
          );
          expect(
            rounded.uncertainty.replace(/^[0.]+/, '').replace('.', '').length,
          ).toBeLessThanOrEqual(backU >= 100 ? 3 : 2);
        },
      ),
      { seed: 20, numRuns: 2000 },
    );
  });
});

describe('numbers alone', () => {
  it('prints intervals to the place their width deserves', () => {
    expect(formatInterval(0.91234, 0.93391)).toBe('0.912 to 0.934');
    expect(formatInterval(-0.1213, -0.0364, { as: 'percent' })).toBe('−12.1 to −3.6 %');
    expect(formatInterval(-12.13, 3.64, { unit: '%' })).toBe('−12.1 to 3.6 %');
    expect(formatInterval(45, 47, { unit: 'mW' })).toBe('45.0 to 47.0 mW');
    expect(formatInterval(5, 5)).toBe('5 to 5');
    expect(formatInterval(null, null)).toBe('—');
    expect(formatInterval(null, 2.5, { unit: '%' })).toBe('— to 2.5 %');
  });

  it('prints powers in mW, and an upper bound never below itself', () => {
    expect(formatPower(61.234)).toBe('61.23 mW');
    expect(formatPower(5.0004, { up: true })).toBe('5.01 mW');
    expect(formatPower(5, { up: true })).toBe('5 mW');
    expect(formatPower(12_345)).toBe('12340 mW');
    expect(formatPower(0.39)).toBe('0.39 mW');
    expect(formatPower(null)).toBe('—');
  });

  it('cuts degrees of freedom downwards, at most three digits: many above 200, a million as ∞', () => {
    expect(formatDegreesOfFreedom(16.97)).toBe('16');
    expect(formatDegreesOfFreedom(4.58)).toBe('4.5');
    expect(formatDegreesOfFreedom(9)).toBe('9');
    expect(formatDegreesOfFreedom(1e6)).toBe('∞');
    expect(formatDegreesOfFreedom(3e7)).toBe('∞');
    expect(formatDegreesOfFreedom(999_999)).toBe('many');
    expect(formatDegreesOfFreedom(200)).toBe('200');
    expect(formatDegreesOfFreedom(200.1)).toBe('many');
    expect(formatDegreesOfFreedom(null)).toBe('—');
  });

  it('prints p values to two digits, with open ends', () => {
    expect(formatProbability(0.0432)).toBe('0.043');
    expect(formatProbability(0.2)).toBe('0.20');
    expect(formatProbability(0.0996)).toBe('0.10');
    expect(formatProbability(0.00001)).toBe('< 0.001');
    expect(formatProbability(0.9999)).toBe('> 0.99');
    expect(formatProbability(null)).toBe('—');
  });

  it('prints relative quantities to two digits that do not vanish', () => {
    expect(formatRelative(0.004)).toBe('0.40');
    expect(formatRelative(0.00285)).toBe('0.29');
    expect(formatRelative(1)).toBe('100');
    expect(formatRelative(0)).toBe('0');
    expect(formatRelative(2e-65)).toBe('< 0.001');
    expect(formatRelative(null)).toBe('—');
  });

  it('prints plain numbers without digits they do not have', () => {
    expect(formatNumber(520)).toBe('520');
    expect(formatNumber(0.1 + 0.2)).toBe('0.3');
    expect(formatNumber(1.0004, { digits: 2, keepZeros: true })).toBe('1.0');
    expect(formatNumber(2.2, { digits: 3, keepZeros: true })).toBe('2.20');
    expect(formatNumber(-1.5, { unit: '%' })).toBe('−1.5 %');
    expect(formatNumber(0)).toBe('0');
    expect(formatNumber(12_000)).toBe('12000');
  });
});

describe('how far a value is known', () => {
  it('is ± U where both ends are as far off to the printed digits', () => {
    expect(formatKnown(1.1, 1.1 * Math.exp(-0.01), 1.1 * Math.exp(0.01))).toBe('1.100 ± 0.011');
  });
  it('is the interval where they are not, as on the log scale when it is wide', () => {
    expect(formatKnown(1.1, 1.1 * Math.exp(-0.1), 1.1 * Math.exp(0.1))).toBe('1.10 (1.00 to 1.22)');
  });
});

describe('numbers in sentences', () => {
  it.each([
    [significant(-0.00123456, 3), '−0.00123'],
    [significant(12_345, 2), '12000'],
    // A tie goes away from zero, as it does in the uncertainties.
    [significant(0.125, 2), '0.13'],
    [significant(Number.POSITIVE_INFINITY, 2), '∞'],
    [percent(0.0312), '3.1 %'],
    [percent(0.05), '5 %'],
    [percent(-0.0007), '−0.07 %'],
    [percentText(0.05), '5.0 %'],
    [percentText(0), '0 %'],
    [percentText(0.996), '100 %'],
    [percentText(1.554), '155 %'],
    [shareText(0.004), 'less than 1 %'],
    [shareText(0.996), 'nearly all'],
    [shareText(1), '100 %'],
    [shareText(0.71), '71 %'],
    [formatNumber(-0.104, { places: 2, unit: '%' }), '−0.10 %'],
    [formatNumber(2, { places: 1 }), '2.0'],
    [formatNumber(0.256, { as: 'percent', places: 0 }), '26 %'],
  ])('%s is %s', (text, expected) => {
    expect(text).toBe(expected);
  });
});
