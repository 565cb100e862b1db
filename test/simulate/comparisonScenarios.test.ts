import { describe, expect, test } from 'vitest';
import { reCheckScenarios, unitScenarios } from '../../src/simulate/comparisonScenarios.js';
import { virtualStudy } from '../../src/simulate/virtualStudy.js';

const checks = { checks: 4, factor: 1.1, placement_sd: 0.006, seed: 3 };
const units = { units: 400, factor: 1.2, between_units_sd: 0.03, placement_sd: 0.006, seed: 3 };

describe('re-checks of one candidate', () => {
  test('creep by the same part each time, under one name, in data of their own', () => {
    const made = reCheckScenarios({ ...checks, creep: 0.01 });
    const factors = made.map((one) => one.series[0]?.bench.factor ?? 0);
    expect(factors[3]).toBeCloseTo(1.1 * 1.01 ** 3, 12);
    expect(new Set(made.map((one) => one.study.candidate.name)).size).toBe(1);
    const files = made.map((one) => virtualStudy(one).files['runs.csv']);
    expect(new Set(files).size).toBe(4);
    expect(reCheckScenarios({ ...checks, creep: 0.01 })).toEqual(made);
    expect(made[0]?.hidden).toContain('The reference reads 0.8 % high on everything.');
  });

  test('take as many series as wanted, each seated anew', () => {
    const [one] = reCheckScenarios({ ...checks, series: 3 });
    expect(new Set(one?.series.map((series) => series.placement)).size).toBe(3);
  });
});

describe('several units', () => {
  test('scatter as wanted about the factor of the production', () => {
    const logs = unitScenarios(units).map((one) => Math.log(one.series[0]?.bench.factor ?? 0));
    const mean = logs.reduce((sum, one) => sum + one, 0) / logs.length;
    const sd = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (logs.length - 1));
    // Four standard errors: 0.03/√400 = 0.0015 of the mean, 0.03/√800 = 0.0011 of the deviation.
    expect(Math.abs(mean - Math.log(1.2))).toBeLessThan(0.006);
    expect(Math.abs(sd - 0.03)).toBeLessThan(0.0043);
  });

  test('bear different names, and further ones leave the first as they are', () => {
    const few = unitScenarios({ ...units, units: 3 });
    expect(unitScenarios({ ...units, units: 9 }).slice(0, 3)).toEqual(few);
    expect(new Set(few.map((one) => one.study.candidate.name)).size).toBe(3);
  });
});

test('plans that cannot be are refused', () => {
  expect(() => reCheckScenarios({ ...checks, checks: 0 })).toThrow(/at least one/);
  expect(() => unitScenarios({ ...units, units: 1.5 })).toThrow(/at least one/);
  expect(() => unitScenarios({ ...units, factor: 0 })).toThrow(/above 0/);
});
