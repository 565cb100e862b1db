import { describe, expect, test } from 'vitest';
import { factorAtPower } from '../../src/power/factorAtPower.js';
import { highestFactorAt } from '../../src/power/highestFactorAt.js';
import { levelsOf } from '../../src/power/levelsOf.js';
import { wholeRange } from '../../src/power/wholeRange.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { near } from '../near.js';
import { bothWays, DEFAULT, levelAt, seriesAt } from './support.js';

/** From 100 to 300 mW ln K rises from 0.02 to 0.06. */
const curve = {
  levels: [levelAt(100, 0.02, 0.01, 8), levelAt(300, 0.06, 0.014, 20)],
  offset_mW: null,
};

describe('between two levels, by hand', () => {
  test('half of the way: the middle, and three eighths of |Δ|·ln 3 left open', () => {
    const at = factorAtPower(curve, Math.sqrt(100 * 300))!;
    near(at.logFactor, 0.04, 1e-12);
    near(at.standardUncertainty, 0.012, 1e-12);
    // 1/ν = (1/8 + 1/20)/2
    near(at.dof, 2 / (1 / 8 + 1 / 20), 1e-9);
    near(at.between, 0.04 * 3 * 0.5 * Math.log(3) * 0.25, 1e-12);
    expect(at.outside).toBe(0);
  });

  test('what each level has alone averages out, what both share does not', () => {
    const halfWay = (correlationWithNext?: number) =>
      factorAtPower(
        {
          levels: [
            { ...levelAt(100, 0.02, 0.01, 8), correlationWithNext },
            levelAt(300, 0.06, 0.014, 20),
          ],
          offset_mW: null,
        },
        Math.sqrt(100 * 300),
      )!.standardUncertainty;
    near(halfWay(0), Math.hypot(0.01, 0.014) / 2, 1e-12);
    near(halfWay(1), 0.012, 1e-12);
    // JCGM 100:2008, 5.2.2: u² = (u₁² + u₂² + 2·r·u₁·u₂)/4
    near(halfWay(0.5), Math.sqrt(0.01 ** 2 + 0.014 ** 2 + 0.01 * 0.014) / 2, 1e-12);
    near(halfWay(), 0.012, 1e-12);
  });

  test('at a level nothing is left open, and the factor is that of the level', () => {
    for (const level of curve.levels) {
      const at = factorAtPower(curve, level.centre_mW)!;
      near(at.logFactor, level.logFactor, 1e-12);
      near(at.standardUncertainty, level.standardUncertainty, 1e-12);
      near(at.between, 0, 1e-12);
    }
  });

  test('a change in proportion to the power, or to 1/power, lies within; so does a bend that sets in at a third of the highest', () => {
    for (const top of [300, 1000, 6000]) {
      const wide = { levels: [levelAt(100, 0), levelAt(top, 0.06)], offset_mW: null };
      const ways = [
        (c: number) => (0.06 * (c - 100)) / (top - 100),
        (c: number) => (0.06 * (1 - 100 / c)) / (1 - 100 / top),
        (c: number) => (0.06 * Math.max(0, c - top / 3)) / (top - Math.max(100, top / 3)),
      ];
      for (let i = 1; i < 40; i++) {
        const c = 100 * (top / 100) ** (i / 40);
        const at = factorAtPower(wide, c)!;
        for (const way of ways) {
          expect(Math.abs(way(c) - at.logFactor)).toBeLessThanOrEqual(at.between + 1e-12);
        }
      }
    }
  });

  test('levels a factor of 60 apart leave open no more than the span of both', () => {
    const far = { levels: [levelAt(20, 0), levelAt(1200, 0.06)], offset_mW: null };
    near(factorAtPower(far, Math.sqrt(20 * 1200))!.between, 0.03, 1e-12);
  });

  test.each([0.25, 0.75])('nor elsewhere than half way, at %d of it: the longer part', (part) => {
    const far = { levels: [levelAt(20, 0.06), levelAt(1200, 0)], offset_mW: null };
    const at = factorAtPower(far, 20 * 60 ** part)!;
    near(at.between, 0.06 * 0.75, 1e-12);
    near(at.logFactor, 0.06 * (1 - part), 1e-12);
  });

  test('of three levels the two neighbours count, a quarter of the way up', () => {
    const three = {
      levels: [
        levelAt(10, 0.5, 0.3, 2),
        levelAt(100, 0.02, 0.01, 8),
        levelAt(300, 0.06, 0.014, 20),
      ],
      offset_mW: null,
    };
    const at = factorAtPower(three, 100 * 3 ** 0.25)!;
    near(at.logFactor, 0.75 * 0.02 + 0.25 * 0.06, 1e-12);
    near(at.standardUncertainty, 0.75 * 0.01 + 0.25 * 0.014, 1e-12);
    near(at.dof, 1 / (0.75 / 8 + 0.25 / 20), 1e-9);
    near(at.between, 0.04 * 1.5 * Math.log(3) * 0.25 * 0.75, 1e-12);
    near(factorAtPower(three, 10 * 10 ** 0.5)!.logFactor, 0.26, 1e-12);
  });

  test('errors that undo each other leave nothing, not a root of rounding below 0', () => {
    const opposite = {
      levels: [{ ...levelAt(100, 0, 0.1), correlationWithNext: -1 }, levelAt(300, 0, 0.1)],
      offset_mW: null,
    };
    near(factorAtPower(opposite, Math.sqrt(100 * 300))!.standardUncertainty, 0, 1e-9);
    // (0.75 − 0.25)·0.1
    near(factorAtPower(opposite, 100 * 3 ** 0.25)!.standardUncertainty, 0.05, 1e-12);
  });

  test('along an offset that is shown nothing is left open', () => {
    const offset = 1.5;
    const along = {
      levels: [20, 155, 1200].map((c) => levelAt(c, 0.1 + Math.log1p(-offset / c))),
      offset_mW: offset,
    };
    for (const c of [22, 55, 400, 900]) {
      const at = factorAtPower(along, c)!;
      near(at.logFactor, 0.1 + Math.log1p(-offset / c), 1e-12);
      near(at.between, 0, 1e-12);
    }
    const straight = factorAtPower({ ...along, offset_mW: null }, 55)!;
    expect(Math.abs(straight.logFactor - 0.1 - Math.log1p(-offset / 55))).toBeGreaterThan(0.01);
    expect(straight.between).toBeGreaterThan(0.025);
  });
});

describe('below the lowest and above the highest', () => {
  test('by hand: the factor of the level, and what may go on', () => {
    const at = factorAtPower(curve, 450)!;
    near(at.logFactor, 0.06, 1e-12);
    // d = 450/300 − 1; Δ = 0.04, r = 3
    near(at.outside, 0.5 * ((3 * 0.04) / (1 - 1 / 3) + 0.02), 1e-12);
    near(factorAtPower(curve, 50)!.outside, (3 * 0.04) / (1 - 1 / 3) + 0.02, 1e-12);
    near(
      factorAtPower({ levels: [levelAt(100, 0.1)], offset_mW: null }, 80)!.outside,
      0.25 * 0.02,
      1e-12,
    );
  });

  test('of three levels the outermost with its neighbour, by hand', () => {
    const three = [levelAt(10, 0.5, 0.03, 5), levelAt(100, 0.1, 0.02, 6), levelAt(300, 0, 0.01, 7)];
    const at = (c: number) => factorAtPower({ levels: three, offset_mW: null }, c);
    expect(at(450)).toMatchObject({ logFactor: 0, standardUncertainty: 0.01, dof: 7, between: 0 });
    near(at(450)!.outside, 0.5 * ((3 * 0.1) / (1 - 1 / 3) + 0.02), 1e-12);
    expect(at(8)).toMatchObject({ logFactor: 0.5, standardUncertainty: 0.03, dof: 5, between: 0 });
    near(at(8)!.outside, 0.25 * ((3 * 0.4) / (1 - 1 / 10) + 0.02), 1e-12);
    // The lowest and the highest indication of all levels, whichever of them saw it
    const wide = three.map((one, j) =>
      j === 1 ? { ...one, candidate_mW: [4, 900] as const } : one,
    );
    const within = (c: number) => factorAtPower({ levels: wide, offset_mW: null }, c);
    expect(within(4)).toMatchObject({ logFactor: 0.5, outside: 0 });
    expect(within(900)).toMatchObject({ logFactor: 0, outside: 0 });
    near(within(2)!.outside, (3 * 0.4) / (1 - 1 / 10) + 0.02, 1e-12);
    expect([within(1.99), within(1800.1)]).toEqual([null, null]);
  });

  test('down to half and up to twice, beyond there is none', () => {
    expect(factorAtPower(curve, 50)).not.toBeNull();
    expect(factorAtPower(curve, 49.9)).toBeNull();
    expect(factorAtPower(curve, 600)).not.toBeNull();
    expect(factorAtPower(curve, 601)).toBeNull();
    expect(
      highestFactorAt(
        bothWays({ ...curve, levels: curve.levels.map((l) => ({ ...l, own: l, series: [] })) }),
        601,
      ),
    ).toBeNull();
  });

  test('none where the offset is all that is shown', () => {
    const wide = { ...levelAt(20, 0), candidate_mW: [8, 30] as const };
    expect(factorAtPower({ levels: [wide], offset_mW: 5 }, 5)).toBeNull();
    expect(factorAtPower({ levels: [wide], offset_mW: 5 }, 6)).not.toBeNull();
  });

  test('within the indications of the outermost level nothing is added', () => {
    const wide = {
      levels: [{ ...levelAt(100, 0.1), candidate_mW: [80, 125] as const }],
      offset_mW: null,
    };
    for (const c of [80, 99, 125])
      expect(factorAtPower(wide, c)).toMatchObject({ logFactor: 0.1, outside: 0 });
    expect(factorAtPower(wide, 126)!.outside).toBeGreaterThan(0);
  });

  test('a shown offset goes on, and half of it is doubted', () => {
    const offset = 2;
    const along = {
      levels: [20, 200, 2000].map((c) => levelAt(c, Math.log1p(-offset / c))),
      offset_mW: offset,
    };
    const at = factorAtPower(along, 10)!;
    near(at.logFactor, Math.log1p(-0.2), 1e-12);
    near(at.outside, (0.5 * (Math.log1p(-0.01) - Math.log1p(-0.1))) / 0.9 + 0.02, 1e-12);
    // Above: ln K of the offset falls off; what the levels change beside it counts three times
    const beside = along.levels.map((one, j) => ({ ...one, logFactor: one.logFactor - 0.01 * j }));
    const above = factorAtPower({ levels: beside, offset_mW: offset }, 3000)!;
    near(above.logFactor, -0.02 + Math.log1p(-2 / 3000), 1e-12);
    const ofOffset = Math.log1p(-0.001) - Math.log1p(-0.01);
    near(above.outside, 0.5 * ((3 * 0.01 + 0.5 * ofOffset) / 0.9 + 0.02), 1e-12);
  });
});

describe('for the whole range', () => {
  test('one level: its own interval', () => {
    const found = wholeRange({ levels: [levelAt(100, 0.1, 0.01, 8)], offset_mW: null });
    near(found.logFactor, 0.1, 1e-12);
    near(found.high, 0.1 + coverageFactor(0.95, 8) * 0.01, 1e-9);
    near(found.low, 0.1 - coverageFactor(0.95, 8) * 0.01, 1e-9);
    expect([found.spread, found.standardUncertainty, found.dof]).toEqual([0, 0.01, 8]);
    // What all share: √(0.01² + 0.02²), ν = u⁴/(0.01⁴/8)
    const u = Math.hypot(0.01, 0.02);
    const wider = wholeRange(
      { levels: [levelAt(100, 0.1, 0.01, 8)], offset_mW: null },
      { shared: { standardUncertainty: 0.02, dof: 1e6 }, confidence: 0.9 },
    );
    near(wider.high - 0.1, coverageFactor(0.9, u ** 4 / (0.01 ** 4 / 8)) * u, 1e-9);
  });

  test('holds the interval of each level, and what all share widens it', () => {
    const found = wholeRange(curve);
    for (const level of curve.levels) {
      const half = coverageFactor(0.95, level.dof) * level.standardUncertainty;
      expect(found.low).toBeLessThanOrEqual(level.logFactor - half + 1e-12);
      expect(found.high).toBeGreaterThanOrEqual(level.logFactor + half - 1e-12);
    }
    near(found.spread, 0.02, 1e-12);
    near(found.standardUncertainty, 0.014, 1e-12);
    const shared = wholeRange(curve, { shared: { standardUncertainty: 0.01, dof: 1e6 } });
    expect(shared.high - shared.low).toBeGreaterThan(found.high - found.low);
    expect(wholeRange(curve, { confidence: 0.99 }).high).toBeGreaterThan(found.high);
  });
});

describe('for the whole range, by hand', () => {
  test('exact levels far apart: what is open between them reaches beyond both', () => {
    // ln 60 = 4.094: 3·½ ln 60·t(1 − t) at t = 7/8 is 0.67171, at 6/8 above the 0.75 that K may span.
    // So the highest of the eighths is 7/8 + 0.95·0.67171, and as much below the lowest: a rectangular
    // contribution alone has its 95 % within 0.95 of its half-width.
    const far = { levels: [levelAt(20, 0, 0), levelAt(1200, 0.06, 0)], offset_mW: null };
    const reach = (confidence: number) => 7 / 8 + confidence * 1.5 * Math.log(60) * (7 / 64);
    const found = wholeRange(far);
    near(found.high, 0.06 * reach(0.95), 1e-12);
    near(found.low, 0.06 * (1 - reach(0.95)), 1e-12);
    near(found.logFactor, 0.03, 1e-12);
    near(found.spread, 0.03, 1e-12);
    near(wholeRange(far, { confidence: 0.99 }).high, 0.06 * reach(0.99), 1e-12);
    const falling = { levels: [levelAt(20, 0.06, 0), levelAt(1200, 0, 0)], offset_mW: null };
    near(wholeRange(falling).low, 0.06 * (1 - reach(0.95)), 1e-12);
  });

  test('the least certain level lends its uncertainty, and the envelope its middle', () => {
    const three = {
      levels: [
        levelAt(100, 0.02, 0.01, 5),
        levelAt(120, 0.02, 0.03, 6),
        levelAt(150, 0.02, 0.02, 7),
      ],
      offset_mW: null,
    };
    const found = wholeRange(three);
    expect(found).toMatchObject({ standardUncertainty: 0.03, dof: 6 });
    near(found.high, 0.02 + 2.446912 * 0.03, 1e-6);
    near(found.low, 0.02 - 2.446912 * 0.03, 1e-6);
    near(found.spread, 0, 1e-12);
  });

  test.each([0, 1, Number.NaN])('a confidence of %d is refused', (confidence) => {
    expect(() => wholeRange(curve, { confidence })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('the most that K may be', () => {
  test('by hand: k·u of factor and what all share, then the way and outside in full', () => {
    const between = factorAtPower(curve, Math.sqrt(100 * 300))!;
    const shared = { standardUncertainty: 0.02, dof: 9 };
    const u = Math.hypot(0.012, 0.02);
    const dof = u ** 4 / (0.012 ** 4 / between.dof + 0.02 ** 4 / 9);
    near(
      highestFactorAt([curve], Math.sqrt(100 * 300), { shared, confidence: 0.99 }),
      0.04 + coverageFactor(0.99, dof) * u + 0.04 * 1.5 * Math.log(3) * 0.25,
      1e-9,
    );
    // Nothing shared, 95 %: 0.06 + t(20)·0.014 and what goes on half as far again (table: 2.085963)
    near(
      highestFactorAt([curve], 450),
      0.06 + 2.085963 * 0.014 + 0.5 * ((3 * 0.04) / (1 - 1 / 3) + 0.02),
      1e-8,
    );
    // From 1e6 degrees of freedom on t is 1.96, and 2 counts
    const known = { levels: [levelAt(100, 0.1, 0.01, 1e6)], offset_mW: null };
    near(highestFactorAt([known], 100), 0.12, 1e-12);
  });

  test('the largest of the curves, and nothing where one of them or all are silent', () => {
    const other = { levels: [levelAt(100, 0.3, 0.01, 8)], offset_mW: null };
    const alone = highestFactorAt([other], 100);
    for (const both of [
      [curve, other],
      [other, curve],
    ]) {
      expect(highestFactorAt(both, 100)).toBe(alone);
      expect(highestFactorAt(both, 300)).toBeNull();
    }
    expect(highestFactorAt([], 100)).toBeNull();
  });

  const series = [seriesAt('a', 50, 0.02), seriesAt('b', 500, 0.05)];
  const found = levelsOf(series, DEFAULT);

  test('at a level: by its own series, where the neighbours would draw it down', () => {
    const { own } = found.levels[1]!;
    const k = coverageFactor(0.95, own.dof);
    near(highestFactorAt(bothWays(found), 500), 0.05 + k * own.standardUncertainty, 1e-9);
  });

  test('where the neighbours draw it up, it is no less than what they make of it', () => {
    const { logFactor, standardUncertainty, dof, own } = found.levels[0]!;
    const highest = highestFactorAt(bothWays(found), 50)!;
    expect(highest).toBeGreaterThanOrEqual(
      logFactor + coverageFactor(0.95, dof) * standardUncertainty - 1e-12,
    );
    expect(highest).toBeGreaterThanOrEqual(
      own.logFactor + coverageFactor(0.95, own.dof) * own.standardUncertainty - 1e-12,
    );
  });

  test('between levels both count as off together, whatever they know of each other', () => {
    const apart = found.levels.map((one) => ({ ...one, correlationWithNext: 0 }));
    for (const c of [70, 158, 300]) {
      expect(highestFactorAt(bothWays({ levels: apart, offset_mW: null }), c)).toBe(
        highestFactorAt(bothWays({ ...found, offset_mW: null }), c),
      );
    }
  });

  test('k is never below 2, and the parts for the way and for outside are added', () => {
    const known = levelsOf(series, { sd: 0.01, dof: 1e6 });
    const { own } = known.levels[1]!;
    near(
      highestFactorAt(bothWays(known), 500, { confidence: 0.5 }),
      Math.max(
        own.logFactor + 2 * own.standardUncertainty,
        known.levels[1]!.logFactor + 2 * known.levels[1]!.standardUncertainty,
      ),
      1e-9,
    );
    expect(highestFactorAt(bothWays(found), 900)!).toBeGreaterThan(
      highestFactorAt(bothWays(found), 500)! + factorAtPower(found, 900)!.outside - 1e-12,
    );
  });
});

test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('an indication of %d is none', (c) => {
  expect(() => factorAtPower(curve, c)).toThrow(
    expect.objectContaining({ code: 'argument-wrong' }),
  );
});

test('a curve without levels', () => {
  expect(() => factorAtPower({ levels: [], offset_mW: null }, 10)).toThrow(
    expect.objectContaining({ code: 'argument-wrong' }),
  );
});
