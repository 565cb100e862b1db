import { describe, expect, test } from 'vitest';
import {
  decimalOf,
  leadingPlace,
  printDecimal,
  type RoundingRule,
  roundDecimal,
  shiftDecimal,
} from '../../src/findings/decimal.js';
import { visibleControls, withoutControls } from '../../src/findings/escape.js';
import {
  counted,
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPower,
  formatProbability,
  formatRelative,
  percentText,
  shareText,
  significant,
  splitPower,
  superscript,
  toDigits,
  twoDigitPlace,
  unitOf,
} from '../../src/findings/formatNumber.js';
import {
  formatKnown,
  formatUncertain,
  formatUncertainty,
} from '../../src/findings/formatUncertain.js';
import { runSheetHtml, runSheetPage } from '../../src/findings/runSheetPage.js';
import { only } from './only.js';

describe('digits', () => {
  test.each([
    [0.355, 355n, -3],
    [-28.05, -2805n, -2],
    [1200, 12n, 2],
    [5, 5n, 0],
    [0, 0n, 0],
    [1.5e-9, 15n, -10],
  ])('of %f', (value, units, exponent) => {
    expect(decimalOf(value)).toEqual({ units, exponent });
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    '%f has none',
    (value) => {
      expect(() => decimalOf(value)).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
    },
  );

  test.each([
    [28.05, 1],
    [0.027, -2],
    [-0.027, -2],
    [9, 0],
    [10, 1],
    [0, null],
  ])('the first of %f stands at 10^%s', (value, place) => {
    expect(leadingPlace(decimalOf(value))).toBe(place);
  });

  // value, place, then half-up, half-even, up, ceiling, floor in units of the place
  test.each<[number, number, bigint[]]>([
    [2.4, 0, [2n, 2n, 3n, 3n, 2n]],
    [2.5, 0, [3n, 2n, 3n, 3n, 2n]],
    [2.6, 0, [3n, 3n, 3n, 3n, 2n]],
    [3.5, 0, [4n, 4n, 4n, 4n, 3n]],
    [-2.4, 0, [-2n, -2n, -3n, -2n, -3n]],
    [-2.5, 0, [-3n, -2n, -3n, -2n, -3n]],
    [2, 0, [2n, 2n, 2n, 2n, 2n]],
    [-2, 0, [-2n, -2n, -2n, -2n, -2n]],
    [0.04, 0, [0n, 0n, 1n, 1n, 0n]],
    [1200, 2, [12n, 12n, 12n, 12n, 12n]],
    [1200, 1, [120n, 120n, 120n, 120n, 120n]],
    [1251, 2, [13n, 13n, 13n, 13n, 12n]],
  ])('%f to 10^%f by each rule', (value, place, units) => {
    const rules: RoundingRule[] = ['half-up', 'half-even', 'up', 'ceiling', 'floor'];
    expect(rules.map((rule) => roundDecimal(decimalOf(value), place, rule))).toEqual(
      units.map((one) => ({ units: one, exponent: place })),
    );
  });

  test.each([
    [12n, 2, '1200'],
    [0n, 2, '0'],
    [5n, 0, '5'],
    [-5n, -1, '−0.5'],
    [5n, -3, '0.005'],
    [123n, -3, '0.123'],
    [1234n, -3, '1.234'],
    [0n, -2, '0.00'],
  ])('%s × 10^%f is printed %s', (units, exponent, text) => {
    expect(printDecimal({ units, exponent })).toBe(text);
  });

  test('the point moves either way without touching a digit', () => {
    expect(shiftDecimal({ units: 7n, exponent: -1 }, 2)).toEqual({ units: 7n, exponent: 1 });
    expect(shiftDecimal({ units: 7n, exponent: -1 }, -2)).toEqual({ units: 7n, exponent: -3 });
  });

  test.each([
    [9.94, -1],
    [9.95, 0],
    [9.96, 0],
    [10, 0],
    [0.0996, -2],
    [0, -1],
  ])('two digits of %f end at 10^%f', (size, place) => {
    expect(twoDigitPlace(decimalOf(size), 'half-up')).toBe(place);
  });
});

describe('numbers at the edges of their format', () => {
  test.each([
    [1e9, '1000000000'],
    [9.999e9, '9999000000'],
    [1e10, '1 × 10¹⁰'],
    [1e-6, '0.000001'],
    [9e-7, '9 × 10⁻⁷'],
    [-1.5e12, '−1.5 × 10¹²'],
    [1.2e-23, '1.2 × 10⁻²³'],
  ])('%f is plain or has its power split off: %s', (value, text) => {
    expect(formatNumber(value)).toBe(text);
  });

  test('the larger of value and uncertainty says whether a power is split off', () => {
    const d = decimalOf;
    expect(splitPower(d(1), d(1e10))).toBe(10);
    expect(splitPower(d(1e10), d(1))).toBe(10);
    expect(splitPower(d(1e-7), d(1e-6))).toBe(0);
    expect(splitPower(d(1e-7), d(1e-8))).toBe(-7);
    expect(splitPower(d(0), d(1e-8))).toBe(-8);
    expect(splitPower(d(1e-8), d(0))).toBe(-8);
  });

  test.each([
    [-10, '⁻¹⁰'],
    [0, '⁰'],
    [9876543210, '⁹⁸⁷⁶⁵⁴³²¹⁰'],
  ])('%f raised is %s', (power, text) => {
    expect(superscript(power)).toBe(text);
  });

  test('a number to so many digits, with and without its zeros', () => {
    expect(toDigits(decimalOf(1.2), 4)).toBe('1.2');
    expect(toDigits(decimalOf(1.2), 4, 'half-even', true)).toBe('1.200');
    expect(toDigits(decimalOf(1.20004), 4)).toBe('1.2');
    expect(toDigits(decimalOf(100), 4)).toBe('100');
    expect(toDigits(decimalOf(100), 4, 'half-even', true)).toBe('100.0');
    // A carry adds no digit.
    expect(toDigits(decimalOf(9.996), 3, 'half-even', true)).toBe('10.0');
    expect(toDigits(decimalOf(0.99996), 4, 'half-even', true)).toBe('1.000');
    expect(toDigits(decimalOf(9.994), 3, 'half-even', true)).toBe('9.99');
    expect(toDigits(decimalOf(123_456), 2)).toBe('120000');
    expect(toDigits(decimalOf(0), 4, 'half-even', true)).toBe('0');
    expect(toDigits(decimalOf(0.125), 2)).toBe('0.12');
    expect(toDigits(decimalOf(0.125), 2, 'half-up')).toBe('0.13');
  });

  test('units: the one given, percent of a fraction, or none', () => {
    expect([
      unitOf({}),
      unitOf({ as: 'plain' }),
      unitOf({ as: 'percent' }),
      unitOf({ as: 'percent', unit: '' }),
      unitOf({ unit: 'mW' }),
    ]).toEqual(['', '', ' %', '', ' mW']);
    expect(formatNumber(0.285, { as: 'percent' })).toBe('28.5 %');
    expect(formatNumber(null, { unit: 'mW' })).toBe('—');
    expect(formatNumber(0.286, { as: 'percent', places: 0 })).toBe('29 %');
    expect(() => formatNumber(1, only({ digit: 3 }))).toThrow();
  });

  test.each([
    [1e-5, '0.0010'],
    [9.9e-6, '< 0.001'],
    [-9.9e-6, '> −0.001'],
    [-1e-5, '−0.0010'],
    [0.0996, '10'],
    [0.0994, '9.9'],
    [-0.05, '−5.0'],
    [1.5e9, '1.5 × 10¹¹'],
  ])('%f as a relative quantity is %s', (value, text) => {
    expect(formatRelative(value)).toBe(text);
  });

  test.each([
    [0.00099, '< 0.001'],
    [0.001, '0.0010'],
    [0.99, '0.99'],
    [0.991, '> 0.99'],
    [0.025, '0.025'],
  ])('the p value %f is %s', (p, text) => {
    expect(formatProbability(p)).toBe(text);
  });

  test.each([
    [9.99, '9.9'],
    [10, '10'],
    [10.9, '10'],
    [0.97, '0.9'],
    [200, '200'],
    [1e6 - 1, 'many'],
    [1e6, '∞'],
  ])('%f degrees of freedom are %s', (dof, text) => {
    expect(formatDegreesOfFreedom(dof)).toBe(text);
  });

  test.each([
    [0.9949, '99 %'],
    [0.995, '100 %'],
    [0.9949999, '99 %'],
    [1.005, '101 %'],
    [0.0995, '10 %'],
    [0.0994, '9.9 %'],
  ])('%f in a sentence is %s', (fraction, text) => {
    expect(percentText(fraction)).toBe(text);
  });

  test('what is not finite keeps its sign', () => {
    expect(significant(Number.NEGATIVE_INFINITY, 2)).toBe('−∞');
    expect(significant(Number.POSITIVE_INFINITY, 2)).toBe('∞');
  });

  test.each([
    [0.995, 'nearly all'],
    [0.9949, '99 %'],
    [1, '100 %'],
    [0.005, '1 %'],
    [0, '0 %'],
  ])('the share %f is %s', (share, text) => {
    expect(shareText(share)).toBe(text);
  });

  test('one lap, two laps, no laps', () => {
    expect([0, 1, 2].map((n) => counted(n, 'lap', 'laps'))).toEqual(['0 laps', '1 lap', '2 laps']);
  });

  test('a bound upwards, another power to the nearest', () => {
    expect(formatPower(5.0004)).toBe('5 mW');
    expect(formatPower(5.0001, { up: true, unit: '' })).toBe('5.01');
    expect(formatPower(5.0001, { up: false })).toBe('5 mW');
  });

  test.each([
    // Half of 2 is 1.0: one place behind the point.
    [45, 47, {}, '45.0 to 47.0'],
    [47, 45, {}, '47.0 to 45.0'],
    // Half of 200 is 100: to ten.
    [1234, 1434, {}, '1230 to 1430'],
    [0, 3e-9, {}, '0.0000000000 to 3 × 10⁻⁹'],
    [1e10, 3e10, {}, '1 × 10¹⁰ to 3 × 10¹⁰'],
    [0.5, 0.5, { as: 'percent' }, '50 to 50 %'],
    [null, 0.5, { as: 'percent' }, '— to 50 %'],
    [0.5, null, { as: 'percent' }, '50 to —'],
  ] as const)('%s to %s as %j is %s', (low, high, options, text) => {
    expect(formatInterval(low, high, options)).toBe(text);
  });

  test('value and uncertainty alone or together, with brackets only where something follows', () => {
    expect(formatUncertain(1.234, 0.056, { show: 'value', unit: 'mW' })).toBe('1.234 mW');
    expect(formatUncertain(1.234e12, 5e10, { show: 'value' })).toBe('1.234 × 10¹²');
    expect(formatUncertain(1.234, 0.056)).toBe('1.234 ± 0.056');
    expect(formatUncertain(1.234, 0.056, { unit: 'mW' })).toBe('(1.234 ± 0.056) mW');
    expect(formatUncertain(0.5, null, { as: 'percent' })).toBe('50 %');
    expect(formatUncertain(1.5, null, { unit: 'mW' })).toBe('1.5 mW');
    expect(() => formatUncertain(1, -0.5)).toThrow();
    expect(() => formatUncertain(null, -0.5)).toThrow();
    expect(formatUncertain(1, 0.0101, { uncertainty: 'up' })).toBe('1.000 ± 0.011');
    expect(formatUncertain(1.23456789, 0)).toBe('1.23457 ± 0');
    expect(formatUncertainty(3.4e10, { unit: 'mW' })).toBe('± 3.4 × 10¹⁰ mW');
  });

  test('a reach that is the same either way to the printed digits', () => {
    expect(formatKnown(1.1, 1, 1.2)).toBe('1.10 ± 0.10');
    expect(formatKnown(1.1, 1, 1.21)).toBe('1.10 (1.00 to 1.21)');
    expect(formatKnown(1.1, 1, 1.2004)).toBe('1.10 ± 0.10');
  });
});

describe('control characters', () => {
  test('are seen by their number, tabs and line breaks stay', () => {
    expect(visibleControls('a\u001b[1m\tb\nc\u202e\u0000\u000b\u061c')).toBe(
      'a\\u001b[1m\tb\nc\\u202e\\u0000\\u000b\\u061c',
    );
  });
  test('are dropped, several line breaks are one space', () => {
    expect(withoutControls('a\r\n\t\nb\u0000\u2066c')).toBe('a bc');
  });
});

describe('the sheet to print', () => {
  test('has boxes to tick without bullets, other lists with theirs', () => {
    const html = runSheetHtml('- [ ] one\n- [ ] two\n\ntext\n\n- three\n');
    expect(html).toContain('<ul style="list-style:none;padding-left:0.5em">\n<li>☐ one</li>');
    expect(html).toContain('<ul>\n<li>three</li>');
    expect(html.match(/☐/g)).toHaveLength(2);
  });
  test('takes nothing for markup', () => {
    const page = runSheetPage('<b>', '<i>x</i> -- "q"');
    expect(page).toContain('<title>&lt;b&gt;</title>');
    expect(page).toContain('<p>&lt;i&gt;x&lt;/i&gt; -- &quot;q&quot;</p>');
  });
});
