import { describe, expect, it } from 'vitest';
import { correct } from '../../src/factors/correct.js';
import { type ComparisonWishes, completeWishes } from '../../src/plan/comparisonWishes.js';
import { designUncertainty } from '../../src/plan/designUncertainty.js';
import { planComparison } from '../../src/plan/planComparison.js';
import { plannedOutlook } from '../../src/plan/plannedOutlook.js';
import { plannedParts, plannedReading, roughU } from '../../src/plan/plannedReading.js';
import { plannedShares } from '../../src/plan/plannedShares.js';
import { plannedSpread } from '../../src/plan/plannedSpread.js';
import { RUN_ORDERS, wholeBlocks } from '../../src/plan/runOrder.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { LEAST_LAPS } from '../../src/vocabulary.js';
import { analysed, base } from './wished.js';

describe('plannedSpread', () => {
  // NIST/SEMATECH e-Handbook, 1.3.6.7.4: chi-square with 6 degrees of freedom is exceeded with
  // probability 0.10 above 10.645 and 0.05 above 12.592.
  it.each([
    [0.9, 10.645],
    [0.95, 12.592],
  ])('promises with probability %d what the table of chi-square says', (probability, chiSquare) => {
    // The scatter of the candidate is all there is, in K and in the reading. 8 laps with a parabola
    // leave 12 degrees of freedom, 6 of them to the candidate.
    const sd = 0.01;
    const wishes = completeWishes({
      wanted: 0.05,
      confidence: 0.95,
      noise: { reference: 0, candidate: sd },
      placement: 0,
    });
    const u =
      (designUncertainty({ order: 'ABBA-BAAB', referenceSd: 0, candidateSd: sd }, 8)
        ?.standard_uncertainty ?? 0) / sd;
    // Two parts of 6 degrees of freedom each: Welch–Satterthwaite (JCGM 100:2008, G.2b).
    const dof = (u ** 2 + 1) ** 2 / ((u ** 4 + 1) / 6);
    const U = coverageFactor(0.95, dof) * sd * Math.hypot(u, 1) * Math.sqrt(chiSquare / 6);
    const drawn = (plannedSpread(wishes, { series: 1, laps: 8 }, 4000) ?? [])
      .map((parts) => roughU(parts().reading, 0.95))
      .sort((a, b) => a - b);
    // A quantile of chi-square at 0.95 is known to 1.2 % from 4000 draws, its root to half of that.
    expect(Math.abs(drawn[Math.ceil(4000 * probability) - 1] / U - 1)).toBeLessThan(0.018);
  });
});

describe('plannedOutlook', () => {
  it('is t(ν) times the root sum of squares where nothing scatters', () => {
    // By hand: 1 % from the certificate, 1 % stated for this placement and again for the next.
    const outlook = plannedOutlook(
      completeWishes({ ...base, noise: { reference: 0, candidate: 0 }, display: undefined }),
      { series: 1, laps: 8 },
    );
    expect(outlook?.factor_U).toBeCloseTo(Math.expm1(1.96 * 0.01 * Math.SQRT2), 5);
    // 1 % and 1 % of two placements are one part, known exactly.
    expect(outlook?.reading_U).toBeCloseTo(Math.expm1(1.96 * 0.01 * Math.sqrt(3)), 5);
    expect(outlook?.reading_U_promised).toBe(outlook?.reading_U);
  });

  it('holds what a plan used to leave out: one more placement, 1 % known to a quarter', () => {
    // JCGM 100:2008, G.4.2: a doubt of a quarter is 8 degrees of freedom.
    const { placement: _, display: __, ...unsaid } = base;
    const outlook = plannedOutlook(
      completeWishes({ ...unsaid, noise: { reference: 0, candidate: 0 } }),
      { series: 1, laps: 8 },
    );
    const dofOfK = 2 ** 2 / (1 / 8);
    expect(outlook?.factor_U).toBeCloseTo(
      Math.expm1(coverageFactor(0.95, dofOfK) * 0.01 * Math.SQRT2),
      6,
    );
  });
});

describe('what a planned comparison is made of', () => {
  const wishes = completeWishes(base);

  it('more is promised with a smaller probability', () => {
    const promised = (probability: number) =>
      plannedOutlook({ ...wishes, probability }, { series: 1, laps: 8 }, 200)?.reading_U_promised;
    expect(promised(0.5)).toBeLessThan(promised(0.9) ?? 0);
    expect(promised(0.9)).toBeLessThan(promised(0.999) ?? 0);
  });

  it('shares add up to one, the largest first, without K as a whole', () => {
    const shares = plannedShares(wishes, { series: 2, laps: 8 });
    expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(shares.map(({ share }) => share)).toEqual(
      shares.map(({ share }) => share).sort((a, b) => b - a),
    );
    const names = shares.map(({ name }) => name);
    expect(names).not.toContain('factor K');
    expect(names).not.toContain('between series');
    expect(names).toEqual(expect.arrayContaining(['calibration of the reference', 'placement']));
  });

  it('the scatter of a reading is that of its meter, however many series: 0.8 % and a step of 0.1 %', () => {
    for (const series of [1, 3]) {
      const draws = (plannedSpread(wishes, { series, laps: 8 }, 400) ?? []).map((parts) => {
        const one = parts().reading.find(({ name }) => name === 'scatter of the reading');
        return (one?.relative_standard_uncertainty ?? 0) ** 2;
      });
      const mean = draws.reduce((sum, value) => sum + value, 0) / draws.length;
      // Known to √(2/(6 · 400)) = 2.9 % and less
      expect(Math.sqrt(mean) / Math.hypot(0.008, 0.001 / Math.sqrt(12))).toBeCloseTo(1, 1);
    }
  });

  it('the displays count in K by what of their rounding stands still', () => {
    const series = [
      { id: 'a', logFactor: 0.1, standardUncertainty: 0.001, dof: 12 },
      { id: 'b', logFactor: 0.1, standardUncertainty: 0.001, dof: 12 },
    ];
    const shown = {
      series,
      reading: { sd: 0.008, dof: 6 },
      rounding: { reference: 0.003, candidate: 0.004 },
    };
    const of = (display: ComparisonWishes['display']) =>
      plannedParts({ ...wishes, display }, shown, 0.01, null)
        .factor.filter(({ kind }) => kind === 'resolution')
        .map((one) => one.relative_standard_uncertainty);
    expect(of(base.display)).toEqual([0.003, 0.004]);
    expect(of(undefined)).toEqual([]);
  });
});

describe('completeWishes', () => {
  it('takes as few laps as a series may have, and no fewer', () => {
    expect(completeWishes({ ...base, most_laps: 8 }).most_laps).toBe(8);
    expect(() => completeWishes({ ...base, most_laps: 7 })).toThrow('8 or more');
  });
});

describe('plannedReading', () => {
  it.each([1, 2, 3])('is the U that analyse and correct give for %d series', (series) => {
    const random = seededRandom(40 + series);
    const wishes = completeWishes(base);
    const { read, result, factors } = analysed(base, { series, laps: 8 }, random);
    const [entry] = factors.factors;
    const level = (entry.candidate_range_mW[0] + entry.candidate_range_mW[1]) / 2;
    const corrected = correct(factors, { reading_mW: level, wavelength_nm: 520 });
    const planned = plannedReading(
      { ...wishes, display: { level_mW: level, step_mW: { reference: 0.05, candidate: 0.05 } } },
      {
        series: result.series.map(({ id, factor }) => ({
          id,
          logFactor: Math.log(factor.value ?? 1),
          standardUncertainty: factor.relative_standard_uncertainty ?? 0,
          dof: factor.dof ?? 1,
        })),
        reading: { sd: entry.reading_relative_sd, dof: entry.reading_dof },
        rounding: { reference: 0, candidate: 0 },
      },
      read.between_series,
    );
    // The zero of each meter counts at its own lowest indication there, at one level here.
    expect(planned.factor / entry.relative_expanded_uncertainty).toBeCloseTo(1, 3);
    expect(planned.reading / (corrected.U / corrected.value)).toBeCloseTo(1, 3);
  });
});

describe('planComparison', () => {
  it('never plans fewer laps in a series than it should have, in whole blocks', () => {
    for (const order of RUN_ORDERS) {
      const { design } = planComparison({ ...base, order, wanted: 0.2 });
      expect(design).toEqual({ series: 1, laps: wholeBlocks(order, LEAST_LAPS), order });
    }
  });

  it('says where a display may stand still, and what it takes for the drift', () => {
    const assumed = (candidate: number) =>
      planComparison({
        ...base,
        wanted: 0.2,
        display: { level_mW: 50, step_mW: { reference: 0.05, candidate } },
      }).assumed.join(' ');
    expect(assumed(0.05)).not.toContain('stand still');
    // A step of 2 % against a scatter of 0.8 %.
    expect(assumed(1)).toMatch(
      /candidate may stand still.*a step is 2\.0 %.*0\.10 % from run to run/,
    );
  });

  it('tells what study.json has to say, and what was guessed', () => {
    const at = (placement?: ComparisonWishes['placement']) =>
      planComparison({ ...base, placement, wanted: 0.2 });
    expect(at().study).toEqual({ protocol: { order: 'ABBA-BAAB' } });
    expect(at(0.015).study.between_series_percent).toBe(1.5);
    // A word is a guess, which the analysis makes as well: nothing to state.
    expect(at('jig').study).toEqual({ protocol: { order: 'ABBA-BAAB', placement: 'jig' } });
    expect(at('by-hand').study).toEqual({
      protocol: { order: 'ABBA-BAAB', placement: 'by-hand' },
    });
    expect(at('by-hand').assumed.join(' ')).toMatch(/guessed \(common practice, no source\)/);
    const { certificate: _, display: __, ...bare } = base;
    expect(planComparison(bare).assumed.join(' ')).toMatch(/relative to this reference.*too fine/);
    expect(planComparison(bare).certificate_U).toBeNull();
  });

  it('of what cannot be reached says the best, the certificate where there is one, and remedies', () => {
    const small = { ...base, wanted: 0.01, most_series: 1, most_laps: 8 };
    const plan = planComparison(small);
    expect(plan.design).toBeNull();
    expect(plan.sentence).toMatch(
      /^± 1\.0 % .* cannot be promised: 1 series of 8 laps, .* The certificate alone gives ± 2\.0 %\. What would help: /,
    );
    const { certificate: _, ...relative } = small;
    expect(planComparison(relative).sentence).toMatch(/^(?!.*(certificate| {2})).*What would help/);
    for (const { words } of planComparison({ ...small, wanted: 0.03 }).remedies) {
      expect(words).toMatch(/\d/);
    }
  });

  it('is no larger than it takes, and names no remedy where none is needed', () => {
    const plan = planComparison({ ...base, wanted: 0.045, most_series: 2, most_laps: 16 });
    expect(plan.design).toEqual({ series: 1, laps: 8, order: 'ABBA-BAAB' });
    expect(plan.outlook.probability).toBeLessThan(1);
    expect(plan.remedies).toEqual([]);
  });

  it('gives the same plan for the same wishes', () => {
    const wishes = { ...base, wanted: 0.2 };
    expect(planComparison(wishes)).toEqual(planComparison(wishes));
  });

  it('refuses wishes that mean nothing', () => {
    for (const wrong of [
      { wanted: 0 },
      { wanted: 1 },
      { wanted: Number.NaN },
      { confidence: 95 },
      { noise: { reference: -0.01, candidate: 0.01 } },
      { noise: { reference: 0.01, candidate: 1.5 } },
      { source_noise: Number.POSITIVE_INFINITY },
      { certificate: { expanded_uncertainty: 2, coverage_factor: 2 } },
      { certificate: { expanded_uncertainty: 0.02, coverage_factor: 0 } },
      { certificate: { expanded_uncertainty: 0, coverage_factor: 2 } },
      { placement: 2 },
      { placement: 'glued' as 'jig' },
      { display: { level_mW: 0, step_mW: { reference: 0.1, candidate: 0.1 } } },
      { display: { level_mW: 50, step_mW: { reference: 0, candidate: 0.1 } } },
      { most_series: 0 },
      { most_laps: 7 },
      { probability: 1 },
    ]) {
      expect(() => planComparison({ ...base, ...wrong })).toThrowError(
        expect.objectContaining({ code: 'argument-wrong' }),
      );
    }
  });
});
