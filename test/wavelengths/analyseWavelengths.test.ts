import { describe, expect, test } from 'vitest';
import { coverageOfBudget } from '../../src/budget/coverageOfBudget.js';
import { nextStep } from '../../src/budget/nextImprovement.js';
import { combineSeries, pooledBetweenSeries } from '../../src/series/combineSeries.js';
import { readingScatter } from '../../src/series/readingScatter.js';
import type { Study } from '../../src/vocabulary.js';
import { analyseWavelengths } from '../../src/wavelengths/analyseWavelengths.js';
import { oneLevel, seatings, severalLevels } from '../../src/wavelengths/wavelengthLevels.js';
import { verdictOf } from '../../src/wavelengths/wavelengthVerdict.js';
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

describe('whole records', () => {
  const at = { reference: REFERENCE, candidate: { resolution_mW: 0.5 } };
  const cases: readonly (readonly [string, readonly PlannedSeries[], StudyChanges])[] = [
    ['two series of one power', [K('a', 1.1), K('b', 1.11, { laps: steady(112, 101, 4) })], at],
    ['two levels', [K('a', 1.1), K('b', 1.3, { laps: steady(1300, 1000) })], at],
    [
      'a placement that is stated, another confidence, no calibration',
      [K('a', 1.01)],
      { ...at, reference: {}, study: { between_series_percent: 0.3, confidence_percent: 80 } },
    ],
  ];

  test.each(cases)('%s', (_, series, changes) => {
    const { input, members } = chapterOf(studyOf(series, changes));
    const { study } = input;
    const placement = pooledBetweenSeries(
      seatings(members),
      study.between_series,
      study.protocol.placement,
    );
    const answer =
      seatings(members).length > 1
        ? severalLevels(638, members, placement, input)
        : oneLevel(
            638,
            members,
            combineSeries(
              members.map(({ estimate }) => estimate),
              placement,
            ),
            input,
          );
    const student = (u: number, dof: number) => ({
      relative_standard_uncertainty: u,
      dof,
      shape: 'student' as const,
    });
    const { reading_relative_sd, reading_dof } = readingScatter(
      members.map(({ analysis }) => analysis.result),
    );
    const half = (answer.high - answer.low) / 2;
    // Of two levels the weaker is known less: the steps of both displays weigh more there.
    const { leastKnown: least } = answer;
    const placed = [...least.inputs, student(answer.next.sd, answer.next.dof)];
    const reach = (parts: typeof placed) => coverageOfBudget(parts, study.confidence).high;
    const onAnotherDay = Math.expm1(Math.max(least.half, reach(placed)));
    const judged = verdictOf(answer, {
      tolerance: 0.05,
      oneReading: () => reach([...placed, student(reading_relative_sd, reading_dof)]),
      onAnotherDay,
      placementStated: study.between_series !== null,
    });
    const where = least.candidate_mW === null ? '' : 'At 100 mW: ';
    const { sentence, step } = nextStep(
      {
        budget: least.inputs,
        confidence: study.confidence,
        wanted: 0.05,
        laps: least.members.reduce((sum, { analysis }) => sum + analysis.laps.length, 0),
        missing: answer.missing,
      },
      Math.expm1(least.half),
    );
    const ranges = series.flatMap(({ laps }) => laps.map(([, candidate]) => candidate));
    const relative = changes.reference === REFERENCE ? '' : ' Relative to this reference only.';
    expect(analyseWavelengths(input).results).toEqual([
      {
        wavelength_nm: 638,
        series: series.map(({ id }) => id),
        factor: Math.exp(answer.logFactor),
        low: Math.exp(answer.low),
        high: Math.exp(answer.high),
        dof: answer.dof,
        relative_standard_uncertainty: answer.standardUncertainty,
        relative_expanded_uncertainty: Math.expm1(half),
        coverage_factor: half / answer.standardUncertainty,
        between_series_relative_sd: answer.betweenSd,
        next_series_relative_sd: answer.next.sd,
        next_series_dof: answer.next.dof,
        corrected_reading_relative_U: onAnotherDay,
        budget: answer.budget,
        not_in_budget: answer.missing.map(({ text }) => text),
        levels: answer.levels,
        by_power: answer.byPower,
        candidate_range_mW: [Math.min(...ranges), Math.max(...ranges)],
        verdict: judged.verdict,
        next_step: `${where}${sentence}`,
        improvement: `${where}${step}`,
        why: `${judged.why}${relative}`,
      },
    ]);
  });

  const nothing = (nm: number, head: string, why: string) => ({
    wavelength_nm: nm,
    series: [],
    factor: null,
    low: null,
    high: null,
    dof: null,
    relative_standard_uncertainty: null,
    relative_expanded_uncertainty: null,
    coverage_factor: null,
    between_series_relative_sd: null,
    next_series_relative_sd: null,
    next_series_dof: null,
    corrected_reading_relative_U: null,
    budget: [],
    not_in_budget: [],
    levels: [],
    by_power: { verdict: 'one-level', p: null, offset_mW: null, why: head },
    candidate_range_mW: null,
    verdict: 'inconclusive',
    next_step: 'Take a series of at least 5 laps at this wavelength.',
    improvement: null,
    why,
  });
  const lap = (id: string, k: number) => K(id, k, { laps: [[100 * k, 100]] });
  const LAP = 'No interval for K can be computed from 1 lap; take at least 5.';

  test('two single laps give nothing, with their reason said once', () => {
    const head = 'No series at this wavelength gives a factor.';
    expect(analyseWavelengths(chapter([lap('a', 1.1), lap('b', 1.2)]).input)).toEqual({
      results: [nothing(638, head, `${head} ${LAP}`)],
      estimates: [],
      warnings: [],
    });
  });

  test.each([
    // Three single laps, ln K = −s, 0, s: t(2) = 4.303 times s/√3, beside ln 1000 = 6.908
    [0.5, true],
    [2.7, true],
    [2.9, false],
  ])('three single laps e^±%d apart (told: %s)', (s, told) => {
    const three = [lap('a', Math.exp(-s)), lap('b', 1), lap('c', Math.exp(s))];
    const { results, estimates } = analyseWavelengths(chapter(three).input);
    expect([results[0].factor !== null, estimates.length]).toEqual([told, told ? 1 : 0]);
    if (told) return;
    const head = 'The interval of K would reach beyond a factor of 1000 either way.';
    expect(results).toEqual([nothing(638, head, `${head} ${LAP}`)]);
  });

  test('what no uncertainty at all bears on has the coverage factor of a normal part', () => {
    // ln 1 = 0 leaves no scatter, and neither placement nor calibration nor a step is stated.
    const { input } = chapterOf(
      studyOf([{ id: 'a', nm: 638, laps: steady(1, 1) }], { study: { between_series_percent: 0 } }),
    );
    const bare = { ...input, steps: { reference: null, candidate: null } };
    const series = input.series.map((one) => ({
      ...one,
      parts: one.parts && { ...one.parts, rounding: { reference: 0, candidate: 0 } },
    }));
    expect(analyseWavelengths({ ...bare, series }).results[0]).toMatchObject({
      factor: 1,
      low: 1,
      high: 1,
      relative_standard_uncertainty: 0,
      relative_expanded_uncertainty: 0,
      coverage_factor: 2,
    });
  });
});

describe('what is said beside a factor', () => {
  test('short series are named without those that hold other light or no lap at all', () => {
    const { input } = chapter([
      K('a', 1.1),
      K('b', 1.11, { laps: [[111, 100]] }),
      K('c', 1.12, { laps: [[112, 100]] }),
      K('d', 1.13, { laps: [[113, 100]] }),
    ]);
    const series = input.series.map((one) => (one.result.id === 'd' ? { ...one, laps: [] } : one));
    const { warnings } = analyseWavelengths({ ...input, series, unisolated: new Set(['c']) });
    expect(warnings.map(({ message }) => message.match(/"\w"/g))).toEqual([['"b"']]);
  });

  test('a series without a lap has a factor, and no number of laps to go by', () => {
    const { input } = chapter([K('a', 1.1)]);
    const loose = input.series.map((one) => ({ ...one, laps: [] }));
    const [one] = analyseWavelengths({ ...input, series: loose }).results;
    near(one.factor, 1.1, 1e-9);
    expect(one.series).toEqual(['a']);
  });

  test('short ones that hold other light do not make up the three that it takes', () => {
    const three = ['s', 't', 'u'].map((id, i) => K(id, 1.1 + i / 100, { laps: [[110 + i, 100]] }));
    const { input } = chapter(three);
    const { results } = analyseWavelengths({ ...input, unisolated: new Set(['t']) });
    expect(results[0].factor).toBeNull();
  });

  test('neighbours that contradict each other are both open; so is what stood at a wrong setting', () => {
    const { input } = chapter([
      K('a', 1.1, { nm: 520 }),
      K('b', 1.3, { nm: 522 }),
      K('c', 1.2),
      K('d', 1.2, { nm: 450 }),
    ]);
    const state = (status: 'right' | 'wrong') => ({ status, effective_nm: [], ratio: null });
    const settingStates = new Map([
      ['d', { reference: state('right'), candidate: state('wrong') }],
    ]);
    const readings = { ...input.readings, settingStates };
    const { results, warnings } = analyseWavelengths({ ...input, readings });
    expect(results.map(({ wavelength_nm, verdict }) => [wavelength_nm, verdict])).toEqual([
      [450, 'inconclusive'],
      [520, 'inconclusive'],
      [522, 'inconclusive'],
      [638, 'correct-it'],
    ]);
    expect(results[0].why).toMatch(/^In "d" a meter was set to another wavelength/);
    expect(results[1].why).toMatch(/^It and the factor at 522 nm contradict/);
    expect(warnings.map(({ code }) => code)).toEqual(['neighbours-contradict']);
  });

  test('two objections stand in place of what follows from the numbers, and nothing is to be improved first', () => {
    const { input } = chapter([K('a', 1.1, { nm: 520 }), K('b', 1.3, { nm: 522 })]);
    const plain = analyseWavelengths(chapter([K('a', 1.1, { nm: 520 })]).input).results[0];
    const [one] = analyseWavelengths({ ...input, suspects: [suspectIn('a')] }).results;
    expect(one).toMatchObject({
      verdict: 'inconclusive',
      next_step: 'Settle that first: until then more laps do not help.',
      improvement: null,
    });
    expect(one.why).toMatch(/^Row 4 of runs\.csv .* It and the factor at 522 nm /);
    // What would follow from the numbers is not said.
    expect(one.why).not.toContain(plain.why);
  });

  test('a contradiction of the series is warned of before the objections', () => {
    const { input } = chapter([K('a', 1), K('b', 1.3), K('c', 1.11, { laps: [[115, 100]] })]);
    const { warnings } = analyseWavelengths(input);
    expect(warnings.map(({ code }) => code)).toEqual([
      'series-contradict',
      'short-series-left-out',
    ]);
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
  expect(results[1].why).toMatch(/^Row 4 of runs.csv [^.]*\.$/);
  expect(results[1].next_step).toMatch(/^Settle that first/);
  expect(results[1].factor).toBe(plain[1].factor);
  expect(results[0]).toEqual(plain[0]);
});
