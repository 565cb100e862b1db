import { describe, expect, test } from 'vitest';
import { coverageOfBudget } from '../../src/budget/coverageOfBudget.js';
import type { Study } from '../../src/vocabulary.js';
import { analyseWavelengths } from '../../src/wavelengths/analyseWavelengths.js';
import { chapterOf, suspectIn } from '../analysed.js';
import { near } from '../near.js';
import { type PlannedSeries, type StudyChanges, steady, studyOf } from '../seriesStudy.js';

const REFERENCE = { expanded_uncertainty_percent: 4, coverage_factor: 2 };
const K = (id: string, value: number, changes: Partial<PlannedSeries> = {}): PlannedSeries => ({
  id,
  nm: 638,
  laps: steady(100 * value, 100),
  ...changes,
});
const chapter = (series: readonly PlannedSeries[], changes: StudyChanges = {}) =>
  chapterOf(studyOf(series, { reference: REFERENCE, ...changes }));

describe('one series, K = 1.1, reference known to 4 % at k = 2', () => {
  const { input } = chapter([K('a', 1.1)]);
  const { results, estimates } = analyseWavelengths(input);
  const [one] = results;

  test('u holds the calibration of 2 % and the usual placement of 1 %', () => {
    near(one.factor, 1.1, 1e-9);
    near(one.relative_standard_uncertainty, Math.hypot(0.02, 0.01), 1e-5);
    // Welch and Satterthwaite: u⁴ ÷ (0.01⁴/8) = (5e−4)² · 8 ÷ 1e−8 = 200
    near(one.dof, 200, 0.5);
    near(one.relative_expanded_uncertainty, (one.high ?? 0) / (one.factor ?? 1) - 1, 1e-12);
    near(
      one.coverage_factor,
      Math.log(one.high ?? 0 / 1) / (one.relative_standard_uncertainty ?? 1) -
        Math.log(1.1) / (one.relative_standard_uncertainty ?? 1),
      1e-9,
    );
    expect(one.coverage_factor).toBeGreaterThan(1.9);
    expect(one.coverage_factor).toBeLessThan(2.1);
  });

  test('what may be compared with other wavelengths holds no calibration', () => {
    expect(estimates).toHaveLength(1);
    near(estimates[0].standardUncertainty, 0.01, 1e-5);
    near(estimates[0].dof, 8, 0.01);
    near(estimates[0].logFactor, Math.log(1.1), 1e-9);
  });

  test('a reading on another day adds one placement more: √(2² + 1² + 1²) %', () => {
    // U of parts 2 % (normal) and 1 %, 1 % (8 degrees of freedom each), as the budget reckons
    const part = (u: number, dof: number, shape: 'normal' | 'student') => ({
      relative_standard_uncertainty: u,
      dof,
      shape,
    });
    const { high } = coverageOfBudget(
      [part(0.02, 1e6, 'normal'), part(0.01, 8, 'student'), part(0.01, 8, 'student')],
      0.95,
    );
    near(one.corrected_reading_relative_U, Math.expm1(high), 2e-5);
    expect(one.next_series_relative_sd).toBe(0.01);
    expect(one.next_series_dof).toBe(8);
  });

  test('the reader is told with what it holds', () => {
    expect(one.series).toEqual(['a']);
    expect(one.candidate_range_mW).toEqual([100, 100]);
    expect(one.why).not.toContain('Relative to this reference only.');
    expect(one.budget.map(({ name }) => name)).toContain('calibration of the reference');
    expect(one.not_in_budget.length).toBeGreaterThan(0);
  });
});

test('without a stated calibration K is relative to this reference, and says so', () => {
  const { input } = chapterOf(studyOf([K('a', 1.1)]));
  const [one] = analyseWavelengths(input).results;
  expect(one.why).toContain('Relative to this reference only.');
  near(one.relative_standard_uncertainty, 0.01, 1e-5);
});

test('wavelengths stand in ascending order, whatever the order of the series', () => {
  const { input } = chapter([K('a', 1.1), K('b', 1.2, { nm: 450 }), K('c', 1.1, { nm: 1064 })]);
  expect(analyseWavelengths(input).results.map((one) => one.wavelength_nm)).toEqual([
    450, 638, 1064,
  ]);
});

describe('the spread between series that a wavelength with one series takes', () => {
  // ln K of two series ± 0.04 apart: s² = 2·0.04² = 0.0032 with 1 degree of freedom, beside 8 of 1 %:
  // sd = √((0.0032 + 8·1e−4) ÷ 9) = 2.108 %
  const pair = (nm: number, source?: string) => [
    K('p', Math.exp(0.04), { nm, source }),
    K('q', Math.exp(-0.04), { nm, source }),
  ];
  const alone = (found: ReturnType<typeof analyseWavelengths>) =>
    found.results.find((one) => one.wavelength_nm === 638)?.between_series_relative_sd;
  const pooled = Math.sqrt((0.0032 + 8e-4) / 9);

  test('is pooled from the wavelengths that have two', () => {
    near(alone(analyseWavelengths(chapter([K('a', 1.1), ...pair(450)]).input)), pooled, 1e-5);
  });

  test('is not lent by a frequency-doubled line, which may hold infrared', () => {
    near(alone(analyseWavelengths(chapter([K('a', 1.1), ...pair(532)]).input)), 0.01, 1e-9);
  });

  test('is lent by one behind a filter', () => {
    const { input } = chapter([K('a', 1.1), ...pair(532)]);
    const study: Study = {
      ...input.study,
      series: input.study.series.map((one) =>
        one.wavelength_nm === 532 ? { ...one, filter: 'grey' } : one,
      ),
    };
    near(alone(analyseWavelengths({ ...input, study })), pooled, 1e-5);
  });

  test('is not lent by a series with an open slip', () => {
    const { input } = chapter([K('a', 1.1), ...pair(450)]);
    near(alone(analyseWavelengths({ ...input, suspects: [suspectIn('p')] })), 0.01, 1e-9);
  });

  test('is not what a change with the power makes', () => {
    const { input } = chapter([
      K('a', 1.1),
      K('p', 1, { nm: 450 }),
      { id: 'q', nm: 450, laps: steady(1300, 1000) },
    ]);
    near(alone(analyseWavelengths(input)), 0.01, 1e-9);
  });

  test('is that of the study where stated', () => {
    const { input } = chapter([K('a', 1.1), ...pair(450)], {
      study: { between_series_percent: 0.3 },
    });
    near(alone(analyseWavelengths(input)), 0.003, 1e-9);
  });
});

describe('which series speak', () => {
  test('not those that hold other light', () => {
    const { input } = chapter([K('a', 1.1), K('b', 1.3)]);
    const [one] = analyseWavelengths({ ...input, unisolated: new Set(['b']) }).results;
    expect(one.series).toEqual(['a']);
    near(one.factor, 1.1, 1e-9);
  });

  test('not short ones beside a longer one; they are named', () => {
    const { input } = chapter([K('a', 1.1), K('b', 1.11, { laps: [[111, 100]] })]);
    const { results, warnings } = analyseWavelengths(input);
    expect(results[0].series).toEqual(['a']);
    expect(warnings.map(({ code }) => code)).toEqual(['short-series-left-out']);
    expect(results[0].verdict).toBe('correct-it');
  });

  test('short ones alone, from three on', () => {
    const short = [1.1, 1.11, 1.12].map((k, i) => K(`s${i}`, k, { laps: [[100 * k, 100]] }));
    const three = analyseWavelengths(chapter(short).input);
    expect(three.results[0].series).toEqual(['s0', 's1', 's2']);
    expect(three.warnings).toEqual([]);
    const two = analyseWavelengths(chapter(short.slice(1)).input).results[0];
    expect([two.factor, two.verdict, two.levels]).toEqual([null, 'inconclusive', []]);
    expect(two.why).toMatch(/^No series at this wavelength gives a factor\. No interval/);
  });
});

test('series of one power that contradict each other are named', () => {
  const { input } = chapter([K('a', 1), K('b', 1.3)]);
  const { warnings, results } = analyseWavelengths(input);
  expect(warnings.map(({ code }) => code)).toEqual(['series-contradict']);
  expect(results[0].verdict).toBe('inconclusive');
});

test('what has to be found out first withholds the verdict, and leaves the numbers', () => {
  const { input } = chapter([K('a', 1.1), K('b', 1.1, { nm: 450 })]);
  const plain = analyseWavelengths(input).results;
  const { results } = analyseWavelengths({ ...input, suspects: [suspectIn('a')] });
  expect(results.map(({ verdict }) => verdict)).toEqual(['correct-it', 'inconclusive']);
  expect(results[1].why).toMatch(/^Row 4 of runs.csv .*? Uncorrected readings are/s);
  expect(results[1].next_step).toMatch(/^Settle that first/);
  expect(results[1].factor).toBe(plain[1].factor);
  expect(results[0]).toEqual(plain[0]);
});
