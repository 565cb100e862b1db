import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { checkAnswer } from '../../src/notebook/exercises/checkAnswer.js';
import { readAnswer } from '../../src/notebook/exercises/readAnswer.js';

const number = (value: number) => ({ kind: 'number', value });
const range = (low: number, high: number) => ({ kind: 'range', low, high });

describe('readAnswer', () => {
  test.each([
    ['-14,94 %', '%', number(-14.94)],
    ['-14.94', '%', number(-14.94)],
    ['−14,94 percent', '%', number(-14.94)],
    ['  about 86 of 100 ', 'of 100', number(86)],
    ['86 %', 'of 100', number(86)],
    ['86/100', 'of 100', number(86)],
    ['K = 1,091', '', number(1.091)],
    ['109.1 %', '', number(1.091)],
    ['1/4', '', number(0.25)],
    ['.5', '%', number(0.5)],
    ['1 000', 'mW', number(1000)],
    ['0.05 W', 'mW', number(50)],
    ['50 µW', 'mW', number(0.05)],
    ['44,9 s', 's', number(44.9)],
    ['about 45 seconds', 's', number(45)],
    ['(−14,94; −9,06) %', '%', range(-14.94, -9.06)],
    ['-9,06 to -14,94', '%', range(-14.94, -9.06)],
    ['80–90', 'of 100', range(80, 90)],
    ['between 80 and 90', 'of 100', range(80, 90)],
    ['-12 ± 2,94 %', '%', range(-14.94, -9.06)],
    ['85 +/- 5', 'of 100', range(80, 90)],
  ] as const)('%s (%s)', (typed, unit, read) => {
    const found = readAnswer(typed, unit);
    expect(found.kind).toBe(read.kind);
    for (const [key, value] of Object.entries(read)) {
      if (key === 'kind') continue;
      expect((found as unknown as Record<string, number>)[key]).toBeCloseTo(value as number, 9);
    }
  });

  test('says why where it cannot read', () => {
    const why = (typed: string, unit: string) => {
      const read = readAnswer(typed, unit);
      return read.kind === 'unclear' ? read.why : read.kind;
    };
    expect(why('many', '%')).toContain('"many"');
    expect(why('1.234,5', '%')).toContain('two points or commas');
    expect(why('3 mW', '%')).toMatch(/asks for %.*in mW/);
    expect(why('3 %', 'mW')).toMatch(/asks for mW.*in %/);
    expect(why('1/0', '')).toContain('not a finite number');
    for (const nothing of ['', '  ']) {
      expect(readAnswer(nothing, '%')).toEqual({ kind: 'none' });
    }
  });

  test('reads any number the way it was meant, with comma, unit and sign of print', () => {
    const percent = fc.integer({ min: -99_999, max: 99_999 }).map((n) => n / 100);
    fc.assert(
      fc.property(percent, percent, (a, b) => {
        const text = (n: number) => n.toFixed(2).replace('.', ',').replace('-', '−');
        expect(readAnswer(`${text(a)} %`, '%')).toEqual(number(a));
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(readAnswer(`${text(a)} to ${text(b)} %`, '%')).toEqual(range(low, high));
      }),
      { seed: 8, numRuns: 200 },
    );
  });
});

describe('checkAnswer', () => {
  const base = { right: 40, hint: 'think', slips: [[20, 'half of it is missing.'] as const] };

  test('tells right, slip, wrong and missing answers apart, and never gives the answer away', () => {
    expect(checkAnswer({ ...base, answer: 40.3 })).toBe('Right: 40.3.');
    expect(checkAnswer({ ...base, answer: '40,3 %', unit: '%', why: 'it is so.' })).toBe(
      'Right: 40,3 %; it is so.',
    );
    expect(checkAnswer({ ...base, answer: 20 })).toBe('Not yet: half of it is missing.');
    expect(checkAnswer({ ...base, answer: 41 })).toBe('Not yet. Hint: think');
    expect(checkAnswer({ ...base, answer: ' ' })).toMatch(/^No answer yet. Write it between/);
    expect(checkAnswer({ ...base, answer: Number.NaN })).toMatch(/^Not a number yet/);
    expect(checkAnswer({ ...base, answer: 'forty' })).toMatch(/^Not a number yet.*"forty"/);
  });

  test('names the slips that every question knows', () => {
    const said = (answer: string) => checkAnswer({ ...base, unit: '%', answer });
    expect(said('-40')).toContain('the sign is not');
    expect(said('0,4')).toContain('that is a fraction');
    expect(said('4')).toContain('the decimal point is not');
    expect(said('400')).toContain('the decimal point is not');
    expect(said('35 to 45')).toContain('that is a range');
    expect(checkAnswer({ ...base, right: 1.09, slips: [], answer: '109' })).toContain('in percent');
  });

  test('leaves the sign free where the question does', () => {
    expect(checkAnswer({ ...base, sign: 'free', answer: '-40' })).toMatch(/^Right/);
    expect(checkAnswer({ ...base, sign: 'free', answer: '-20' })).toContain('half of it');
  });

  test('takes a range for a range, its slips too, and asks for one where a number came', () => {
    const limits = { ...base, right: [-14.94, -9.06] as const, slips: [] };
    expect(checkAnswer({ ...limits, answer: '−14,94 to −9,06' })).toMatch(/^Right/);
    expect(checkAnswer({ ...limits, answer: '9,06 to 14,94' })).toContain('the sign is not');
    expect(checkAnswer({ ...limits, sign: 'free', answer: '9,06 to 14,94' })).toMatch(/^Right/);
    expect(checkAnswer({ ...limits, answer: '-14.94' })).toContain('from where to where');
    expect(checkAnswer({ ...limits, answer: '-14.94 to -12' })).toMatch(/^Not yet. Hint/);
    const slips = [[[-13, -11], 'that is the mean.'] as const];
    expect(checkAnswer({ ...limits, slips, answer: '-12 ± 1' })).toBe('Not yet: that is the mean.');
  });

  test('calls an answer right within the tolerance and nowhere else', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (right, off) => {
          fc.pre(Math.abs(Math.abs(off) - 1) > 1e-6);
          const said = checkAnswer({
            answer: right * (1 + 0.02 * off),
            right,
            within: 0.02,
            hint: '',
          });
          expect(said.startsWith('Right')).toBe(Math.abs(off) < 1);
        },
      ),
      { seed: 31, numRuns: 200 },
    );
  });

  test('refuses a right answer of 0, to which no fraction is near', () => {
    expect(() => checkAnswer({ answer: 0, right: 0, hint: '' })).toThrow(MeterpairError);
    expect(() => checkAnswer({ answer: 0, right: [2, 1], hint: '' })).toThrow(MeterpairError);
  });
});
