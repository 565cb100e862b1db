import { expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import * as agree from '../../src/index.js';
import * as budget from '../../src/index.js';
import * as lines from '../../src/index.js';
import * as decide from '../../src/index.js';
import * as plan from '../../src/index.js';
import * as settle from '../../src/index.js';
import { bootstrap } from '../../src/statistics/bootstrap.js';
import { requireOptions } from '../../src/statistics/options.js';
import { mean } from '../../src/statistics/summary.js';

const caught = (call: () => unknown): MeterpairError => {
  try {
    call();
  } catch (error) {
    if (error instanceof MeterpairError) return error;
    throw error;
  }
  throw new Error('not refused');
};

test('a misspelt option is refused with the one that was meant', () => {
  const options = { confidance: 0.9 } as { confidence?: number };
  const error = caught(() => requireOptions(options, { confidence: true }));
  expect(error.code).toBe('argument-wrong');
  expect(error.message).toContain('Did you mean "confidence"?');
  expect(error.message).toContain('Found: confidance.');
});

test.each([[0.9], ['0.9'], [null], [[0.9]], [undefined]])(
  '%j is no record of options',
  (options) => {
    const call = () => requireOptions(options as { confidence?: number }, { confidence: true });
    expect(caught(call).code).toBe('argument-wrong');
  },
);

const values = [1.1, 2.3, 0.4, 1.9, 3.2, 2.6, 1.5, 0.9];
const x = [1, 2, 3, 4, 5, 6, 7, 8];
const y = x.map((value, i) => value + values[i] / 10);
const ones = x.map(() => 1);
const pairs = { reference: x, candidate: y };
const meters = { reference_mW: x, candidate_mW: y };
const weighed = { x, y, x_standard_uncertainty: ones, y_standard_uncertainty: ones };
const trace = { elapsed_s: x, reading_mW: x.map((t) => 5 * (1 - Math.exp(-t / 2))) };
const power = { value_mW: 5, standardUncertainty_mW: 0.1 };
const bench = { order: 'ABBA', reference_sd: 0.01, candidate_sd: 0.01, confidence: 0.95 } as const;
const sources = [{ name: 'green', wavelength_nm: 520 }];
const against = agree.seriesAgainstLevel(
  x.map((value, i) => ({ reference: [value, value + 0.1], candidate: [y[i], y[i] + 0.2] })),
);
const part = {
  name: 'a',
  relative_standard_uncertainty: 0.01,
  dof: 9,
  type: 'A',
  note: '',
} as const;
const repeats = x.map((value, i) => ({ reference: [value, value + 0.1], candidate: [y[i], y[i]] }));

/** Every documented method that takes options, with options that are right. */
const METHODS: Readonly<Record<string, readonly [(options: never) => unknown, object]>> = {
  summariseDifferences: [(o) => agree.summariseDifferences(values, o), {}],
  limitsOfAgreement: [(o) => agree.limitsOfAgreement(values, o), {}],
  limitsFromFigures: [(o) => agree.limitsFromFigures({ n: 9, mean: 1, sd: 2 }, o), {}],
  limitFactors: [(o) => agree.limitFactors(9, o), {}],
  approximateLimits: [
    (o) => agree.approximateLimits({ n: 9, mean: 1, sd: 2 }, o),
    { formula: '1999', multiplier: 2 },
  ],
  ratioLimits: [(o) => agree.ratioLimits(values, o), {}],
  replicateLimits: [(o) => agree.replicateLimits([values, x], o), {}],
  replicatedMethodsLimits: [(o) => agree.replicatedMethodsLimits(repeats, o), {}],
  concordance: [(o) => agree.concordance(pairs, o), {}],
  pitmanMorgan: [(o) => agree.pitmanMorgan(pairs, o), {}],
  proportionalBias: [(o) => agree.proportionalBias(pairs, o), { scale: 'log' }],
  seriesAgainstLevel: [(o) => agree.seriesAgainstLevel(x.map(() => pairs).map(shift), o), {}],
  limitsAtLevel: [(o) => agree.limitsAtLevel(against.lines, 3, o), {}],
  lapLimitsAtLevel: [(o) => agree.lapLimitsAtLevel(against, 3, o), { spread: 'constant' }],
  equivalenceOfDifference: [(o) => agree.equivalenceOfDifference(values, o), { low: -1, high: 1 }],
  equivalenceOfRatio: [(o) => agree.equivalenceOfRatio(values, o), { low: 0.9, high: 1.1 }],
  wilcoxonSignedRank: [(o) => agree.wilcoxonSignedRank(values, o), {}],
  bootstrap: [(o) => bootstrap(values, mean, o), { resamples: 100 }],
  ordinaryLine: [(o) => lines.ordinaryLine(weighed, o), {}],
  weightedLine: [(o) => lines.weightedLine(weighed, o), { scale: 'estimated' }],
  demingLine: [(o) => lines.demingLine(weighed, o), { variance_ratio: 2 }],
  yorkLine: [(o) => lines.yorkLine(weighed, o), {}],
  theilSenLine: [(o) => lines.theilSenLine(weighed, o), { interval: 'normal' }],
  passingBablokLine: [(o) => lines.passingBablokLine(weighed, o), {}],
  predictOnLine: [(o) => lines.predictOnLine(lines.ordinaryLine(weighed), o), { x: 2 }],
  inverseOnLine: [(o) => lines.inverseOnLine(lines.ordinaryLine(weighed), o), { y: 2 }],
  curvature: [(o) => lines.curvature(meters, o), { offset: false }],
  commonBend: [(o) => lines.commonBend({ ...meters, groups: ones }, o), {}],
  gainOrGainAndOffset: [(o) => lines.gainOrGainAndOffset(meters, o), { candidate_sd_mW: 0.1 }],
  leaveOneSeriesOut: [(o) => lines.leaveOneSeriesOut([], o), {}],
  standardUncertainty: [(o) => budget.standardUncertainty(o), { shape: 'resolution', step: 1 }],
  combineContributions: [(o) => budget.combineContributions([part], o), { confidence: 0.95 }],
  propagate: [
    (o) => budget.propagate(o),
    {
      model: ([a]: readonly number[]) => a,
      inputs: [{ name: 'a', value: 1, standard_uncertainty: 0.1 }],
      confidence: 0.95,
    },
  ],
  monteCarlo: [
    (o) => budget.monteCarlo(o),
    {
      model: ([a]: readonly number[]) => a,
      inputs: [{ shape: 'normal', value: 1, standard_uncertainty: 0.1 }],
      confidence: 0.95,
      seed: 1,
      max_trials: 20_000,
    },
  ],
  nextImprovement: [(o) => budget.nextImprovement(o), { budget: [], confidence: 0.95 }],
  fitStepResponse: [(o) => settle.fitStepResponse(trace, o), { drift: false }],
  detectOvershoot: [(o) => settle.detectOvershoot(trace, o), {}],
  correctEarlyReading: [
    (o) => settle.correctEarlyReading(o),
    {
      reading_mW: 5,
      elapsed_s: 9,
      time_constant_s: 3,
      time_constant_standard_uncertainty_s: 0.1,
    },
  ],
  threePointExtrapolation: [
    (o) => settle.threePointExtrapolation(o),
    { readings_mW: [1, 2, 2.5], reading_standard_uncertainty_mW: 0.01 },
  ],
  lagDroop: [
    (o) => settle.lagDroop(o),
    {
      relative_droop_per_s: 0.001,
      time_constant_reference_s: 2,
      time_constant_candidate_s: null,
    },
  ],
  lapsToShowBias: [(o) => plan.lapsToShowBias(o), { ...bench, bias: 0.02, power: 0.8 }],
  biasPower: [
    (o) => plan.biasPower(o),
    { bias: 1, standard_uncertainty: 1, dof: 9, confidence: 0.95 },
  ],
  comparisonDesign: [
    (o) => plan.comparisonDesign(o),
    {
      differences: [
        [1, -1],
        [-1, 1],
      ],
      restraint: [1, 0],
    },
  ],
  recommendOrder: [(o) => plan.recommendOrder(o), { laps: 4, drift: 'none' }],
  resolutionNote: [(o) => plan.resolutionNote(o), { resolution_mW: 1, tolerance: 0.05 }],
  runSheet: [(o) => plan.runSheet(o), { sources, laps: 4, order: 'ABBA' }],
  runSheetText: [(o) => plan.runSheetText(o), { sources, laps: 4, order: 'ABBA', title: 'Bench' }],
  controlChart: [(o) => decide.controlChart(o), { values }],
  agreementScore: [(o) => decide.agreementScore(o), { ours: power, theirs: power }],
  asNewBound: [(o) => decide.asNewBound(o), { now: power, asNew: power }],
  whichMeterIsRight: [
    (o) => decide.whichMeterIsRight(o),
    { reference: power, candidate: power, opinion: power, kind: 'third-meter' },
  ],
  separatePrecision: [
    (o) => decide.separatePrecision(o),
    {
      instruments: [
        { name: 'a', values: x },
        { name: 'b', values: y },
        { name: 'c', values: x.map((value, i) => value + values[7 - i] / 10) },
      ],
    },
  ],
  accessibleEmissionLimits: [(o) => decide.accessibleEmissionLimits(520, o), {}],
  opticalDensityNeeded: [
    (o) => decide.opticalDensityNeeded(o),
    { upper_mW: 5, wavelength_nm: 520, source: 'green' },
  ],
};

function shift(series: typeof pairs, by: number) {
  return { reference: series.reference.map((r) => r + by), candidate: y.map((c) => c + by) };
}

test.each(Object.entries(METHODS))(
  '%s refuses an option that it does not know',
  (_, [call, right]) => {
    const withOptions = call as (options: object) => unknown;
    expect(() => withOptions(right)).not.toThrow();
    expect(caught(() => withOptions({ ...right, confidance: 0.9 }))).toMatchObject({
      code: 'argument-wrong',
      found: 'confidance',
    });
    expect(caught(() => withOptions(0.9 as never)).code).toBe('argument-wrong');
  },
);
