import { describe, expect, test } from 'vitest';
import { checkAnswer } from '../../../src/notebook/exercises/checkAnswer.js';
import { agreementExercise } from '../../../src/notebook/lessons/exercises/agreement.js';
import { aReadingExercise } from '../../../src/notebook/lessons/exercises/aReading.js';
import { averagesExercise } from '../../../src/notebook/lessons/exercises/averages.js';
import { coloursExercise } from '../../../src/notebook/lessons/exercises/colours.js';
import { factorExercise } from '../../../src/notebook/lessons/exercises/factor.js';
import { intervalsExercise } from '../../../src/notebook/lessons/exercises/intervals.js';
import { leavingOutExercise } from '../../../src/notebook/lessons/exercises/leavingOut.js';
import { turnsExercise } from '../../../src/notebook/lessons/exercises/turns.js';
import type { Exercise } from '../../../src/notebook/lessons/pose.js';

interface Case {
  readonly exercise: Exercise;
  /** As a learner types it, worked out by hand or from a table. */
  readonly right: readonly string[];
  /** Typed, and a word of what the lesson has to say to it. */
  readonly slips: Readonly<Record<string, string>>;
  readonly unknown: string;
}

const cases: Readonly<Record<string, Case>> = {
  // JCGM 100:2008, F.2.2.1: u = 0.29 times the step (0.289 = 1/√12). 0.0289/0.8 = 3.61 %.
  '1': {
    exercise: aReadingExercise({ step_mW: 0.1, shows_mW: 0.8 }),
    right: ['3,61 %', '3.6', '+3.61', '0.0361/0.01'],
    slips: {
      '6.25': 'half step',
      '12,5 %': 'whole step',
      '7.22': '√3',
      '3.125': 'ninety-five',
      '0.0289': 'in mW',
      '7.217 %': '√3',
      '0.0361': 'fraction',
    },
    unknown: '5',
  },
  // NIST/SEMATECH e-Handbook, 1.3.6.7.2: t for 0.975 is 2.776 at 4 degrees of freedom, 2.571 at 5.
  '2': {
    exercise: intervalsExercise({ laps: 5, s: 1.2 }),
    right: ['1,49 %', '± 1.49', '-1.49'],
    slips: {
      [String((1.96 * 1.2) / Math.sqrt(5))]: '1.96',
      [String((2.571 * 1.2) / Math.sqrt(5))]: 'degrees of freedom',
      [String(2.776 * 1.2)]: 'single further lap',
      [String(1.2 / Math.sqrt(5))]: 'two of three',
      [String((2.776 * 1.2) / 5)]: 'square root',
      [String((2 * 2.776 * 1.2) / Math.sqrt(5))]: 'whole width',
    },
    unknown: '9',
  },
  // By hand: 1.2/√9 = 0.4 and 3/2 = 1.5; √(0.4² + 1.5²) = 1.552.
  '3': {
    exercise: averagesExercise({ s: 1.2, laps: 9, U: 3, k: 2 }),
    right: ['1,55 %', '1.552'],
    slips: {
      '1.9': 'squares',
      '3.03': 'U was taken as it stands',
      '1.92': 'one lap',
      '0.64': 'averaged',
      '0.4': 'certificate is missing',
      '1.5': 'scatter of the laps is missing',
      '2.41': 'variance',
      '3.1': 'expanded already',
    },
    unknown: '9',
  },
  // By hand: 1/1.08 = 0.92593.
  '4': {
    exercise: factorExercise({ difference: 8 }),
    right: ['−7,41 %', '-7.41'],
    slips: {
      '-8': 'of the reference was taken',
      '8': 'the difference itself',
      '7.41': 'sign',
      '92.6': 'factor in percent',
      '0.926': 'that is the factor',
      '-7.70': 'logarithm',
    },
    unknown: '-4',
  },
  // By hand: the candidate sees one step more in every lap, 1.1 · e^(−0.008) = 1.0912.
  '5': {
    exercise: turnsExercise({ percent_per_run: 0.8, factor: 1.1, laps: 12 }),
    right: ['1,091', 'K = 1.0912'],
    slips: {
      '1.1': 'true factor',
      '1.109': 'wrong side',
      '0.994': 'added up',
      '1.2056': 'added up',
      '1.0956': 'half a step',
      '109.1': 'in percent',
    },
    unknown: '2',
  },
  // By hand: 1 − 0.95¹⁰ = 0.4013; exactly one: 10 · 0.05 · 0.95⁹ = 0.3151.
  '6': {
    exercise: leavingOutExercise({ laps: 10, inside: 0.95 }),
    right: ['40', '40,1 of 100', '40 %'],
    slips: { '5': 'single lap', '50': 'added', '59.9': 'without any', '31.5': 'exactly one' },
    unknown: '12',
  },
  // Bland and Altman 1986, Lancet 327:307: mean ∓ 1.96 s. By hand −12 ∓ 2.94.
  '7': {
    exercise: agreementExercise({ mean: -12, sd: 1.5, pairs: 10 }),
    right: ['−14,94 to −9,06 %', '-12 ± 2.94', '[-14.9; -9.1]'],
    slips: {
      '-12 ± 0.93': 'where the mean may lie',
      '-2.94 to 2.94': 'around zero',
      '-13.5 to -10.5': 'two of three',
      '9.06 to 14.94': 'the other sign',
      '-14,94 %': 'lower one alone',
      '-9.06': 'upper one alone',
      '-3': 'from where to where',
    },
    unknown: '-20 to -1',
  },
  // NIST/SEMATECH e-Handbook, 1.3.6.7.1: area from 0 to 1.50 is 0.43319, so 6.68 % beyond; from 0 to
  // 0.75 it is 0.27337.
  '8': {
    exercise: coloursExercise({ difference: 3.5, U: 2, k: 2, tolerance: 5 }),
    right: ['6,7', '6.68 of 100', '7/100 ± 0'].slice(0, 2),
    slips: {
      '93.3': 'is right',
      '22.7': 'U was taken',
      '13.4': 'both sides',
      '5': 'interval',
      '2.5': 'ended at the limit',
      '50': 'lay on the limit',
      '0.0668': 'fraction',
    },
    unknown: '30',
  },
};

describe.each(Object.entries(cases))('the exercise of lesson %s', (_, one) => {
  const { question, hints, ...check } = one.exercise;
  const say = (answer: string, hint = 'think') => checkAnswer({ ...check, hint, answer });

  test('takes the right answer as people type it, and says why it is right', () => {
    for (const typed of one.right) expect(say(typed)).toMatch(/^Right: .*; .{30,}\.$/);
  });

  test('tells each slip what was probably done', () => {
    for (const [typed, word] of Object.entries(one.slips)) {
      const said = say(typed);
      expect(said).toMatch(/^Not yet: /);
      expect(said).toContain(word);
    }
    expect(say(one.unknown)).toBe('Not yet. Hint: think');
  });

  test('no slip lies so near the right answer that it would pass for it', () => {
    for (const [value] of one.exercise.slips ?? []) {
      const text = typeof value === 'number' ? String(value) : value.map(String).join(' to ');
      expect(say(text)).toMatch(/^Not yet: /);
    }
  });

  test('gives neither question nor hints the answer away, and never says only high or low', () => {
    const shown = one.right.flatMap((typed) => typed.match(/\d+[.,]\d+/g) ?? []);
    const said = [...question, ...hints, ...(check.slips ?? []).map(([, say]) => say)];
    for (const text of said) {
      for (const digits of shown)
        expect(text.replace('.', ',')).not.toContain(digits.replace('.', ','));
      expect(text).not.toMatch(/\btoo (low|high|small|large)\b/);
    }
    expect(question.at(-1)).toMatch(/\?/);
  });
});

test('the sign is asked for where it matters, and free where the question says so', () => {
  for (const { exercise } of Object.values(cases)) {
    const free = /No sign needed/.test(exercise.question.join(' '));
    expect(exercise.sign === 'free').toBe(free);
  }
});
