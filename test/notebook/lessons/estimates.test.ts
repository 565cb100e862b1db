import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { combineContributions } from '../../../src/budget/combine.js';
import { MeterpairError } from '../../../src/error.js';
import {
  type Coverage,
  coverageByLaps,
  coverageOf,
  errorsOf,
} from '../../../src/notebook/lessons/counts.js';
import {
  budgetEstimate,
  type Estimate,
  lapEstimate,
  lapLogs,
  modelEstimate,
  narrowest,
  studentFactor,
} from '../../../src/notebook/lessons/estimates.js';
import { repeatSeries, workshops } from '../../../src/notebook/lessons/repeat.js';
import { studentCdf } from '../../../src/statistics/distributions.js';
import { oneSampleStudent } from '../../../src/statistics/student.js';
import { mean, standardDeviation } from '../../../src/statistics/summary.js';
import { KNOWN_EXACTLY } from '../../../src/vocabulary.js';

const bench = {
  laps: 5,
  level_mW: 50,
  factor: 1.1,
  noise: { reference: 0.004, candidate: 0.006 },
} as const;
const logsOf = (laps: number, times: number, seed = laps) =>
  repeatSeries({ bench: { ...bench, laps }, times, seed }).map((series) => lapLogs(series));

/** As far as so many repetitions can tell: four standard errors of a proportion. */
function expectShare({ held, times }: Coverage, p: number): void {
  expect(Math.abs(held / times - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / times));
}

describe('lapEstimate', () => {
  test('uses the t of the table', () => {
    // NIST/SEMATECH e-Handbook, 1.3.6.7.2, t for 0.975 at 2, 4, 9, 19 degrees of freedom; half a
    // unit of the last printed digit.
    for (const [laps, t] of [
      [3, 4.303],
      [5, 2.776],
      [10, 2.262],
      [20, 2.093],
    ] as const) {
      expect(Math.abs(studentFactor(laps) - t)).toBeLessThan(0.0005);
    }
  });

  test('is the interval of a mean on the logarithm, whatever the laps', () => {
    const log = fc.double({ min: -0.5, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(fc.array(log, { minLength: 2, maxLength: 12 }), (logs) => {
        const own = lapEstimate(logs);
        const { low, high, estimate } = oneSampleStudent(logs);
        expect(Math.log(own.value)).toBeCloseTo(estimate, 10);
        expect(Math.log(own.low)).toBeCloseTo(low, 10);
        expect(Math.log(own.high)).toBeCloseTo(high, 10);
      }),
      { seed: 1, numRuns: 100 },
    );
  });

  test('keeps what it promises, and with 1.96 holds the truth as seldom as Student says', () => {
    for (const laps of [3, 4, 8]) {
      const all = logsOf(laps, 2000);
      const t = all.map((logs) => lapEstimate(logs));
      expectShare(coverageOf(t, bench.factor), 0.95);
      const short = all.map((logs) => lapEstimate(logs, { k: 1.96 }));
      expectShare(coverageOf(short, bench.factor), 2 * studentCdf(1.96, laps - 1) - 1);
      const less = all.map((logs) => lapEstimate(logs, { confidence: 0.68 }));
      expectShare(coverageOf(less, bench.factor), 0.68);
    }
  });

  test('refuses a single lap', () => {
    expect(() => lapEstimate([0.1])).toThrow(MeterpairError);
  });
});

test('the drift model finds the factor where the plain mean keeps a step of the drift', () => {
  const list = repeatSeries({
    bench: { ...bench, laps: 8, source: { drift: { linear_per_run: -0.01 } } },
    times: 60,
    seed: 2,
  });
  const plain = errorsOf(
    list.map((series) => lapEstimate(lapLogs(series))),
    bench.factor,
  );
  const model = errorsOf(
    list.map((series) => modelEstimate(series)),
    bench.factor,
  );
  // One run of drift is 1 %, in every lap. Scatter of K in an evening: 0.72 %/√8; 60 evenings.
  const four = (4 * 0.72) / Math.sqrt(8 * 60);
  expect(Math.abs(plain.mean - 1)).toBeLessThan(four);
  expect(Math.abs(model.mean)).toBeLessThan(four);
});

test('a repetition begins with the same evenings, however many there are', () => {
  const [few, many] = [3, 5].map((times) => repeatSeries({ bench, times, seed: 4 }));
  expect(many?.slice(0, 3)).toEqual(few);
  expect(new Set(many?.map((series) => series.runs[0]?.reading_mW)).size).toBe(5);
  expect(() => repeatSeries({ bench, times: 0, seed: 4 })).toThrow(MeterpairError);
});

describe('the budget', () => {
  const staying = { certificate: 0.01, placement: 0.005 };
  const series = (laps: number) =>
    workshops({ bench: { ...bench, laps }, staying, times: 1500, seed: laps });
  const all = series(30).map((one) => lapLogs(one));

  test('of laps and what stays is that of the package', () => {
    const [logs = []] = all;
    const own = budgetEstimate(logs, Object.values(staying));
    const laps = standardDeviation(logs) / Math.sqrt(logs.length);
    const whole = combineContributions(
      [
        { name: 'laps', u: laps, dof: logs.length - 1 },
        { name: 'certificate', u: 0.01, dof: KNOWN_EXACTLY },
        { name: 'placement', u: 0.005, dof: KNOWN_EXACTLY },
      ].map(({ name, u, dof }) => ({
        name,
        relative_standard_uncertainty: u,
        dof,
        type: 'A' as const,
        note: '',
      })),
      { confidence: 0.95 },
    );
    expect(Math.log(own.high / own.low) / 2).toBeCloseTo(whole.relative_expanded_uncertainty, 9);
  });

  test('holds the true factor as promised; the scatter alone does not, the less the more laps', () => {
    expectShare(
      coverageOf(
        all.map((logs) => budgetEstimate(logs, Object.values(staying))),
        bench.factor,
      ),
      0.95,
    );
    const [line] = coverageByLaps({
      laps: [5, 15, 45],
      series,
      ways: [{ name: 'scatter alone', estimate: (logs) => lapEstimate(logs) }],
      truth: bench.factor,
    });
    const shares = line?.points.map(({ coverage }) => coverage.fraction) ?? [];
    expect(shares).toHaveLength(3);
    expect([...shares].sort((a, b) => b - a)).toEqual(shares);
    expect(shares[0]).toBeLessThan(0.9);
  });

  test('of many workshops shows how their references and placements differ', () => {
    const levels = all.map((logs) => mean(logs));
    // By hand: hypot(1 %, 0.5 %, 0.72 %/√30) = 1.126 %.
    const expected = Math.hypot(0.01, 0.005, Math.hypot(0.004, 0.006) / Math.sqrt(30));
    const tolerance = (4 * expected) / Math.sqrt(2 * levels.length);
    expect(Math.abs(standardDeviation(levels) - expected)).toBeLessThan(tolerance);
    expect(Math.abs(mean(levels) - Math.log(1.1))).toBeLessThan(
      (4 * expected) / Math.sqrt(levels.length),
    );
  });
});

describe('coverageOf', () => {
  const [inside, above]: readonly Estimate[] = [
    { value: 1, low: 0.9, high: 1.1 },
    { value: 2, low: 1.9, high: 2.1 },
  ];

  test('counts, an end that touches the truth included', () => {
    const found = coverageOf([inside, above, inside, inside] as Estimate[], 1.1);
    expect([found.held, found.times, found.fraction]).toEqual([3, 4, 0.75]);
    // By hand: half of ln(1.1/0.9) is 0.10034, of ln(2.1/1.9) 0.05004; mean of three and one.
    expect(found.halfWidth).toBeCloseTo((3 * 0.10034 + 0.05004) / 4, 5);
  });

  test('leaves a doubt where all or none held, and refuses nothing to count', () => {
    expect(coverageOf([inside] as Estimate[], 1).standardUncertainty).toBeGreaterThan(0);
    expect(() => coverageOf([], 1)).toThrow(MeterpairError);
  });
});

describe('narrowest', () => {
  test('picks the narrowest of each whole group', () => {
    const list = [3, 1, 2, 9, 8, 7, 5].map((width) => ({
      value: width,
      low: 1,
      high: Math.exp(width),
    }));
    expect(narrowest(list, 3).map((one) => one.value)).toEqual([1, 7]);
    expect(() => narrowest(list, 0)).toThrow(MeterpairError);
  });

  test('breaks the promise', () => {
    const all = logsOf(4, 3000).map((logs) => lapEstimate(logs));
    expect(coverageOf(narrowest(all, 3), bench.factor).fraction).toBeLessThan(0.9);
  });
});
