import { describe, expect, test } from 'vitest';
import { coverageOfBudget } from '../../src/budget/coverageOfBudget.js';
import { combineSeries } from '../../src/series/combineSeries.js';
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
