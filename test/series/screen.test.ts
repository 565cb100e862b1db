import { describe, expect, test } from 'vitest';
import { balancedExclusions, runsWithout } from '../../src/series/balanced.js';
import {
  COLD_START_CERTAIN,
  COLD_START_SUSPECTED,
  coldStarts,
} from '../../src/series/coldStarts.js';
import { coldStartTest } from '../../src/series/coldStartTest.js';
import { declaredExclusions } from '../../src/series/declared.js';
import { driftModel } from '../../src/series/driftModel.js';
import { outlierFlags } from '../../src/series/outliers.js';
import { leastSquares } from '../../src/statistics/leastSquares.js';
import { seededRandom } from '../../src/statistics/random.js';
import type { Run } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { runsOf, seriesOf } from './runs.js';

const noRounding = () => 0;

/** Noisy laps, reference first; the first `cold` runs read low by the given fractions. */
function laps(count: number, seed: number, cold: readonly number[] = [], scatter = 0.005): Run[] {
  const random = seededRandom(seed);
  return runsOf(
    'RC'.repeat(count),
    ({ place, meter }) =>
      50 *
      (meter === 'candidate' ? 0.9 : 1) *
      (1 - (cold[place] ?? 0)) *
      (1 + scatter * random.normal()),
  );
}

describe('balanced exclusions', () => {
  const series = seriesOf(runsOf('RCRCRCR', () => 1));

  test('the other half of a lap goes with its run and says why', () => {
    const out = balancedExclusions(series, 'declared', new Map([[4, 'head knocked']]));
    expect(out).toEqual([
      {
        run: 3,
        meter: 'reference',
        kind: 'declared',
        reason: 'the other half of its lap, run 4, was left out: head knocked',
      },
      { run: 4, meter: 'candidate', kind: 'declared', reason: 'head knocked' },
    ]);
    expect(runsWithout(series, out).map((run) => run.run)).toEqual([1, 2, 5, 6, 7]);
  });

  test('a run without a partner goes alone', () => {
    const out = balancedExclusions(series, 'declared', new Map([[7, 'battery empty']]));
    expect(out.map((one) => one.run)).toEqual([7]);
  });
});

describe('declared exclusions', () => {
  const runs = runsOf('RCRCRC', () => 1);

  test('the protocol’s first laps go, and a run’s own reason comes first', () => {
    const own = runs.map((run) => (run.run === 2 ? { ...run, exclude: 'beam clipped' } : run));
    const out = declaredExclusions({ runs: own }, { discard_first_laps: 1 });
    expect(out.map((one) => [one.run, one.reason])).toEqual([
      [1, 'the protocol discards the first lap'],
      [2, 'beam clipped'],
    ]);
  });

  test.each([
    [0, []],
    [1, [2, 3]],
    // The run between stands in no lap.
    [2, [2, 3, 5, 6]],
  ])('of the first %i laps go the runs that stand in them', (discard, gone) => {
    // R, RC, C, CR: runs 1 and 4 have no neighbour of the other meter left
    const loose = runsOf('RRCCCR', () => 1);
    expect(loose.map(({ lap }) => lap)).toEqual([null, 1, 1, null, 2, 2]);
    const out = declaredExclusions({ runs: loose }, { discard_first_laps: discard });
    expect(out.map(({ run }) => run)).toEqual(gone);
    const words = discard === 1 ? 'the first lap' : `the first ${discard} laps`;
    for (const { kind, reason } of out) {
      expect([kind, reason]).toEqual(['declared', `the protocol discards ${words}`]);
    }
  });

  test('more laps than there are leaves nothing', () => {
    const out = declaredExclusions({ runs }, { discard_first_laps: 99 });
    expect(runsWithout({ runs }, out)).toEqual([]);
  });
});

describe('cold-start test', () => {
  test('deviation and p are those of the prediction of a new observation', () => {
    // The textbook prediction interval: t = (y₀ − ŷ₀) / (s √(1 + x₀'(X'X)⁻¹x₀)), n − p dof (NIST
    // e-Handbook 4.5.1.2), here with the fit by the weighted least squares of another module.
    const runs = laps(8, 5, [0.03]);
    const found = coldStartTest(runs, 0)!;
    const rest = runs.slice(2);
    const row = (run: Run) => [
      1,
      run.meter === 'candidate' ? 1 : 0,
      run.time_s,
      ...(found.degree === 2 ? [run.time_s ** 2] : []),
    ];
    const fit = leastSquares(
      rest.map(row),
      rest.map((run) => Math.log(run.reading_mW)),
    );
    const x = row(runs[0]!);
    const predicted = x.reduce((sum, value, j) => sum + value * fit.coefficients[j]!, 0);
    near(Math.log1p(found.deviation), Math.log(runs[0]!.reading_mW) - predicted, 1e-10);
    expect(found.run.run).toBe(1);
  });

  test('where nothing is cold, p is spread evenly: one in fifty is left out, one in five suspected', () => {
    let out = 0;
    let suspected = 0;
    const studies = 1500;
    for (let seed = 0; seed < studies; seed++) {
      const found = coldStartTest(laps(8, 1000 + seed), 0)!;
      if (found.p < COLD_START_CERTAIN) out++;
      if (found.p < COLD_START_SUSPECTED) suspected++;
    }
    // The test chooses the larger of two variances and a degree by the data, so its level is not
    // exact: within a factor of two.
    expect(out / studies).toBeGreaterThan(COLD_START_CERTAIN / 2);
    expect(out / studies).toBeLessThan(2 * COLD_START_CERTAIN);
    expect(suspected / studies).toBeGreaterThan(COLD_START_SUSPECTED / 2);
    expect(suspected / studies).toBeLessThan(1.5 * COLD_START_SUSPECTED);
  });

  test('the rival is the least-squares fit with as many coefficients more as runs are set aside', () => {
    const runs = laps(8, 5, [0.03]);
    const { degree, rival } = coldStartTest(runs, 0)!;
    const squaresOf = (some: readonly Run[], power: number) =>
      leastSquares(
        some.map((run) => [
          1,
          run.meter === 'candidate' ? 1 : 0,
          ...Array.from({ length: power }, (_, d) => (run.time_s / 1000) ** (d + 1)),
        ]),
        some.map((run) => Math.log(run.reading_mW)),
      );
    const smooth = squaresOf(runs, degree + 2);
    near(rival!.effect, smooth.coefficients[1]!, 1e-8);
    const ratio =
      smooth.residualSumOfSquares / squaresOf(runs.slice(2), degree).residualSumOfSquares;
    const evidence = smooth.dof * Math.log(ratio);
    expect(rival!.fit).toBe(evidence < -1 ? 'better' : evidence < 5 ? 'possible' : 'worse');
  });

  test('a smooth drift is ruled out after most cold runs of 8 %, and after few droops', () => {
    const ruledOut = (cold: readonly number[], droop: number) => {
      let count = 0;
      for (let seed = 0; seed < 200; seed++) {
        const runs = laps(6, 400 + seed, cold).map((run, place) => ({
          ...run,
          reading_mW: run.reading_mW * (1 - droop * (1 - Math.exp(-place / 4))),
        }));
        if (coldStartTest(runs, 0)!.rival!.fit === 'worse') count++;
      }
      return count / 200;
    };
    expect(ruledOut([0.08], 0)).toBeGreaterThan(0.9);
    expect(ruledOut([], 0.08)).toBeLessThan(0.1);
  });

  test('fewer than three laps after the first give no prediction', () => {
    expect(coldStartTest(laps(3, 1), 0)).toBeNull();
    expect(coldStartTest(laps(4, 1), 0)).not.toBeNull();
    expect(coldStartTest([], 0)).toBeNull();
    // Three of each meter have to remain, whichever has fewer.
    expect(
      coldStartTest(
        runsOf('RCRCRCRR', ({ place }) => 9 + (place % 3)),
        0,
      ),
    ).toBeNull();
    expect(
      coldStartTest(
        runsOf('RCRCRCCC', ({ place }) => 9 + (place % 3)),
        0,
      ),
    ).toBeNull();
    expect(
      coldStartTest(
        runsOf('RCRCRCCR', ({ place }) => 9 + (place % 3)),
        0,
      ),
    ).not.toBeNull();
  });

  test('where readings repeat exactly the dust of the arithmetic is no cold start', () => {
    for (const [r, c] of [
      [1, 1],
      [50, 45],
      [47, 43],
      [41, 53],
    ] as const) {
      const same = runsOf('RCRCRCRCRC', ({ meter }) => (meter === 'reference' ? r : c));
      const found = coldStartTest(same, 0)!;
      near(found.deviation, 0, 1e-12);
      near(found.p, 1, 1e-5);
      // A first run that is off is one, with or without that dust.
      const [first, ...rest] = same;
      const off = coldStartTest([{ ...first!, reading_mW: 0.9 * r }, ...rest], 0)!;
      near(off.deviation, -0.1, 1e-9);
      expect(off.p).toBeLessThan(1e-6);
    }
  });

  test('a coarse display hides a deviation of half its step', () => {
    const runs = runsOf('RC'.repeat(6), ({ place, meter }) =>
      meter === 'candidate' ? 9 : place === 0 ? 9 : 10,
    );
    // Nothing scatters, so without the step any deviation is beyond doubt.
    expect(coldStartTest(runs, 0)!.p).toBeLessThan(0.001);
    expect(coldStartTest(runs, 0.1)!.p).toBeGreaterThan(COLD_START_SUSPECTED);
  });
});

describe('cold starts', () => {
  test('a first run 8 % low goes with its partner, and no other run goes', () => {
    const runs = laps(8, 3, [0.08]);
    const { excluded, suspected } = coldStarts({ runs }, runs, noRounding);
    expect(excluded.map((one) => [one.run, one.kind])).toEqual([
      [1, 'cold-start'],
      [2, 'cold-start'],
    ]);
    expect(excluded[0]!.reason).toMatch(/^first run reads \d(\.\d)? % below/);
    expect(suspected).toEqual([]);
  });

  test('two cold laps go, a third one never', () => {
    const runs = laps(10, 3, [0.3, 0.3, 0.2, 0.2, 0.1, 0.1], 0.001);
    const { excluded } = coldStarts({ runs }, runs, noRounding);
    expect(excluded.length).toBeLessThanOrEqual(4);
    const two = laps(10, 3, [0.2, 0.2, 0.1, 0.1], 0.001);
    expect(coldStarts({ runs: two }, two, noRounding).excluded.map((one) => one.run)).toEqual([
      1, 2, 3, 4,
    ]);
  });

  test('where a smooth drift is as good an explanation, its meter effect is handed on', () => {
    const doubtful = Array.from({ length: 200 }, (_, seed) => laps(5, seed, [0.02])).filter(
      (runs) => {
        const { p, rival } = coldStartTest(runs, 0)!;
        return p < COLD_START_CERTAIN && rival!.fit === 'possible';
      },
    );
    expect(doubtful.length).toBeGreaterThan(5);
    for (const runs of doubtful) {
      const { excluded, rivalEffects } = coldStarts({ runs }, runs, noRounding);
      expect(excluded.length).toBeGreaterThan(0);
      expect(rivalEffects[0]).toBe(coldStartTest(runs, 0)!.rival!.effect);
    }
    const plain = laps(8, 3, [0.08]);
    expect(coldStarts({ runs: plain }, plain, noRounding).rivalEffects).toEqual([]);
  });

  test('a weak one is suspected and kept', () => {
    // Searched among seeds: the p value of this draw lies between both thresholds.
    const found = Array.from({ length: 60 }, (_, seed) => laps(8, seed, [0.012])).find((runs) => {
      const { p, rival } = coldStartTest(runs, 0)!;
      return p > COLD_START_CERTAIN && p < COLD_START_SUSPECTED && rival!.fit !== 'better';
    })!;
    const { excluded, suspected } = coldStarts({ runs: found }, found, noRounding);
    expect(excluded).toEqual([]);
    expect(suspected.map((one) => one.run)).toEqual([1, 2]);
    // One digit of p, between 0.02 and 0.2
    expect(suspected[0]!.reason).toMatch(/ \(p = 0\.(0[2-9]|[12])\)$/);
  });

  test('four times the noise on the first run alone is found in most series, a tenth in few', () => {
    const hit = (deficit: number) => {
      let hits = 0;
      for (let seed = 0; seed < 300; seed++) {
        const runs = laps(8, seed, [deficit]);
        if (coldStarts({ runs }, runs, noRounding).excluded.length > 0) hits++;
      }
      return hits / 300;
    };
    expect(hit(0.05)).toBeGreaterThan(0.9);
    expect(hit(0.0005)).toBeLessThan(0.06);
  });
});

describe('outlier flags', () => {
  const flagged = (runs: readonly Run[]) =>
    outlierFlags(
      runs,
      driftModel(runs).fit,
      runs.map(() => 0),
    );

  // A single run 10 % off, where readings scatter by 0.5 %. The meter's own spread, inflated by that
  // very run, must not hide it, nor make a run of the other meter look odd.
  test.each([
    [7, 'grubbs'],
    [10, 'generalised-esd'],
    [16, 'generalised-esd'],
  ] as const)('in %i laps: a run ten per cent off, seldom another (%s)', (count, name) => {
    let others = 0;
    for (let seed = 0; seed < 100; seed++) {
      const runs = laps(count, seed).map((run) =>
        run.run === 6 ? { ...run, reading_mW: run.reading_mW * 1.1 } : run,
      );
      const flags = flagged(runs);
      const own = flags.find((one) => one.run === 6);
      expect(own).toMatchObject({ meter: 'candidate', test: name });
      expect(own!.message).toMatch(/^run 6 \(candidate\) lies \d+\.\d % from the drift/);
      others += flags.filter((one) => Math.abs(one.run - 6) > 0).length > 0 ? 1 : 0;
    }
    // The odd run bends the drift beside it, so a neighbour may be flagged with it.
    expect(others).toBeLessThan(40);
  });

  test('a run off by less than a tenth of a per cent is not said to lie 0.0 % off', () => {
    const quiet = laps(8, 3).map((run) => ({
      ...run,
      reading_mW: 100 + (run.reading_mW - 100) / 1e4 + (run.run === 6 ? 0.05 : 0),
    }));
    const own = flagged(quiet).find((one) => one.run === 6);
    expect(own?.message).toMatch(/ lies 0\.0\d\d % from the drift/);
  });

  test('below seven runs nothing can be told and nothing is flagged', () => {
    const runs = laps(3, 6).map((run) => (run.run === 4 ? { ...run, reading_mW: 90 } : run));
    expect(flagged(runs)).toEqual([]);
  });

  test.each([
    [5, 1],
    [8, 1],
    [12, 1],
    [5, 6],
    [8, 6],
    [12, 6],
  ])('%i laps that hold none, one meter %i times as noisy: few are flagged', (count, times) => {
    let hits = 0;
    const studies = 300;
    const random = seededRandom(100 * count + times);
    for (let study = 0; study < studies; study++) {
      const runs = runsOf(
        'RC'.repeat(count),
        ({ meter }) => 50 * Math.exp(0.002 * (meter === 'candidate' ? times : 1) * random.normal()),
      );
      if (flagged(runs).length > 0) hits++;
    }
    // Nominal 5 %; the scale of each meter is estimated, and up to 12 % were seen.
    expect(hits / studies).toBeLessThan(0.16);
  });

  test('readings that repeat exactly flag nothing', () => {
    expect(
      flagged(runsOf('RC'.repeat(9), ({ meter }) => (meter === 'reference' ? 50 : 46))),
    ).toEqual([]);
  });
});
