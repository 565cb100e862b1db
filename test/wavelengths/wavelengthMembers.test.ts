import { describe, expect, test } from 'vitest';
import { contradiction, member, singleLaps } from '../../src/wavelengths/wavelengthMembers.js';
import { steadyLaps, studyWith } from '../analyse/studies.js';
import { analysed, chapterOf } from '../analysed.js';
import { near } from '../near.js';
import { studyOf } from '../seriesStudy.js';

describe('a series with a factor', () => {
  const [whole] = chapterOf(studyWith([{ id: 'a', laps: steadyLaps(8) }])).series;
  const plain = whole.parts?.factor.relative_standard_uncertainty ?? 0;
  const scatter = whole.parts?.scatter ?? { standardUncertainty: 0, dof: 0 };
  const with_ = (changes: object) => ({
    ...whole,
    result: { ...whole.result, factor: { ...whole.result.factor, ...changes } },
  });

  test('speaks by ln K and by the scatter of its runs', () => {
    const [found] = member(with_({ relative_standard_uncertainty: plain, value: 1.25 }));
    expect(found.estimate).toEqual({
      id: 'a',
      logFactor: Math.log(1.25),
      standardUncertainty: scatter.standardUncertainty,
      dof: scatter.dof,
    });
    expect(scatter.standardUncertainty).toBeGreaterThan(0);
  });

  test('that a cold start made three times less sure scatters three times as much', () => {
    const [found] = member(with_({ relative_standard_uncertainty: 3 * plain }));
    near(found.estimate.standardUncertainty, 3 * scatter.standardUncertainty, 1e-15);
  });

  test('that repeats exactly has no scatter to widen', () => {
    const still = {
      ...whole,
      parts: {
        factor: { ...whole.result.factor, relative_standard_uncertainty: 0 },
        scatter: { standardUncertainty: 0, dof: 7 },
        rounding: { reference: 0, candidate: 0 },
      },
    };
    expect(member(still)[0].estimate.standardUncertainty).toBe(0);
  });

  test('is none without its factor, its uncertainty or its parts', () => {
    expect(member(with_({ value: null }))).toEqual([]);
    expect(member(with_({ relative_standard_uncertainty: null }))).toEqual([]);
    expect(member({ ...whole, parts: null })).toEqual([]);
  });
});

describe('series of a lap', () => {
  const K = [1.1, 1.2, 1.3];
  const { series } = chapterOf(
    studyOf(K.map((k, i) => ({ id: `s${i}`, nm: 638, laps: [[100 * k, 100]] as const }))),
  );

  test('speak together from three on: mean of ln K, s ÷ √3, 2 degrees of freedom', () => {
    const logs = K.map(Math.log);
    const mean = (logs[0] + logs[1] + logs[2]) / 3;
    const sd = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 2);
    const found = singleLaps(series);
    near(found?.combined.logFactor, mean, 1e-12);
    near(found?.combined.between.standardUncertainty, sd / Math.sqrt(3), 1e-12);
    near(found?.combined.betweenSd, sd, 1e-12);
    near(found?.combined.next.sd, sd, 1e-12);
    expect([found?.combined.between.dof, found?.combined.next.dof]).toEqual([2, 2]);
    expect([found?.combined.repeatability, found?.combined.contradicts]).toEqual([null, false]);
    expect(found?.members.map(({ estimate }) => Math.exp(estimate.logFactor))).toEqual(
      K.map((k) => Math.exp(Math.log(k))),
    );
  });

  test('two of them do not, and one without a lap is none of them', () => {
    expect(singleLaps(series.slice(1))).toBeNull();
    expect(singleLaps([...series.slice(1), { ...series[0], laps: [] }])).toBeNull();
  });

  test('of two laps speaks by the mean of both', () => {
    const laps = [...series[0].laps, ...series[2].laps];
    const [first] = singleLaps([{ ...series[0], laps }, ...series.slice(1)])?.members ?? [];
    near(first.estimate.logFactor, (Math.log(1.1) + Math.log(1.3)) / 2, 1e-12);
  });
});

describe('series that contradict each other', () => {
  const at = (id: string, top: number, K: number) => {
    const analysis = analysed({ id, reference_range_mW: [0.9 * top, top] });
    const estimate = { id, logFactor: Math.log(K), standardUncertainty: 0.001, dof: 5 };
    return { analysis, estimate };
  };

  test('differ by the largest K over the least', () => {
    const { code, message } = contradiction(638, [
      at('a', 10, 1.32),
      at('b', 10, 1.1),
      at('c', 10, 1.2),
    ]);
    expect(code).toBe('series-contradict');
    expect(message).toMatch(/^At 638 nm the series differ by 20 %/);
    expect(message).toContain('at about the same power');
  });

  test('may do so by their power: largest at the top, as of a warm heat sink', () => {
    const { message } = contradiction(638, [at('a', 100, 1.2), at('b', 10, 1), at('c', 50, 1.1)]);
    expect(message).toContain('The factor is largest at the highest power');
  });

  test('or otherwise', () => {
    const { message } = contradiction(638, [at('a', 100, 1.1), at('b', 10, 1), at('c', 50, 1.2)]);
    expect(message).toContain('at different powers, which may be the reason');
  });

  test('are apart in power beyond half as much again', () => {
    expect(contradiction(638, [at('a', 15, 1.2), at('b', 10, 1)]).message).toContain(
      'about the same',
    );
    expect(contradiction(638, [at('a', 15.1, 1.2), at('b', 10, 1)]).message).toContain(
      'highest power',
    );
  });
});
