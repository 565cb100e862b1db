import { mkdirSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../../src/error.js';
import { powersShownAs } from '../../../src/notebook/lessons/aReading.js';
import { countStudy } from '../../../src/notebook/lessons/colourStudies.js';
import { shareOf } from '../../../src/notebook/lessons/counts.js';
import { guarded, riskOutside } from '../../../src/notebook/lessons/decision.js';
import { ofSum, WAYS } from '../../../src/notebook/lessons/factor.js';
import { ownLaps, requireLaps } from '../../../src/notebook/lessons/ownLaps.js';
import { factorOf } from '../../../src/notebook/lessons/pairs.js';
import { predictionSentence } from '../../../src/notebook/lessons/predict.js';
import { sheetPage } from '../../../src/notebook/lessons/sheet.js';
import { ofHundred, told } from '../../../src/notebook/lessons/told.js';

import { readNotebook } from '../../../src/notebook/notebookFile.js';
import { standardDeviation } from '../../../src/statistics/summary.js';
import { root } from '../notebookRun.js';

describe('what repetitions can tell', () => {
  test('is told with two standard errors to one digit, and no digit beyond', () => {
    expect(told(85.6, 0.55)).toBe('86 ± 1');
    expect(told(0.5012, 0.0081)).toBe('0.50 ± 0.02');
    expect(told(-0.004, 0.018)).toBe('0.00 ± 0.04');
    expect(told(62.3, 3.4)).toBe('62 ± 7');
    // 2 · 4.9 = 9.8 rounds to 10: the place goes up with it.
    expect(told(62.3, 4.9)).toBe('60 ± 10');
    expect(told(1.25, 0)).toBe('1.25');
  });

  test('is a binomial share', () => {
    // By hand: (380 + 1)/(400 + 2) = 0.9478; √(0.9478 · 0.0522/400) = 0.0111.
    expect(shareOf(380, 400).standardUncertainty).toBeCloseTo(0.0111, 4);
    expect(ofHundred(shareOf(380, 400))).toBe('95 ± 2');
    expect(() => shareOf(0, 0)).toThrow(MeterpairError);
  });
});

describe('a prediction', () => {
  const found = { was: 85.6, standardError: 0.55, unit: 'of 100', within: 2 };
  const thoughts = [[95, 'That is what it promises.'] as const];
  const at = (low: number, high = low) => ({ low, high });

  test('is met with the thought behind it, never with high or low', () => {
    expect(predictionSentence(at(95), { ...found, thoughts })).toBe(
      'You predicted 95; it is 86 ± 1 of 100. That is what it promises.',
    );
    expect(predictionSentence(at(87), found)).toContain('That is what happens.');
    expect(predictionSentence(at(80, 90), found)).toContain(
      '80 to 90; it is 86 ± 1 of 100. That is',
    );
    expect(predictionSentence(at(40), found)).toContain('comes next');
    expect(predictionSentence(null, found)).toBe('No prediction was noted. It is 86 ± 1 of 100.');
  });

  test('without a sign is taken without one', () => {
    const off = { ...found, was: 0.5, standardError: 0.01, unit: '%', within: 0.1 };
    expect(predictionSentence(at(-0.5), { ...off, sign: 'free' })).toContain('what happens');
    expect(predictionSentence(at(-0.5), off)).not.toContain('what happens');
  });
});

describe('readings of one’s own', () => {
  test('are those of a class, ten laps, or typed as people type them', async () => {
    const known = await ownLaps('class');
    expect([known.reference.length, known.candidate.length]).toEqual([10, 10]);
    const { reference, candidate } = await ownLaps('52,1 47; 51.8 47,5;\n52 48');
    expect(reference).toEqual([52.1, 51.8, 52]);
    expect(candidate).toEqual([47, 47.5, 48]);
    const alone = await ownLaps('47 47 48,5');
    expect([alone.reference, alone.candidate]).toEqual([[], [47, 47, 48.5]]);
    expect(() => requireLaps(alone, 2)).toThrow(/one meter/);
    expect(() => requireLaps(known, 11)).toThrow(MeterpairError);
  });

  test('are the longest series of a study, without what was excluded', async () => {
    const own = await ownLaps(join(root, 'data-demo', '1-workshop-evening'));
    expect(own.from).toContain('the longest of');
    expect(own.reference.length).toBeGreaterThan(5);
    expect(own.candidate).toHaveLength(own.reference.length);
  });

  test.each(['', 'class'])('%j is the class', async (text) => {
    expect((await ownLaps(text)).from).toContain('invented');
  });

  test.each(['52.1 47; 51', '0 3; 4 5', '52.1', '1.2.3 4; 5 6'])('%s is refused', async (text) => {
    await expect(ownLaps(text)).rejects.toThrow(MeterpairError);
  });

  test('a folder without a study is named', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'meterpair-test-'));
    mkdirSync(join(folder, 'empty'));
    await expect(ownLaps(join(folder, 'empty'))).rejects.toThrow(MeterpairError);
  });
});

describe('the steps of a display', () => {
  test('leave powers that are all alike: 0.29 of a step', () => {
    const powers = powersShownAs({ step_mW: 1, shows_mW: 1 }, 20_000);
    expect(Math.min(...powers)).toBeGreaterThan(0.5);
    expect(Math.max(...powers)).toBeLessThan(1.5);
    // JCGM 100:2008, F.2.2.1 prints 0.29; 20000 powers tell it to 0.5 %.
    expect(Math.abs(standardDeviation(powers) - 0.29)).toBeLessThan(0.005 + 0.005);
  });
});

describe('factors', () => {
  test('undo their difference', () => {
    // By hand: 80 · 1.25 = 100; 125 · 0.8 = 100; 93 · 1.0753 = 100.
    expect(factorOf(-20)).toBeCloseTo(1.25, 12);
    expect(factorOf(25)).toBeCloseTo(0.8, 12);
    expect(factorOf(-7)).toBeCloseTo(1.0753, 4);
  });

  test('of laps: only two of the three ways lead back home', () => {
    const laps = { reference: [50, 50, 50, 50], candidate: [50, 50, 40, 62.5] };
    const back = { reference: laps.candidate, candidate: laps.reference };
    const there = Object.entries(WAYS).map(([name, way]) => [name, way(laps) * way(back)] as const);
    // By hand: (1 + 1 + 1.25 + 0.8)/4 = 1.0125, both ways round.
    expect(there[0]).toEqual(['mean of the ratios', expect.closeTo(1.0125 ** 2, 10)]);
    for (const [, both] of there.slice(1)) expect(both).toBeCloseTo(1, 12);
  });

  test('a sum of what one standard calibrated is known no better than one part', () => {
    // JCGM 100:2008, 5.2.2, example (from memory): ten resistors of 1000 Ω, each 100 mΩ from the same standard, in
    // series: 1 Ω, and not 0.32 Ω as for independent ones.
    const ohms = (relative: number) => 10_000 * relative;
    expect(ohms(ofSum(10, 1e-4, 0))).toBeCloseTo(1, 12);
    expect(Math.abs(ohms(ofSum(10, 0, 1e-4)) - 0.32)).toBeLessThan(0.005);
  });
});

describe('one factor for all colours', () => {
  const study = { name: '', factors: { 450: 1.1, 532: 1.1, 650: 1.1 }, scatter: 4, laps: 6 };

  test('where all are alike the test finds a difference in five of a hundred evenings', () => {
    const { differ, most } = countStudy(study, 5);
    expect(most).toBeCloseTo(0, 12);
    // Welch's approximation is good to about one in a hundred with so few laps (Welch 1951).
    expect(Math.abs(differ.fraction - 0.05)).toBeLessThan(
      4 * Math.sqrt((0.05 * 0.95) / 1000) + 0.01,
    );
  });

  test('more laps find a difference more often, and do not change how large it is', () => {
    const blurred = { ...study, factors: { 450: 1.18, 532: 1.1, 650: 1.03 }, scatter: 8 };
    const [few, many] = [4, 20].map((laps) => countStudy({ ...blurred, laps }, 5));
    expect(many?.differ.fraction).toBeGreaterThan((few?.differ.fraction ?? 1) + 0.3);
    expect(many?.most).toBe(few?.most);
  });
});

describe('a decision against limits', () => {
  const within = (value: number, u: number, low: number, high: number) =>
    (1 - riskOutside({ value, u, limits: [low, high] })).toFixed(2);

  test('carries the risk that JCGM 106 prints', () => {
    // JCGM 106:2012, clause 7 (from memory): a Zener diode of −5.47 V, u = 0.05 V, at most −5.40 V,
    // Φ(1.40) printed as 0.92; a container of 509.7 kPa, u = 8.6 kPa, at least 490 kPa, 0.99.
    expect(within(-5.47, 0.05, -1e6, -5.4)).toBe('0.92');
    expect(within(509.7, 8.6, 490, 1e6)).toBe('0.99');
    // Standard normal table: Φ(1.96) = 0.975 to either side.
    expect(within(0, 1, -1.96, 1.96)).toBe('0.95');
  });

  test('with a guard band is wrong in at most 2.5 of a hundred acceptances', () => {
    // ILAC-G8:09/2019 (read in a secondary text): w = U, false acceptance below 2.5 %.
    for (const value of [-3, -1, 0, 2, 3]) {
      const found = { value, u: 1, limits: [-5, 5] as const };
      expect(guarded(found)).toBe('accept');
      expect(riskOutside(found)).toBeLessThan(0.025);
    }
    expect(guarded({ value: 3.1, u: 1, limits: [-5, 5] })).toBe('undecided');
    expect(guarded({ value: 7.1, u: 1, limits: [-5, 5] })).toBe('reject');
  });
});

describe('the sheet', () => {
  const path = join(root, 'notebooks', 'lessons', '5-taking-turns.ipynb');

  test('asks what the lesson asks, has room for ten readings, and takes no markup from a question', async () => {
    const page = sheetPage(await readNotebook(path), 'How <b>far</b>?');
    expect(page).toContain('<h1>Taking turns</h1>');
    expect(page).toContain('Think of <em>forty</em> such laps');
    expect(page).not.toContain('between the quotes');
    expect(page).toContain('How &lt;b&gt;far&lt;/b&gt;?');
    expect(page.match(/<tr>/g)).toHaveLength(11);
    expect(page).toContain('What cannot be shown');
    expect(page).toMatch(/[Ee]yewear.*IEC 60825-1/);
  });
});
