import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ContributionInput, combineContributions } from '../../src/budget/combine.js';
import { seededRandom } from '../../src/statistics/random.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';

const line = (name: string, u: number, dof: number = KNOWN_EXACTLY): ContributionInput => ({
  name,
  relative_standard_uncertainty: u,
  dof,
  type: 'B',
  note: '',
});

const lines = fc
  .array(
    fc.record({
      u: fc.double({ min: 1e-6, max: 0.2, noNaN: true }),
      dof: fc.double({ min: 1, max: 500, noNaN: true }),
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((all) => all.map(({ u, dof }, i) => line(`part ${i}`, u, dof)));

const options = { confidence: 0.95 };
const checks = { seed: 20, numRuns: 200 };

describe('combineContributions', () => {
  it('adds 3 and 4 to 5', () => {
    const { relative_standard_uncertainty: u, budget } = combineContributions(
      [line('a', 0.03), line('b', 0.04)],
      options,
    );
    expect(u).toBeCloseTo(0.05, 14);
    expect(budget.map((one) => one.share)).toEqual([
      expect.closeTo(0.36, 12),
      expect.closeTo(0.64, 12),
    ]);
  });

  it('has shares that add up to 1', () => {
    fc.assert(
      fc.property(lines, (inputs) => {
        const total = combineContributions(inputs, options).budget.reduce((s, c) => s + c.share, 0);
        expect(total).toBeCloseTo(1, 10);
      }),
      checks,
    );
  });

  it('scales u with its inputs and leaves degrees of freedom and shares alone', () => {
    fc.assert(
      fc.property(lines, fc.double({ min: 1e-90, max: 1e3, noNaN: true }), (inputs, factor) => {
        const before = combineContributions(inputs, options);
        const after = combineContributions(
          inputs.map((one) => ({
            ...one,
            relative_standard_uncertainty: one.relative_standard_uncertainty * factor,
          })),
          options,
        );
        const ratio = after.relative_standard_uncertainty / before.relative_standard_uncertainty;
        expect(ratio / factor).toBeCloseTo(1, 10);
        expect(after.dof / before.dof).toBeCloseTo(1, 8);
      }),
      checks,
    );
  });

  it('never lowers u when a contribution is added', () => {
    fc.assert(
      fc.property(lines, fc.double({ min: 0, max: 0.2, noNaN: true }), (inputs, u) => {
        const before = combineContributions(inputs, options).relative_standard_uncertainty;
        const after = combineContributions([...inputs, line('one more', u)], options);
        expect(after.relative_standard_uncertainty).toBeGreaterThanOrEqual(before * (1 - 1e-14));
      }),
      checks,
    );
  });

  it('has degrees of freedom between the smallest of a part and their sum', () => {
    fc.assert(
      fc.property(lines, (inputs) => {
        const { dof } = combineContributions(inputs, options);
        const all = inputs.map((one) => one.dof);
        expect(dof).toBeGreaterThanOrEqual(Math.min(...all));
        expect(dof).toBeLessThanOrEqual(all.reduce((s, x) => s + x, 0) * (1 + 1e-9));
      }),
      checks,
    );
  });

  it.each([
    // A part of known u = 1 and one estimated with few degrees of freedom: how often does the
    // interval hold the truth? 95 % is meant; one lone degree of freedom is where it gives way.
    { dof: 1, size: 0.5, least: 0.93, most: 0.965 },
    { dof: 2, size: 1, least: 0.92, most: 0.965 },
    { dof: 3, size: 2, least: 0.92, most: 0.965 },
    { dof: 8, size: 1, least: 0.935, most: 0.965 },
    { dof: 1, size: 5, least: 0.84, most: 0.9 },
  ])('covers $least to $most with $dof degrees of freedom in a part of $size', (row) => {
    const random = seededRandom(12);
    const trials = 2000;
    let held = 0;
    for (let i = 0; i < trials; i++) {
      const error = random.normal() + row.size * random.normal();
      const squares = Array.from({ length: row.dof }, () => random.normal() ** 2);
      const s = row.size * Math.sqrt(squares.reduce((sum, x) => sum + x, 0) / row.dof);
      const U = combineContributions([line('known', 1), line('estimated', s, row.dof)], options);
      if (Math.abs(error) <= U.relative_expanded_uncertainty) held++;
    }
    // Binomial: 2000 at 95 % scatter by 0.5 %; the limits above leave three times that.
    expect(held / trials).toBeGreaterThan(row.least);
    expect(held / trials).toBeLessThan(row.most);
  });

  it('adds fully correlated contributions up and cancels opposed ones', () => {
    const pair = [line('a', 0.03, 5), line('b', 0.04, 9)];
    const with_ = (coefficient: number) =>
      combineContributions(pair, {
        confidence: 0.95,
        correlations: [{ between: ['a', 'b'], coefficient }],
      });
    expect(with_(1).relative_standard_uncertainty).toBeCloseTo(0.07, 12);
    expect(with_(-1).relative_standard_uncertainty).toBeCloseTo(0.01, 12);
    // A correlated group counts with the smallest degrees of freedom in it.
    expect(with_(0.5).dof).toBeCloseTo(5, 10);
    expect(with_(0.5).budget.reduce((s, c) => s + c.share, 0)).toBeCloseTo(1, 12);
  });

  it('agrees with no correlation when every coefficient is zero', () => {
    const pair = [line('a', 0.03, 5), line('b', 0.04, 9)];
    expect(
      combineContributions(pair, {
        confidence: 0.95,
        correlations: [{ between: ['b', 'a'], coefficient: 0 }],
      }),
    ).toEqual(combineContributions(pair, options));
  });

  it('answers a budget of nothing with zero, not with NaN', () => {
    for (const inputs of [[], [line('a', 0), line('b', 0, 3)]]) {
      const combined = combineContributions(inputs, options);
      expect(combined.relative_standard_uncertainty).toBe(0);
      expect(combined.relative_expanded_uncertainty).toBe(0);
      expect(combined.dof).toBe(KNOWN_EXACTLY);
      expect(combined.coverage_factor).toBeCloseTo(1.96, 3);
      expect(combined.budget.map((one) => one.share)).toEqual(inputs.map(() => 0));
    }
  });

  it('lets a zero contribution with few degrees of freedom change nothing', () => {
    const some = [line('a', 0.01, 40)];
    const { dof, coverage_factor } = combineContributions([...some, line('b', 0, 1)], options);
    expect(dof).toBe(40);
    expect(coverage_factor).toBe(combineContributions(some, options).coverage_factor);
  });

  it.each([
    ['a negative uncertainty', [line('a', -0.1)]],
    ['an infinite uncertainty', [line('a', Number.POSITIVE_INFINITY)]],
    ['no degrees of freedom', [line('a', 0.1, 0)]],
    ['degrees of freedom that are no number', [line('a', 0.1, Number.NaN)]],
    ['a name used twice', [line('a', 0.1), line('a', 0.2)]],
  ])('refuses %s', (_, inputs) => {
    expect(() => combineContributions(inputs, options)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  it('refuses correlations that cannot hold together or name nobody', () => {
    const three = [line('a', 0.1), line('b', 0.1), line('c', 0.1)];
    const wrong = [
      [
        { between: ['a', 'b'], coefficient: -0.9 },
        { between: ['a', 'c'], coefficient: -0.9 },
        { between: ['b', 'c'], coefficient: -0.9 },
      ],
      [{ between: ['a', 'nobody'], coefficient: 0.1 }],
      [{ between: ['nobody', 'a'], coefficient: 0.1 }],
      [{ between: ['a', 'a'], coefficient: 0.1 }],
      [{ between: ['a', 'b'], coefficient: 1.1 }],
      [{ between: ['a', 'b'], coefficient: -1.1 }],
    ] as const;
    for (const correlations of wrong) {
      expect(() => combineContributions(three, { confidence: 0.95, correlations })).toThrowError(
        expect.objectContaining({ code: 'argument-wrong' }),
      );
    }
  });

  it('refuses such correlations also where a larger contribution hides a variance below zero', () => {
    // 3·1 − 6·0.9 = −2.4 of the three, and 4 of the fourth
    const four = [...'abc'].map((name) => line(name, 0.1)).concat(line('d', 0.2));
    const correlations = (['ab', 'ac', 'bc'] as const).map((pair) => ({
      between: [pair[0], pair[1]] as const,
      coefficient: -0.9,
    }));
    expect(() => combineContributions(four, { correlations })).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  it('says whom a correlation names, and who is there', () => {
    const correlations = [{ between: ['a', 'x'], coefficient: 0.1 }] as const;
    expect(() =>
      combineContributions([line('a', 0.1), line('b', 0.1)], { correlations }),
    ).toThrowError(expect.objectContaining({ found: 'a and x', expected: 'a, b' }));
  });

  it('takes correlated ones for one part with the smallest degrees of freedom of those not zero', () => {
    // a and b make 4 + 1 + 2·½·2 = 7, c nothing, d 9: 16 in all. ν = 16²/(7²/5 + 9²/10) = 256/17.9;
    // SciPy: stats.t.ppf(0.975, 256/17.9)
    const [a, b, c, d] = [
      line('a', 0.02, 8),
      line('b', 0.01, 5),
      line('c', 0, 1),
      line('d', 0.03, 10),
    ];
    const k = 2.1405500438736142;
    const found = combineContributions(
      [{ ...a, kind: 'drift', note: 'first' }, d, c, { ...b, type: 'A' }],
      {
        correlations: [
          { between: ['b', 'c'], coefficient: 0.3 },
          { between: ['a', 'b'], coefficient: 0.5 },
        ],
      },
    );
    expect(found).toEqual({
      relative_standard_uncertainty: expect.closeTo(0.04, 14),
      dof: expect.closeTo(256 / 17.9, 10),
      coverage_factor: expect.closeTo(k, 7),
      relative_expanded_uncertainty: expect.closeTo(0.04 * k, 8),
      budget: [
        { ...a, kind: 'drift', note: 'first', share: expect.closeTo(5 / 16, 12) },
        { ...d, kind: 'other', share: expect.closeTo(9 / 16, 12) },
        { ...c, kind: 'other', share: 0 },
        { ...b, kind: 'other', type: 'A', share: expect.closeTo(2 / 16, 12) },
      ],
    });
  });

  it('finds a group through others that stand in it, whatever the order', () => {
    // Four of 1 in a chain of ½, a–c–b–d: 4 + 2·3·½ = 7 with the least ν, 3; e apart with 9 and ν = 20.
    const five = [4, 5, 6, 3]
      .map((dof, i) => line('abcd'[i], 0.01, dof))
      .concat(line('e', 0.03, 20));
    const correlations = (['ac', 'cb', 'bd'] as const).map((pair) => ({
      between: [pair[0], pair[1]] as const,
      coefficient: 0.5,
    }));
    for (const inputs of [five, [...five].reverse()]) {
      const { dof, relative_standard_uncertainty: u } = combineContributions(inputs, {
        correlations,
      });
      expect(u).toBeCloseTo(0.04, 14);
      expect(dof).toBeCloseTo(256 / (49 / 3 + 81 / 20), 10);
    }
  });

  it('has nothing left where two of a size are opposed', () => {
    const pair = [line('a', 0.03, 5), line('b', 0.03, 9)];
    const { budget, ...all } = combineContributions(pair, {
      correlations: [{ between: ['a', 'b'], coefficient: -1 }],
    });
    expect(all).toMatchObject({ relative_standard_uncertainty: 0, dof: KNOWN_EXACTLY });
    expect(all.relative_expanded_uncertainty).toBe(0);
    expect(budget.map(({ share }) => share)).toEqual([0, 0]);
    // One of the two may be below zero.
    const { budget: uneven } = combineContributions([line('a', 0.02), line('b', 0.01)], {
      correlations: [{ between: ['a', 'b'], coefficient: -0.8 }],
    });
    // 4 + 1 − 2·0.8·2 = 1.8: 4 − 1.6 of a, 1 − 1.6 of b
    expect(uneven.map(({ share }) => share)).toEqual([
      expect.closeTo(2.4 / 1.8, 12),
      expect.closeTo(-0.6 / 1.8, 12),
    ]);
  });

  it('refuses a confidence level given in percent', () => {
    expect(() => combineContributions([line('a', 0.1)], { confidence: 95 })).toThrowError(
      /confidence level/,
    );
  });
});
