import { describe, expect, test } from 'vitest';
import { coverageOfBudget } from '../../src/budget/coverageOfBudget.js';
import { levelsOf } from '../../src/power/levelsOf.js';
import { wholeRange } from '../../src/power/wholeRange.js';
import { combineSeries } from '../../src/series/combineSeries.js';
import { combineContributed } from '../../src/statistics/combineIndependent.js';
import { contributions } from '../../src/wavelengths/wavelengthBudget.js';
import {
  oneLevel,
  pointOf,
  seatings,
  severalLevels,
} from '../../src/wavelengths/wavelengthLevels.js';
import { chapterOf } from '../analysed.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const REFERENCE = { expanded_uncertainty_percent: 4, coverage_factor: 2 };
const PLACED = { sd: 0.01, dof: 8, note: 'made' };

/** Series of six equal laps: candidate at this power, K. */
const chapter = (series: readonly (readonly [mW: number, K: number])[]) =>
  chapterOf(
    studyOf(
      series.map(([mW, K], i) => ({ id: `s${i}`, nm: 638, laps: steady(K * mW, mW) })),
      { reference: REFERENCE },
    ),
  );

test('a series is a point at the mean of what the candidate showed', () => {
  const laps = [10, 10.1, 10.2, 10.3].map((c) => [1.1 * c, c] as const);
  const [member] = chapterOf(studyOf([{ id: 'a', nm: 638, laps }])).members;
  const [point] = pointOf(member);
  near(point.candidateMean_mW, 10.15, 1e-12);
  expect(point.candidateRange_mW).toEqual([10, 10.3]);
  expect([point.id, point.logFactor]).toEqual(['a', member.estimate.logFactor]);
  const { analysis } = member;
  expect(pointOf({ ...member, analysis: { ...analysis, model: null } })).toEqual([]);
});

test('series of one power are told together: 100 and 101 mW, and apart from those of 300', () => {
  const { members } = chapter([
    [100, 1.1],
    [300, 1.2],
    [101, 1.1],
  ]);
  expect(seatings(members).map((level) => level.map(({ id }) => id))).toEqual([
    ['s0', 's2'],
    ['s1'],
  ]);
});

describe('one level', () => {
  const { members, input } = chapter([
    [100, 1.1],
    [110, 1.2],
  ]);
  const combined = combineSeries(
    members.map(({ estimate }) => estimate),
    PLACED,
  );
  const answer = oneLevel(638, members, { ...combined, contradicts: true, betweenSd: 0.04 }, input);
  const [level] = answer.levels;

  test('has the mean of the series, and the interval of its whole budget about it', () => {
    const { low, high, standardUncertainty } = coverageOfBudget(answer.inputs, 0.95);
    near(answer.logFactor, (Math.log(1.1) + Math.log(1.2)) / 2, 1e-6);
    near(answer.low, answer.logFactor + low, 1e-12);
    near(answer.high, answer.logFactor + high, 1e-12);
    // Calibration 4 %/2, what the series differ by, and next to nothing of the display.
    near(
      standardUncertainty,
      Math.hypot(
        0.02,
        combined.between.standardUncertainty,
        combined.repeatability?.standardUncertainty ?? 0,
      ),
      1e-5,
    );
    near(answer.standardUncertainty, standardUncertainty, 1e-12);
  });

  test('reaches from the lowest to the highest indication about their geometric mean', () => {
    expect(level.candidate_mW).toEqual([100, 110]);
    near(level.centre_mW, Math.sqrt(100 * 110), 1e-9);
    near(level.factor, Math.exp(answer.logFactor), 1e-12);
    near(level.low, Math.exp(answer.low), 1e-12);
    near(level.high, Math.exp(answer.high), 1e-12);
    expect(level.series).toEqual(['s0', 's1']);
  });

  test('tells what placement is in u, and the degrees of freedom of the rest', () => {
    near(
      level.placement_relative_standard_uncertainty,
      combined.between.standardUncertainty,
      1e-12,
    );
    // The rest is the calibration, known exactly, and no scatter.
    expect(level.rest_dof).toBeGreaterThan(1e5);
    expect(level.dof).toBeLessThan(1e5);
    near(level.own.relative_standard_uncertainty, level.relative_standard_uncertainty, 1e-12);
  });

  test('hands on a contradiction with its spread, and nothing where there is none', () => {
    expect(answer.contradiction).toBe(0.04);
    expect(
      oneLevel(638, members, { ...combined, contradicts: false }, input).contradiction,
    ).toBeNull();
    expect([answer.byPower.verdict, answer.byPower.p]).toEqual(['one-level', null]);
    expect(answer.next).toBe(combined.next);
  });

  test('is a whole record of its budget', () => {
    const coverage = coverageOfBudget(answer.inputs, 0.95);
    const rest = answer.inputs.filter(({ kind }) => kind !== 'between-series');
    const own = {
      factor: Math.exp(combined.logFactor),
      relative_standard_uncertainty: coverage.standardUncertainty,
      dof: coverage.dof,
      coverage_factor: coverage.coverageFactor,
    };
    expect(level).toEqual({
      ...own,
      candidate_mW: [100, 110],
      centre_mW: expect.closeTo(Math.sqrt(100 * 110), 9),
      low: Math.exp(answer.low),
      high: Math.exp(answer.high),
      placement_relative_standard_uncertainty: combined.between.standardUncertainty,
      rest_dof: combineContributed(rest).dof,
      own,
      series: ['s0', 's1'],
    });
    const { shape: _, ...first } = answer.inputs[0];
    expect(answer.budget[0]).toMatchObject(first);
    expect(answer.budget).toHaveLength(answer.inputs.length);
    expect(answer.budget[0]).not.toHaveProperty('shape');
    near(
      answer.budget.reduce((sum, { share }) => sum + share, 0),
      1,
      1e-9,
    );
    expect([answer.dof, answer.nm]).toEqual([coverage.dof, 638]);
    const { inputs, members } = answer;
    expect(answer.leastKnown).toEqual({ candidate_mW: null, members, inputs, half: coverage.high });
    expect(answer.missing.map(({ kind }) => kind)).toContain('zero');
  });

  test('of another confidence has another interval', () => {
    const half = oneLevel(638, members, combined, {
      ...input,
      study: { ...input.study, confidence: 0.5 },
    });
    near(half.high - half.logFactor, coverageOfBudget(answer.inputs, 0.5).high, 1e-12);
  });

  test('its centre is the geometric mean of its series, and of the range where none has a model', () => {
    const three = chapter([
      [100, 1.1],
      [110, 1.1],
      [110, 1.1],
    ]);
    const all = combineSeries(
      three.members.map(({ estimate }) => estimate),
      PLACED,
    );
    const centre = (of: typeof members) => oneLevel(638, of, all, three.input).levels[0].centre_mW;
    near(centre(three.members), (100 * 110 * 110) ** (1 / 3), 1e-9);
    const short = three.members.map((one) => ({
      ...one,
      analysis: { ...one.analysis, model: null },
    }));
    near(centre(short), Math.sqrt(100 * 110), 1e-9);
    // A series of which no range is known has no say in it.
    const [one, ...others] = three.members;
    const blank = { ...one.analysis, result: { ...one.analysis.result, candidate_range_mW: null } };
    expect(
      oneLevel(638, [{ ...one, analysis: blank }, ...others], all, three.input).levels[0]
        .candidate_mW,
    ).toEqual([110, 110]);
    expect(pointOf({ ...one, analysis: blank })).toEqual([]);
  });

  test('of series too short for a model has its centre in the middle of the range', () => {
    const short = members.map((one) => ({ ...one, analysis: { ...one.analysis, model: null } }));
    near(oneLevel(638, short, combined, input).levels[0].centre_mW, Math.sqrt(100 * 110), 1e-9);
  });
});

describe('two levels, K = 1.1 and 1.3', () => {
  const { members, input } = chapter([
    [10, 1.1],
    [100, 1.3],
    [101, 1.3],
  ]);
  const answer = severalLevels(638, members, PLACED, input);
  const [lower, upper] = answer.levels;

  test('stay where they are: the placement of 1 % does not make 17 %', () => {
    near(lower.factor, 1.1, 0.01);
    near(upper.factor, 1.3, 0.01);
    expect([lower.series, upper.series]).toEqual([['s0'], ['s1', 's2']]);
    expect(answer.byPower.verdict).toBe('differ');
    expect(answer.byPower.why).toMatch(/^K differs from level to level/);
  });

  test('have the calibration and their placement in u: one series 1 %, two 1 %/√2', () => {
    near(lower.own.relative_standard_uncertainty, Math.hypot(0.02, 0.01), 2e-4);
    near(upper.own.relative_standard_uncertainty, Math.hypot(0.02, 0.01 / Math.SQRT2), 2e-4);
    near(lower.own.factor, 1.1, 1e-6);
    near(upper.own.factor, 1.3, 1e-6);
    near(lower.placement_relative_standard_uncertainty, 0.01, 1e-3);
    expect(lower.placement_correlation_with_next).toBeTypeOf('number');
    expect(upper.placement_correlation_with_next).toBeUndefined();
  });

  test('lie within the interval of the wavelength, whose K is its middle', () => {
    expect(answer.low).toBeLessThanOrEqual(Math.log(lower.low) + 1e-12);
    expect(answer.high).toBeGreaterThanOrEqual(Math.log(upper.high) - 1e-12);
    near(answer.logFactor, (answer.low + answer.high) / 2, 1e-12);
    // Half of ln 1.3 − ln 1.1 as a rectangle is the change with the power.
    const power = answer.inputs.find((one) => one.kind === 'power');
    near(
      power?.relative_standard_uncertainty,
      Math.log(upper.factor / lower.factor) / 2 / Math.sqrt(3),
      1e-9,
    );
    expect([answer.betweenSd, answer.next]).toEqual([0.01, PLACED]);
  });

  test('that agree within themselves contradict nothing, and the worst of those that do is told', () => {
    expect(answer.contradiction).toBeNull();
    const torn = chapter([
      [10, 1.1],
      [10.1, 1.2],
      [100, 1.3],
      [101, 1.7],
    ]);
    const stated = { sd: 0.001, dof: 1e6, note: 'stated' };
    const found = severalLevels(638, torn.members, stated, torn.input).contradiction;
    // Two series: s² = (ln 1.7 − ln 1.3)²/2 with 1 degree of freedom, and twice 0.001² beside it
    const s2 = Math.log(1.7 / 1.3) ** 2 / 2;
    near(found, Math.sqrt((s2 + 2 * 0.001 ** 2) / 3), 1e-4);
  });

  test.each([
    // A coarse display leaves more at 10 mW; turned, at 100: the worse rest is what all places share.
    [{ candidate: { resolution_mW: 0.5 } }, PLACED, false],
    [{ candidate: { resolution_mW: 0.001 } }, { sd: 0.002, dof: 3, note: '' }, false],
    // A placement of few degrees of freedom: the exact distribution at a level reaches further than
    // Welch and Satterthwaite's on the curve.
    [{ candidate: { resolution_mW: 0.001 } }, { sd: 0.03, dof: 2, note: '' }, true],
  ])(
    'are each of their own budget, and the whole of that of the curve: %#',
    (changes, placed, further) => {
      const coarse = chapterOf(
        studyOf(
          [
            { id: 's0', nm: 638, laps: steady(11, 10) },
            { id: 's1', nm: 638, laps: steady(130, 100) },
            { id: 's2', nm: 638, laps: steady(131, 100.5) },
          ],
          { reference: REFERENCE, ...changes },
        ),
      );
      const found = severalLevels(638, coarse.members, placed, coarse.input);
      const curve = levelsOf(coarse.members.flatMap(pointOf), placed);
      const seating = 'scatter and placement of the level';
      const rests = found.levels.map((level, j) => {
        const own = coarse.members.filter(({ estimate }) => level.series.includes(estimate.id));
        const at = curve.levels[j];
        const line = (part: { standardUncertainty: number; dof: number }) => ({
          name: seating,
          kind: 'between-series' as const,
          relative_standard_uncertainty: part.standardUncertainty,
          dof: part.dof,
          type: 'A' as const,
          shape: 'student' as const,
          note: '',
        });
        const { inputs } = contributions(638, own, [line(at)], coarse.input);
        const others = inputs.filter(({ name }) => name !== seating);
        const coverage = coverageOfBudget(inputs, 0.95);
        const alone = coverageOfBudget([line(at.own), ...others], 0.95);
        expect(level).toEqual({
          candidate_mW: at.candidate_mW,
          centre_mW: at.centre_mW,
          factor: Math.exp(at.logFactor),
          low: Math.exp(at.logFactor + coverage.low),
          high: Math.exp(at.logFactor + coverage.high),
          relative_standard_uncertainty: coverage.standardUncertainty,
          dof: coverage.dof,
          coverage_factor: coverage.coverageFactor,
          placement_relative_standard_uncertainty: at.standardUncertainty,
          rest_dof: combineContributed(others).dof,
          ...(j === 0 ? { placement_correlation_with_next: at.correlationWithNext } : {}),
          own: {
            factor: Math.exp(at.own.logFactor),
            relative_standard_uncertainty: alone.standardUncertainty,
            dof: alone.dof,
            coverage_factor: alone.coverageFactor,
          },
          series: at.series,
        });
        return combineContributed(others);
      });
      const shared =
        rests[0].standardUncertainty > rests[1].standardUncertainty ? rests[0] : rests[1];
      const whole = wholeRange(curve, { shared, confidence: 0.95 });
      const ends = {
        low: Math.min(whole.low, ...found.levels.map(({ low }) => Math.log(low))),
        high: Math.max(whole.high, ...found.levels.map(({ high }) => Math.log(high))),
      };
      expect([whole.low > ends.low, whole.high < ends.high]).toEqual([further, further]);
      near(found.low, ends.low, 1e-12);
      near(found.high, ends.high, 1e-12);
      expect(found.inputs.slice(0, 2)).toEqual([
        {
          name: seating,
          kind: 'between-series',
          relative_standard_uncertainty: whole.standardUncertainty,
          dof: whole.dof,
          type: 'A',
          shape: 'student',
          note: 'the least known of 2 levels of power',
        },
        {
          name: 'change with the power',
          kind: 'power',
          relative_standard_uncertainty: whole.spread / Math.sqrt(3),
          dof: 1e6,
          type: 'B',
          shape: 'rectangular',
          note: expect.stringMatching(/^K changes by 1[57] % over /),
        },
      ]);
      const coverage = coverageOfBudget(found.inputs, 0.95);
      expect([found.standardUncertainty, found.dof]).toEqual([
        coverage.standardUncertainty,
        coverage.dof,
      ]);
      const [first, second] = found.levels;
      const widest = first.high / first.low > second.high / second.low ? first : second;
      expect(found.leastKnown.candidate_mW).toEqual(widest.candidate_mW);
      near(2 * found.leastKnown.half, Math.log(widest.high / widest.low), 1e-12);
      near(coverageOfBudget(found.leastKnown.inputs, 0.95).high, found.leastKnown.half, 1e-12);
      expect(found.leastKnown.members.map(({ estimate }) => estimate.id)).toEqual(widest.series);
      expect(found.byPower).toMatchObject({ ...curve.by_power, offset_mW: null });
    },
  );

  test('three levels that an offset of the candidate explains say so', () => {
    // The candidate shows 0.2 mW too little at every power: K = P/(P − 0.2)
    const off = chapter([5, 20, 80].map((mW) => [mW, (mW + 0.2) / mW] as const));
    const stated = { sd: 0.0005, dof: 1e6, note: '' };
    const { byPower } = severalLevels(638, off.members, stated, off.input);
    near(byPower.offset_mW, -0.2, 0.005);
    expect(byPower.why).toMatch(/an offset of the candidate of −0\.2\d? mW/);
    expect(answer.byPower.offset_mW).toBeNull();
    expect(answer.byPower.why).not.toContain('offset');
  });

  test('that agree are said to be drawn together', () => {
    const alike = chapter([
      [10, 1.2],
      [100, 1.201],
    ]);
    const { byPower } = severalLevels(638, alike.members, PLACED, alike.input);
    expect(byPower.verdict).toBe('not-shown');
    expect(byPower.why).toContain('drawn together');
  });
});
