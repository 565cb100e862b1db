import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clusterByPower } from '../../src/power/clusterByPower.js';
import { levelsOf } from '../../src/power/levelsOf.js';
import { offsetOfLevels } from '../../src/power/offsetOfLevels.js';
import type { SeriesAtPower } from '../../src/power/powerLevels.js';
import { studentCdf } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { shrinkTowardsCommon } from '../../src/statistics/shrinkTowardsCommon.js';
import { near } from '../near.js';
import { DEFAULT, seriesAt } from './support.js';

const someSeries = fc
  .array(
    fc.record({
      power: fc.integer({ min: 0, max: 40 }).map((x) => 10 * 1.13 ** x),
      logFactor: fc.integer({ min: -100, max: 100 }).map((x) => x / 1000),
      u: fc.integer({ min: 1, max: 20 }).map((x) => x / 4000),
    }),
    { minLength: 1, maxLength: 7 },
  )
  .map((list) => list.map((x, i) => seriesAt(`s${i}`, x.power, x.logFactor, x.u)));

describe('which series are one level', () => {
  const cluster = (means: readonly number[]) =>
    clusterByPower(means.map((candidateMean_mW) => ({ candidateMean_mW }))).map((level) =>
      level.map((one) => one.candidateMean_mW),
    );

  test('up to 1.25 times the lowest of the level, and no chain of neighbours', () => {
    expect(cluster([1200, 20, 24, 25, 150])).toEqual([[20, 24, 25], [150], [1200]]);
    expect(cluster([100, 120, 144, 173])).toEqual([
      [100, 120],
      [144, 173],
    ]);
    expect(cluster([100, 125])).toEqual([[100, 125]]);
    expect(cluster([100, 125.1])).toEqual([[100], [125.1]]);
    expect(cluster([7])).toEqual([[7]]);
    expect(cluster([])).toEqual([]);
  });

  test.each([0, -3, Number.NaN, Number.POSITIVE_INFINITY])('not a power: %d', (mean) => {
    expect(() => cluster([100, mean])).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
  });
});

describe('two levels, by hand', () => {
  const found = levelsOf([seriesAt('high', 1000, 0.05), seriesAt('low', 100, 0.02)], DEFAULT);
  // u² = 0.002² + 0.01²; ν = u⁴/(0.002⁴/14 + 0.01⁴/8)
  const u = Math.sqrt(0.002 ** 2 + 0.01 ** 2);
  const dof = u ** 4 / (0.002 ** 4 / 14 + 0.01 ** 4 / 8);

  test('lowest power first; each level by itself carries its scatter and one placement', () => {
    expect(found.levels.map((level) => level.series)).toEqual([['low'], ['high']]);
    expect(found.levels[0]!.candidate_mW).toEqual([99, 101]);
    near(found.levels[0]!.centre_mW, 100, 1e-9);
    found.levels.forEach((level, j) => {
      near(level.own.logFactor, [0.02, 0.05][j]!, 1e-12);
      near(level.own.standardUncertainty, u, 1e-12);
      near(level.own.dof, dof, 1e-9);
      near(level.dof, dof, 1e-9);
    });
  });

  test('they differ by t with the degrees of freedom of the placement', () => {
    // With two levels F is the square of t = 0.03/(u√2).
    const p = 2 * studentCdf(-0.03 / (u * Math.SQRT2), dof);
    near(found.by_power.p, p, 1e-8);
    expect(found.by_power.verdict).toBe(p < 0.05 ? 'differ' : 'not-shown');
    expect(
      levelsOf([seriesAt('a', 100, 0.02), seriesAt('b', 1000, 0.12)], DEFAULT).by_power.verdict,
    ).toBe('differ');
  });

  test('drawn towards each other, and both by as much', () => {
    const [low, high] = found.levels;
    expect(low!.logFactor).toBeGreaterThan(0.02);
    near(low!.logFactor + high!.logFactor, 0.07, 1e-12);
    near(low!.standardUncertainty, high!.standardUncertainty, 1e-12);
    // 3 % apart with 1 % each: whether they are one value stays open, so nothing is gained.
    near(low!.standardUncertainty / u, 1, 0.03);
    const agreeing = levelsOf([seriesAt('a', 100, 0.02), seriesAt('b', 1000, 0.021)], DEFAULT);
    for (const level of agreeing.levels) {
      expect(level.standardUncertainty).toBeLessThan(0.92 * u);
      expect(level.standardUncertainty).toBeGreaterThan(u / Math.SQRT2);
    }
    expect(found.offset_mW).toBeNull();
  });

  test('with a correlation between neighbours, and none for the last', () => {
    const [low, high] = shrinkTowardsCommon([
      { value: 0.02, standardUncertainty: u },
      { value: 0.05, standardUncertainty: u },
    ]);
    near(
      found.levels[0]!.correlationWithNext,
      low!.covarianceWithNext / (low!.standardUncertainty * high!.standardUncertainty),
      1e-12,
    );
    near(found.levels[0]!.logFactor, low!.value, 1e-12);
    expect(found.levels[1]).not.toHaveProperty('correlationWithNext');
  });
});

test('levels of unequal weight differ by F with the fewest degrees of freedom', () => {
  // u² = s² + 0.01² with s = 0.002, 0.02, 0.01; weighted squares about the weighted mean q = 1.571759;
  // SciPy 1.17.1: stats.f.sf(q / 2, 2, 8.644896), the latter of the first by Welch and Satterthwaite
  const of = (order: readonly number[]) =>
    levelsOf(
      order.map((i) =>
        seriesAt(`${i}`, [20, 155, 1200][i]!, [0.02, 0.05, 0.03][i]!, [0.002, 0.02, 0.01][i]!),
      ),
      DEFAULT,
    ).by_power;
  for (const order of [
    [0, 1, 2],
    [2, 1, 0],
  ]) {
    near(of(order).p, 0.4857478261576138, 1e-8);
    expect(of(order).verdict).toBe('not-shown');
  }
});

describe('one level', () => {
  test('of one series is that series with its placement', () => {
    const { levels, by_power, offset_mW } = levelsOf([seriesAt('a', 100, 0.05)], DEFAULT);
    expect(levels).toHaveLength(1);
    near(levels[0]!.logFactor, 0.05, 1e-12);
    near(levels[0]!.standardUncertainty, Math.hypot(0.002, 0.01), 1e-12);
    expect([by_power, offset_mW]).toEqual([{ verdict: null, p: null }, null]);
    expect(levels[0]!.own.logFactor).toBe(levels[0]!.logFactor);
    expect(levels[0]).not.toHaveProperty('correlationWithNext');
  });
});

describe('series of one level among others', () => {
  test('two that agree halve the placement’s variance', () => {
    const { levels } = levelsOf(
      [seriesAt('a', 100, 0.02), seriesAt('b', 101, 0.022), seriesAt('c', 1000, 0.02)],
      DEFAULT,
    );
    near(levels[0]!.own.logFactor, 0.021, 1e-12);
    near(levels[0]!.own.standardUncertainty, Math.sqrt((0.002 ** 2 + 0.01 ** 2) / 2), 1e-12);
  });

  test('its place is the geometric mean, its range that of all its indications', () => {
    const { levels } = levelsOf([seriesAt('a', 100, 0.02), seriesAt('b', 121, 0.022)], DEFAULT);
    expect(levels).toHaveLength(1);
    near(levels[0]!.centre_mW, 110, 1e-9);
    expect(levels[0]!.candidate_mW).toEqual([99, 1.01 * 121]);
    expect(levels[0]!.series).toEqual(['a', 'b']);
  });

  test('two that contradict each other beyond the placement show their own spread', () => {
    const { levels } = levelsOf(
      [seriesAt('a', 100, 0), seriesAt('b', 101, 0.1), seriesAt('c', 1000, 0.02)],
      DEFAULT,
    );
    // Standard error of two values d apart: d/2, one degree of freedom
    near(levels[0]!.own.standardUncertainty, 0.05, 1e-9);
    expect(levels[0]!.own.dof).toBe(1);
  });
});

describe('properties', () => {
  test('the order of the series does not matter, each is in one level, and levels rise', () => {
    fc.assert(
      fc.property(someSeries, (series) => {
        const found = levelsOf(series, DEFAULT);
        const turned = levelsOf([...series].reverse(), DEFAULT);
        expect(turned.levels.flatMap((level) => level.series).sort()).toEqual(
          series.map((one) => one.id).sort(),
        );
        expect(found.levels.length).toBe(turned.levels.length);
        found.levels.forEach((level, j) => {
          near(turned.levels[j]!.logFactor, level.logFactor, 1e-9);
          near(turned.levels[j]!.standardUncertainty, level.standardUncertainty, 1e-9);
          if (j > 0) expect(level.centre_mW).toBeGreaterThan(found.levels[j - 1]!.centre_mW);
        });
      }),
      { seed: 44, numRuns: 150 },
    );
  });

  test('all powers times a thousand: the same factors, the offset times a thousand', () => {
    const truth = (c: number) => Math.log1p(-1.5 / c);
    const at = (scale: number) =>
      levelsOf(
        [21.5, 156, 1200].map((c, i) => seriesAt(`${i}`, scale * c, truth(c))),
        DEFAULT,
      );
    const [small, large] = [at(1), at(1000)];
    expect(small.offset_mW).not.toBeNull();
    near(large.offset_mW! / small.offset_mW!, 1000, 1e-4);
    small.levels.forEach((level, j) => {
      near(large.levels[j]!.logFactor, level.logFactor, 1e-9);
      near(large.levels[j]!.standardUncertainty, level.standardUncertainty, 1e-9);
    });
  });
});

describe('the offset that levels show', () => {
  test('is that of SciPy’s least squares', () => {
    const { c, y, u, offset } = JSON.parse(
      readFileSync(new URL('../fixtures/powerLevels.json', import.meta.url), 'utf8'),
    ).offset as { c: number[]; y: number[]; u: number[]; offset: number };
    const found = offsetOfLevels(
      c.map((centre_mW, i) => ({
        centre_mW,
        logFactor: y[i]!,
        standardUncertainty: u[i]!,
        dof: 8,
      })),
    );
    near(found, offset, 1e-6);
  });

  const at = (powers: readonly number[], truth: (c: number) => number, dof = 8) =>
    offsetOfLevels(
      powers.map((centre_mW) => ({
        centre_mW,
        logFactor: truth(centre_mW),
        standardUncertainty: 0.01,
        dof,
      })),
    );

  test.each([1.5, -1.5, 4])('of %d mW without noise is found as it is', (offset) => {
    near(
      at([20, 155, 1200], (c) => 0.1 + Math.log1p(-offset / c)),
      offset,
      1e-6,
    );
  });

  test('not by two levels, not by a trend in ln power, not by a bend at the top, not by nothing', () => {
    expect(at([20, 1200], (c) => Math.log1p(-1.5 / c))).toBeNull();
    expect(at([20, 155, 1200], (c) => 0.04 * Math.log10(c))).toBeNull();
    expect(at([20, 155, 1200], (c) => (c > 1000 ? 0.06 : 0))).toBeNull();
    expect(at([20, 155, 1200], () => 0.1)).toBeNull();
  });

  test('more than a quarter of the lowest indication is none', () => {
    expect(at([20, 155, 1200], (c) => Math.log1p(-4.9 / c))).not.toBeNull();
    expect(at([20, 155, 1200], (c) => Math.log1p(-5.1 / c))).toBeNull();
    expect(at([20, 155, 1200], (c) => Math.log1p(4.9 / c))).not.toBeNull();
    expect(at([20, 155, 1200], (c) => Math.log1p(5.1 / c))).toBeNull();
    for (const size of [-0.9, 0.9, -5, 5]) {
      expect(at([20, 155, 1200], (c) => (size * 20) / c)).toBeNull();
    }
  });

  // Without noise, u = 0.01: SciPy 1.17.1, optimize.brentq for the offset that equals t(0.975, ν) times
  // its standard error (optimize.least_squares). 0.5870925 and −0.6260303 for ν = 8, 0.5013269 for 1e6,
  // 2.8399209 for 1.
  test.each([
    [0.586, 8, false],
    [0.588, 8, true],
    [-0.625, 8, false],
    [-0.627, 8, true],
    [0.5, 1e6, false],
    [0.503, 1e6, true],
    [2.83, 1, false],
    [2.85, 1, true],
  ])('%d mW with ν = %d is beyond its interval: %s', (offset, dof, shown) => {
    const found = at([20, 155, 1200], (c) => 0.1 + Math.log1p(-offset / c), dof);
    if (shown) near(found, offset, 1e-6);
    else expect(found).toBeNull();
  });

  test('the level that is known worst lends its degrees of freedom', () => {
    const of = (dofs: readonly number[]) =>
      offsetOfLevels(
        [20, 155, 1200].map((centre_mW, j) => ({
          centre_mW,
          logFactor: Math.log1p(-2 / centre_mW),
          standardUncertainty: 0.01,
          dof: dofs[j]!,
        })),
      );
    near(of([8, 1e6, 1e6]), 2, 1e-6);
    expect([of([1, 1e6, 1e6]), of([1e6, 1, 1e6]), of([1e6, 1e6, 1])]).toEqual([null, null, null]);
  });

  // The middle level off by r from an offset of 2 mW. SciPy as above: F at its 5 % for r = 0.0310613 with
  // ν = 8 and 0.0263991 with 1e6, where a straight line is worse; that line fits as well at r = −0.0212150.
  test.each([
    [0.0309, 8, true],
    [0.0312, 8, false],
    [0.0262, 1e6, true],
    [0.0266, 1e6, false],
    [-0.021, 8, true],
    [-0.0214, 8, false],
  ])('what it leaves, %d with ν = %d, is no more than scatter: %s', (rest, dof, shown) => {
    const truth = (c: number) => 0.1 + Math.log1p(-2 / c) + (c === 155 ? rest : 0);
    expect(at([20, 155, 1200], truth, dof) !== null).toBe(shown);
  });

  test('with four levels two are left to judge by', () => {
    // SciPy as above, both inner levels off by r to either side of 4 mW: F(2, 8) at its 5 % for 0.0213223
    const of = (r: number) =>
      at([20, 80, 300, 1200], (c) => Math.log1p(-4 / c) + (c === 80 ? r : c === 300 ? -r : 0));
    expect(of(0.0212)).not.toBeNull();
    expect(of(0.0214)).toBeNull();
  });

  test('without one it is seen in no more than 5 of 100', () => {
    const random = seededRandom(45);
    let shown = 0;
    for (let i = 0; i < 1000; i++) {
      if (at([20, 155, 1200], () => 0.01 * random.normal(), 1e6) !== null) shown++;
    }
    expect(shown / 1000).toBeLessThan(0.05 + 2 * Math.sqrt((0.05 * 0.95) / 1000));
    expect(shown).toBeGreaterThan(0);
  });
});

describe('awkward input', () => {
  const finite = (series: readonly SeriesAtPower[], placement = DEFAULT) => {
    const found = levelsOf(series, placement);
    const numbers = found.levels.flatMap((level) => [
      level.logFactor,
      level.standardUncertainty,
      level.dof,
      ...level.candidate_mW,
      ...Object.values(level.own),
    ]);
    expect(numbers.every(Number.isFinite)).toBe(true);
    return found;
  };

  test('series that repeat exactly, with a placement of nothing', () => {
    const exact = [20, 150, 1200].map((power, i) => seriesAt(`${i}`, power, 0.1, 0));
    const { levels } = finite(exact, { sd: 0, dof: 1e6 });
    near(levels[1]!.logFactor, 0.1, 1e-12);
    finite(
      exact.map((one, i) => ({ ...one, logFactor: i / 10 })),
      { sd: 0, dof: 1e6 },
    );
    finite([...exact, ...exact], { sd: 0, dof: 1e6 });
    finite(exact.slice(0, 1), { sd: 0, dof: 1e6 });
  });

  test('indications that overlap between levels', () => {
    const wide = { ...seriesAt('a', 100, 0.1), candidateRange_mW: [60, 400] as const };
    const { levels } = finite([wide, seriesAt('b', 130, 0.1)]);
    expect(levels.map((level) => level.series)).toEqual([['a'], ['b']]);
  });

  test.each([
    ['no series', [], 'too-few-values'],
    ['a factor that is none', [seriesAt('a', 100, Number.NaN)], 'argument-wrong'],
    ['an uncertainty below 0', [seriesAt('a', 100, 0, -0.1)], 'argument-wrong'],
    ['no degrees of freedom', [seriesAt('a', 100, 0, 0.1, 0)], 'argument-wrong'],
    ['a power of 0', [{ ...seriesAt('a', 100, 0), candidateMean_mW: 0 }], 'argument-wrong'],
    [
      'a range from 0',
      [{ ...seriesAt('a', 100, 0), candidateRange_mW: [0, 1] as const }],
      'argument-wrong',
    ],
    [
      'a range without end',
      [{ ...seriesAt('a', 100, 0), candidateRange_mW: [1, Number.POSITIVE_INFINITY] as const }],
      'argument-wrong',
    ],
    [
      'a range upside down',
      [{ ...seriesAt('a', 100, 0), candidateRange_mW: [2, 1] as const }],
      'argument-wrong',
    ],
  ] as const)('%s', (_, series, code) => {
    expect(() => levelsOf(series, DEFAULT)).toThrow(expect.objectContaining({ code }));
  });

  test('one indication is a range', () => {
    const steady = { ...seriesAt('a', 100, 0), candidateRange_mW: [100, 100] as const };
    expect(levelsOf([steady], DEFAULT).levels[0]!.candidate_mW).toEqual([100, 100]);
  });

  test.each([0, -1, Number.NaN])('a placement with %d degrees of freedom', (dof) => {
    expect(() => levelsOf([seriesAt('a', 100, 0)], { sd: 0.01, dof })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test.each([-1, Number.NaN])('a placement of %d', (sd) => {
    expect(() => levelsOf([seriesAt('a', 100, 0)], { sd, dof: 8 })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});
