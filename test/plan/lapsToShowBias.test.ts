import { describe, expect, it } from 'vitest';
import { designUncertainty, type PlannedSeries } from '../../src/plan/designUncertainty.js';
import { biasPower, lapsToShowBias } from '../../src/plan/lapsToShowBias.js';
import { RUN_ORDERS, runOrder, wholeBlocks } from '../../src/plan/runOrder.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { polynomialColumns } from '../../src/statistics/polynomial.js';
import { seededRandom } from '../../src/statistics/random.js';
import { twoGroupFit } from '../../src/statistics/twoGroupFit.js';
import { LEAST_LAPS, type RunOrder } from '../../src/vocabulary.js';

const plain: PlannedSeries = {
  order: 'ABBA-BAAB',
  referenceSd: 0.01,
  candidateSd: 0.01,
  driftDegree: 0,
};

/** Fits simulated series as the analysis does, with the drift left in for the model to remove. */
function simulated(
  series: PlannedSeries,
  laps: number,
  bias: number,
  trials: number,
  seed: number,
) {
  const random = seededRandom(seed);
  const meters = runOrder(series.order, laps);
  const groups = meters.map((meter) => (meter === 'reference' ? 0 : 1) as 0 | 1);
  const drift = polynomialColumns(
    meters.map((_, i) => i),
    series.driftDegree ?? 0,
  );
  const design = meters.map((_, i) => [1, groups[i] - 0.5, ...drift[i]]);
  return Array.from({ length: trials }, () => {
    const y = meters.map(
      (_, i) =>
        bias * (groups[i] - 0.5) +
        drift[i].reduce((sum, value) => sum + 0.02 * value, 0) +
        (groups[i] === 0 ? series.referenceSd : series.candidateSd) * random.normal(),
    );
    const fit = twoGroupFit(design, y, groups);
    const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[1]);
    return { effect: fit.coefficients[1], standardUncertainty, dof };
  });
}

describe('designUncertainty', () => {
  it('is s·√(2/n) with 2n − 2 degrees of freedom for meters that scatter alike', () => {
    const own = designUncertainty(plain, 8);
    expect(own?.standard_uncertainty).toBeCloseTo(0.01 * Math.sqrt(2 / 8), 12);
    expect(own?.dof).toBeCloseTo(14, 10);
  });

  it('costs ABBA BAAB nothing and plain alternation a little to take a line out', () => {
    const at = (order: RunOrder, driftDegree: number) =>
      designUncertainty({ ...plain, order, driftDegree }, 4)?.standard_uncertainty ?? 0;
    expect(at('ABBA-BAAB', 2)).toBeCloseTo(at('ABBA-BAAB', 0), 12);
    expect(at('reference-first', 1)).toBeGreaterThan(at('reference-first', 0));
    // By hand for ABABABAB: z = ±½ gives Σz² = 2, with t in runs from the middle Σtz = 2 and
    // Σt² = 42, so the variance grows by 1/(1 − 2²/(2·42)).
    const ratio = (at('reference-first', 1) / at('reference-first', 0)) ** 2;
    expect(ratio).toBeCloseTo(1 / (1 - 4 / 84), 10);
  });

  it.each<PlannedSeries>([
    { order: 'ABBA-BAAB', referenceSd: 0.01, candidateSd: 0.01, driftDegree: 2 },
    { order: 'reference-first', referenceSd: 0.003, candidateSd: 0.02, driftDegree: 1 },
    { order: 'ABBA', referenceSd: 0.02, candidateSd: 0.01, driftDegree: 1 },
  ])('is the scatter of simulated factors ($order, degree $drift_degree)', (series) => {
    const trials = 1500;
    const effects = simulated(series, 8, 0.05, trials, 31).map((one) => one.effect);
    const mean = effects.reduce((sum, one) => sum + one, 0) / trials;
    const sd = Math.sqrt(effects.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (trials - 1));
    const planned = designUncertainty(series, 8)?.standard_uncertainty ?? 0;
    // 1500 trials know a standard deviation to 1.8 % and the mean to 2.6 % of it; four times that.
    expect(Math.abs(sd / planned - 1)).toBeLessThan(0.073);
    expect(Math.abs(mean - 0.05)).toBeLessThan(0.1 * planned);
  });

  it('has no answer where nothing is left to judge the scatter by', () => {
    expect(designUncertainty({ ...plain, driftDegree: 0 }, 1)).toBeNull();
    expect(designUncertainty({ ...plain, order: 'ABBA', driftDegree: 2 }, 2)).toBeNull();
  });
});

describe('lapsToShowBias', () => {
  it.each([
    { bias: 0.01, drift_degree: 0, candidate_sd: 0.01 },
    { bias: 0.015, drift_degree: 2, candidate_sd: 0.015 },
  ])(
    'shows a bias of $bias as often as it promises',
    ({ bias, drift_degree: driftDegree, candidate_sd: candidateSd }) => {
      const series: PlannedSeries = { ...plain, driftDegree, candidateSd };
      const plan = lapsToShowBias({ ...series, bias, power: 0.8, confidence: 0.95 });
      const trials = 2000;
      const shown = simulated(series, plan.laps as number, bias, trials, 5).filter(
        (one) => Math.abs(one.effect) > coverageFactor(0.95, one.dof) * one.standardUncertainty,
      ).length;
      // Binomial: 2000 at 80 % scatter by 0.9 %; four times that.
      expect(Math.abs(shown / trials - plan.power)).toBeLessThan(0.036);
      expect(plan.power).toBeGreaterThanOrEqual(0.8);
    },
  );

  it('has more power for a larger bias, a smaller uncertainty and more degrees of freedom', () => {
    const base = { bias: 0.02, standardUncertainty: 0.01, dof: 8, confidence: 0.95 };
    const power = biasPower(base);
    expect(biasPower({ ...base, bias: 0.03 })).toBeGreaterThan(power);
    expect(biasPower({ ...base, standardUncertainty: 0.008 })).toBeGreaterThan(power);
    expect(biasPower({ ...base, dof: 30 })).toBeGreaterThan(power);
    expect(biasPower({ ...base, bias: 0 })).toBeCloseTo(0.05, 12);
    expect(biasPower({ ...base, bias: 1e-9 })).toBeCloseTo(0.05, 6);
    expect(biasPower({ ...base, standardUncertainty: 0 })).toBeCloseTo(1, 9);
  });

  it('never advises fewer laps than a series should have, and refuses fewer to look at', () => {
    const easy = { ...plain, bias: 0.2, power: 0.8, confidence: 0.95 };
    for (const order of RUN_ORDERS) {
      const { laps } = lapsToShowBias({ ...easy, order });
      expect(laps).toBe(wholeBlocks(order, LEAST_LAPS));
    }
    for (const call of [
      () => lapsToShowBias({ ...easy, mostLaps: 4 }),
      () => lapsToShowBias({ ...easy, bias: 0 }),
      () => lapsToShowBias({ ...easy, power: 1 }),
      () => lapsToShowBias({ ...easy, confidence: 95 }),
      () => lapsToShowBias({ ...easy, referenceSd: -0.1 }),
      () => lapsToShowBias({ ...easy, driftDegree: 1.5 }),
    ]) {
      expect(call).toThrowError(expect.objectContaining({ code: 'argument-wrong' }));
    }
  });

  it('says when a bias drowns', () => {
    const { laps, sentence } = lapsToShowBias({
      ...plain,
      bias: 0.0001,
      power: 0.8,
      confidence: 0.95,
      mostLaps: 20,
    });
    expect(laps).toBeNull();
    expect(sentence).toMatch(/Not within 20 laps/);
  });
});
