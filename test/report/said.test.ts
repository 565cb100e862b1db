/** What the files and the page of a real study say, held against what `correct` does. */
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { reportFigures } from '../../src/figures/reportFigures.js';
import {
  analyse,
  correct,
  type Factors,
  factorsOf,
  type Result,
  readStudy,
  resultFile,
  type Study,
} from '../../src/index.js';
import { reportPage } from '../../src/report/reportPage.js';
import { errorOf } from '../record/support.js';

let study: Study;
let result: Result;
let factors: Factors;
let page: string;

beforeAll(async () => {
  study = await readStudy(
    fileURLToPath(new URL('../../data-demo/1-workshop-evening', import.meta.url)),
  );
  result = analyse(study);
  factors = factorsOf(study, result);
  page = reportPage({
    study,
    result,
    factors,
    figures: reportFigures(study, result),
    plotlyBundle: '',
    versions: { meterpair: '0.1.0', Node: 'v20' },
  }).replaceAll(/<[^>]*>/g, '');
});

describe('result.json', () => {
  test('holds nothing random, and no number longer than 12 digits', () => {
    const text = resultFile(result);
    expect(text).toContain('"schema": "meterpair.result/2"');
    expect(text).not.toMatch(/"(monte_carlo|seed)"/);
    const numbers = [...text.matchAll(/: (-?[\d.]+(?:e[+-]?\d+)?),?\n/g)].map(
      ([, one = '']) => one,
    );
    expect(numbers.length).toBeGreaterThan(500);
    const digits = (number: string) =>
      number.replace(/e.*/, '').replace(/[-.]/g, '').replace(/^0+/, '').length;
    expect(numbers.filter((one) => digits(one) > 12 && !/^\d+$/.test(one))).toEqual([]);
    expect(resultFile(analyse(study))).toBe(text);
  });

  test('has one interval, and value ± U holds both of its ends', () => {
    for (const { factor, low, high, relative_expanded_uncertainty: U } of result.wavelengths) {
      if (factor === null || low === null || high === null || U === null) continue;
      expect(factor * (1 + U)).toBeGreaterThanOrEqual(high * (1 - 1e-9));
      expect(factor * (1 - U)).toBeLessThanOrEqual(low * (1 + 1e-9));
    }
  });
});

describe('what is offered', () => {
  test('is what correct gives: the factor of the level, half and twice the range, and no more', () => {
    expect(factors.factors.length).toBeGreaterThan(3);
    for (const { wavelength_nm, levels } of factors.factors) {
      const at = (reading_mW: number) => correct(factors, { reading_mW, wavelength_nm });
      for (const { centre_mW, factor } of levels) {
        expect(Math.abs(at(centre_mW).factor / factor - 1)).toBeLessThan(1e-9);
      }
      const [low, high] = [levels[0]?.candidate_mW[0], levels.at(-1)?.candidate_mW[1]];
      if (low === undefined || high === undefined) throw new Error('no level');
      const codes = at(0.51 * low).cautions.map(({ code }) => code);
      expect(codes).toContain('power-outside-range');
      expect(errorOf(() => at(0.49 * low)).code).toBe('power-out-of-range');
      const rated = factors.candidate.rated_max_mW ?? Number.POSITIVE_INFINITY;
      if (1.99 * high <= rated) expect(at(1.99 * high).value).toBeGreaterThan(0);
      expect(errorOf(() => at(2.01 * high)).code).toBe('power-out-of-range');
    }
    const highest = Math.max(...factors.factors.map((one) => one.wavelength_nm));
    expect(
      errorOf(() => correct(factors, { reading_mW: 50, wavelength_nm: highest + 20 })).code,
    ).toBe('wavelength-out-of-range');
  });

  test('stands on the page: half and twice, between colours, and not beyond', () => {
    expect(page).toMatch(/half.{0,120}twice/);
    expect(page).not.toMatch(/nothing is offered|no factor is offered between/i);
  });
});

describe('sentences of the page', () => {
  test('U of K is not called that of a new reading', () => {
    expect(page).toMatch(/new reading may be off by is more than the interval of K says/);
    expect(page).not.toMatch(/may be off by is what the interval says/);
  });

  test('no second interval stands beside the one, and no check beside a disagreement', () => {
    expect(page).not.toMatch(/trust neither|checked by Monte Carlo|Monte Carlo/i);
  });

  test('the factor is free of drift as far as the model holds, wherever it is said', () => {
    const said = [...page.matchAll(/(?:is|are) free of it([^.;]*)/g)].map(([, rest = '']) => rest);
    expect(said.length).toBeGreaterThan(0);
    for (const rest of said) expect(rest).toMatch(/as far as the drift is/);
  });

  test('a confidence of its own is not covered by that of the study', () => {
    expect(page).toContain('Confidence of every interval that does not state its own');
    expect(page).toMatch(/relative to this reference/);
  });

  test('one factor for all: how far the farthest interval reaches, and no other number beside it', () => {
    const { why } = result.common_factor;
    expect(why).not.toMatch(/may be \d+ % from the common one/);
    expect(why).toMatch(/the interval of the factor at \d+ nm reaches/);
  });
});
