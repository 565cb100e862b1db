import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  combineSeries,
  DEFAULT_BETWEEN_DOF,
  DEFAULT_BETWEEN_SERIES,
  pooledBetweenSeries,
  type SeriesEstimate,
} from '../../src/series/combineSeries.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { core } from '../statistics/core.js';

const estimate = (logFactor: number, u = 0.002, dof = 12): SeriesEstimate => ({
  id: String(logFactor),
  logFactor,
  standardUncertainty: u,
  dof,
});
const KNOWN = { sd: 0.01, dof: 8, note: 'test' };

test.each([
  ['a negative uncertainty', estimate(0.1, -0.002)],
  ['an uncertainty that is not a number', estimate(0.1, Number.NaN)],
  ['an uncertainty without bound', estimate(0.1, Number.POSITIVE_INFINITY)],
  ['no degree of freedom', estimate(0.1, 0.002, 0)],
  ['a factor that is not a number', { ...estimate(0.1), logFactor: Number.NaN }],
])('%s is refused', (_, wrong) => {
  const refused = expect.objectContaining({ code: 'argument-wrong' });
  for (const series of [[wrong], [wrong, estimate(0.11)], [estimate(0.11), estimate(0.1), wrong]]) {
    expect(() => combineSeries(series, KNOWN)).toThrow(refused);
  }
  expect(() => pooledBetweenSeries([[estimate(0.11), wrong]], null)).toThrow(refused);
});

test('a spread between series below zero is refused', () => {
  const refused = expect.objectContaining({ code: 'argument-wrong' });
  expect(() => combineSeries([estimate(0.1)], { ...KNOWN, sd: -0.01 })).toThrow(refused);
  expect(() => pooledBetweenSeries([[estimate(0.1)]], -0.01)).toThrow(refused);
});

describe('several series', () => {
  test('three and more combine as R does for thirteen trials: Paule–Mandel and Hartung–Knapp', () => {
    const tables = [
      [4, 119, 11, 128],
      [6, 300, 29, 274],
      [3, 228, 11, 209],
      [62, 13536, 248, 12619],
      [33, 5036, 47, 5761],
      [180, 1361, 372, 1079],
      [8, 2537, 10, 619],
      [505, 87886, 499, 87892],
      [29, 7470, 45, 7232],
      [17, 1699, 65, 1600],
      [186, 50448, 141, 27197],
      [5, 2493, 3, 2338],
      [27, 16886, 29, 17825],
    ] as const;
    const trials = tables.map(([a, b, c, d], i) => ({
      id: String(i),
      logFactor: Math.log(a / (a + b) / (c / (c + d))),
      standardUncertainty: Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
      dof: 1e6,
    }));
    const found = combineSeries(trials, KNOWN);
    const [between, mean, , hartungKnapp] = core('bcg.pm');
    near(found.logFactor, mean!, 1e-9);
    near(found.betweenSd ** 2, between!, 1e-9);
    near(found.between.standardUncertainty, hartungKnapp!, 1e-9);
    expect(found.between.dof).toBe(12);
    expect(found.repeatability).toBeNull();
  });

  test('two share what they show with the usual spread, which counts as two degrees of freedom', () => {
    const agree = combineSeries([estimate(0.1), estimate(0.101)], KNOWN);
    // Nothing shown beyond their scatter: √((0 + 2·1²)/3) %
    near(agree.betweenSd, Math.sqrt(2 / 3) * 0.01, 1e-12);
    near(agree.between.standardUncertainty, agree.betweenSd / Math.SQRT2, 1e-9);
    expect(agree.between.dof).toBe(3);
    near(agree.repeatability!.standardUncertainty, 0.002 / Math.SQRT2, 1e-9);
    near(agree.repeatability!.dof, 24, 1e-6);
    expect(agree.contradicts).toBe(false);
    const apart = combineSeries([estimate(0.1), estimate(0.15)], KNOWN);
    expect(apart.contradicts).toBe(true);
    // Paule and Mandel of two: half of the squared distance less what the scatter explains.
    near(apart.betweenSd, Math.sqrt((0.05 ** 2 / 2 - 0.002 ** 2 + 2 * 1e-4) / 3), 1e-9);
    expect(apart.next.sd).toBe(apart.betweenSd);
  });

  test('a stated spread is taken as known, until the series contradict it', () => {
    const stated = { sd: 0.005, dof: 1e6, note: 'stated' };
    for (const values of [
      [0.1, 0.104],
      [0.1, 0.104, 0.097],
    ]) {
      const found = combineSeries(
        values.map((y) => estimate(y)),
        stated,
      );
      near(found.between.standardUncertainty, 0.005 / Math.sqrt(values.length), 1e-9);
      expect(found.between.dof).toBe(1e6);
      expect(found.next).toEqual(stated);
    }
    const two = combineSeries([estimate(0.1), estimate(0.2)], stated);
    expect(two.contradicts).toBe(true);
    near(two.next.sd, Math.sqrt((0.1 ** 2 / 2 - 0.002 ** 2 + 2 * 0.005 ** 2) / 3), 1e-9);
  });

  test('one keeps its own uncertainty and takes the whole pooled spread', () => {
    const found = combineSeries([estimate(0.3, 0.004, 9)], KNOWN);
    expect(found).toMatchObject({
      logFactor: 0.3,
      repeatability: { standardUncertainty: 0.004, dof: 9 },
      between: { standardUncertainty: 0.01, dof: 8 },
    });
  });

  test('an uncertain one weighs less, by 1/(u² + s²)', () => {
    // 1/(0.002² + 0.005²) and 1/(0.01² + 0.005²) stand as 125 to 29.
    const stated = { sd: 0.005, dof: 1e6, note: 'stated' };
    const found = combineSeries([estimate(0.1), estimate(0.104, 0.01)], stated);
    near(found.logFactor, (125 * 0.1 + 29 * 0.104) / 154, 1e-12);
    near(found.repeatability!.standardUncertainty, Math.hypot(125 * 0.002, 29 * 0.01) / 154, 1e-12);
    near(found.between.standardUncertainty, (0.005 * Math.hypot(125, 29)) / 154, 1e-12);
  });

  test('say what their spread comes from, and what of it they show themselves', () => {
    const values = (...list: number[]) => list.map((y) => estimate(y));
    const two = combineSeries(values(0.1, 0.15), KNOWN).next;
    expect(two.note).toBe('two series and the usual 1 % together (1 and 2 dof)');
    near(two.shown!.squares, 0.05 ** 2 / 2 - 0.002 ** 2, 1e-12);
    expect(two.shown!.dof).toBe(1);
    const four = combineSeries(values(0.1, 0.14, 0.06, 0.12), KNOWN).next;
    expect(four.note).toBe('4 series and the usual 1 % together (3 and 0.5 dof)');
    const shown = { squares: 12 * 0.03 ** 2, dof: 12 };
    const others = combineSeries(values(0.1, 0.15), { ...KNOWN, usual: 0.01, shown }).next;
    expect(others.note).toBe(
      'two series, other repeated ones and the usual 1 % together (12 and 2 dof)',
    );
    expect(others.shown).toEqual(shown);
  });

  test('other repeated series speak for these where they know more, and only then', () => {
    const own = [0.1, 0.13, 0.07].map((y) => estimate(y));
    const pooled = (dof: number) => ({
      ...KNOWN,
      usual: 0.01,
      shown: { squares: dof * 0.03 ** 2, dof },
    });
    // s = 3 % as the others: that does not stand out, though so few reach further by themselves.
    expect(combineSeries(own, pooled(12)).next.dof).toBe(12.5);
    expect(combineSeries(own, pooled(2)).next.shown!.squares).not.toBe(2 * 0.03 ** 2);
  });

  test('the larger part of the knowledge of a spread names its type', () => {
    const type = (shown: number) =>
      combineSeries([estimate(0.1)], {
        ...KNOWN,
        dof: 20,
        shown: { squares: shown * 1e-4, dof: shown },
      });
    expect([type(9), type(10), type(11)].map((one) => one.between.type)).toEqual(['B', 'B', 'A']);
    expect(combineSeries([estimate(0.1)], KNOWN).between.type).toBe('B');
    expect(type(9).contradicts).toBe(false);
  });

  test('a further series is reckoned to differ as these do with half a degree of freedom of the usual spread', () => {
    const wide = combineSeries(
      [0.1, 0.14, 0.06, 0.12].map((y) => estimate(y)),
      KNOWN,
    );
    // By hand: (3 τ² + 0.5 d²) ÷ 3.5.
    near(wide.next.sd, Math.sqrt((3 * wide.betweenSd ** 2 + 0.5 * KNOWN.sd ** 2) / 3.5), 1e-12);
    expect(wide.next.dof).toBe(3.5);
    const close = combineSeries(
      [0.1, 0.101, 0.099].map((y) => estimate(y)),
      KNOWN,
    );
    near(close.next.sd, Math.sqrt((0.5 * KNOWN.sd ** 2) / 2.5), 1e-12);
    expect(close.next.dof).toBe(2.5);
  });

  test('three series that agree by chance take what other repeated series show, unless they stand out', () => {
    const close = [0.1, 0.101, 0.099].map((y) => estimate(y));
    const pooled = (squares: number, dof: number) => ({
      ...KNOWN,
      usual: 0.01,
      shown: { squares, dof },
    });
    // By hand: (12 · 0.03² + 0.5 · 0.01²) ÷ 12.5.
    const others = combineSeries(close, pooled(12 * 0.03 ** 2, 12)).next;
    near(others.sd, Math.sqrt((12 * 0.03 ** 2 + 0.5 * 0.01 ** 2) / 12.5), 1e-12);
    expect(others.dof).toBe(12.5);
    // Three that stand out among series that agree keep their own, with few degrees of freedom.
    const wide = [0.1, 0.16, 0.04].map((y) => estimate(y));
    expect(combineSeries(wide, pooled(12 * 0.005 ** 2, 14)).next.dof).toBe(2.5);
  });

  test.each([
    [1, 0.01],
    [2, 0.01],
    [5, 0.01],
    [5, 0.03],
    [8, 0.02],
  ])(
    'after %i series with a spread of %d a reading on another day is covered as claimed',
    (m, sd) => {
      const random = seededRandom(70 + m);
      const studies = 1500;
      let inside = 0;
      for (let i = 0; i < studies; i++) {
        const series = Array.from({ length: m }, () =>
          estimate(sd * random.normal() + 0.003 * random.normal(), 0.003, 20),
        );
        const found = combineSeries(series, pooledBetweenSeries([series], null));
        const parts = [
          { u: found.between.standardUncertainty, dof: found.between.dof },
          {
            u: found.repeatability?.standardUncertainty ?? 0,
            dof: found.repeatability?.dof ?? 1e6,
          },
          { u: found.next.sd, dof: found.next.dof },
        ];
        const u = Math.hypot(...parts.map((part) => part.u));
        const dof = u ** 4 / parts.reduce((sum, part) => sum + part.u ** 4 / part.dof, 0);
        const another = sd * random.normal();
        if (Math.abs(found.logFactor - another) <= coverageFactor(0.95, dof) * u) inside++;
      }
      // Welch–Satterthwaite takes spread and mean for independent, which they are not quite.
      expect(inside / studies).toBeGreaterThan(0.925);
      expect(inside / studies).toBeLessThan(0.998);
    },
  );

  test('the order of the series does not matter and the mean lies among them', () => {
    const one = fc.record({
      logFactor: fc.integer({ min: -200, max: 200 }).map((x) => x / 1000),
      u: fc.integer({ min: 1, max: 40 }).map((x) => x / 2000),
    });
    fc.assert(
      fc.property(fc.array(one, { minLength: 1, maxLength: 6 }), (list) => {
        const series = list.map(({ logFactor, u }) => estimate(logFactor, u));
        const found = combineSeries(series, KNOWN);
        const turned = combineSeries([...series].reverse(), KNOWN);
        near(turned.logFactor, found.logFactor, 1e-9);
        near(turned.between.standardUncertainty, found.between.standardUncertainty, 1e-9);
        const values = series.map((s) => s.logFactor);
        expect(found.logFactor).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(found.logFactor).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      }),
      { seed: 41, numRuns: 150 },
    );
  });

  test('series that repeat exactly give finite numbers', () => {
    const found = combineSeries([estimate(0.1, 0), estimate(0.1, 0), estimate(0.1, 0)], KNOWN);
    expect(Number.isFinite(found.between.standardUncertainty)).toBe(true);
    near(found.logFactor, 0.1, 1e-12);
  });

  test.each([2, 3, 5])(
    '%i series of one wavelength: the interval holds the truth in about 95 per cent',
    (m) => {
      const random = seededRandom(50 + m);
      const studies = 1500;
      let inside = 0;
      for (let i = 0; i < studies; i++) {
        const series = Array.from({ length: m }, () =>
          estimate(0.2 + 0.01 * random.normal() + 0.003 * random.normal(), 0.003, 20),
        );
        const pooled = pooledBetweenSeries([series], null);
        const { logFactor, between, repeatability } = combineSeries(series, pooled);
        const parts = [between, ...(repeatability === null ? [] : [repeatability])];
        const u = Math.hypot(...parts.map((part) => part.standardUncertainty));
        const dof =
          u ** 4 / parts.reduce((s, part) => s + part.standardUncertainty ** 4 / part.dof, 0);
        if (Math.abs(logFactor - 0.2) <= coverageFactor(0.95, dof) * u) inside++;
      }
      expect(inside / studies).toBeGreaterThan(0.93);
    },
  );
});

describe('the spread between series', () => {
  test('stated, it counts as known', () => {
    expect(pooledBetweenSeries([[estimate(0.1)]], 0.004)).toMatchObject({ sd: 0.004, dof: 1e6 });
  });

  test('with one series per wavelength it is the default', () => {
    const found = pooledBetweenSeries([[estimate(0.1)], [estimate(0.2)]], null);
    expect(found).toMatchObject({ sd: DEFAULT_BETWEEN_SERIES, dof: DEFAULT_BETWEEN_DOF });
    expect(found.note).toContain('default');
  });

  test('by hand: what repeated series show, and the usual spread with 8 degrees of freedom', () => {
    // Paule and Mandel of equal uncertainties: τ² = s² − u².
    const three = pooledBetweenSeries([[estimate(0), estimate(0.1), estimate(0.2)]], null);
    near(three.sd, Math.sqrt((2 * (0.01 - 4e-6) + 8 * 1e-4) / 10), 1e-9);
    expect(three.note).toBe('pooled from repeated series (2 dof) and the default of 1 % (8 dof)');
    const two = pooledBetweenSeries([[estimate(0.1), estimate(0.15)], [estimate(0)]], null);
    near(two.sd, Math.sqrt((0.05 ** 2 / 2 - 4e-6 + 8 * 1e-4) / 9), 1e-9);
    expect(two.dof).toBe(9);
  });

  test('the default goes by how the heads were put back', () => {
    const lone = (placement: 'jig' | 'by-hand' | null) =>
      pooledBetweenSeries([[estimate(0.1)]], null, placement);
    expect([lone('jig').sd, lone('by-hand').sd, lone(null).sd]).toEqual([0.005, 0.02, 0.01]);
    const why = 'no power was measured in more than one series';
    expect(lone('jig').note).toBe(`default (jig) of 0.5 %: ${why}`);
    expect(lone(null).note).toBe(`default of 1 %: ${why}`);
  });

  test('repeated series pull it towards what they show', () => {
    const wide = pooledBetweenSeries([[estimate(0), estimate(0.1), estimate(0.2)]], null);
    expect(wide.sd).toBeGreaterThan(0.03);
    expect(wide.dof).toBe(DEFAULT_BETWEEN_DOF + 2);
    // Equal series show none: (8 · 1 %² + 2 · 0)/10
    const same = pooledBetweenSeries([[estimate(0), estimate(0), estimate(0)]], null);
    near(same.sd, Math.sqrt((8 * 1e-4) / 10), 1e-12);
  });
});
