/** Published calibration lines: GUM H.3, NIST linewidths, ISO/TS 28037. */
import { expect, test } from 'vitest';
import { inverseOnLine } from '../../src/power/lines/inverseOnLine.js';
import { near } from '../near.js';
import { equalWeights, linewidths, sources, thermometer } from './calibrationLines.cases.js';
import { holds } from './holds.js';

holds(sources);

test('degrees of freedom are as printed', () => {
  expect(thermometer(20).dof).toBe(9);
  expect(linewidths().dof).toBe(38);
});

test('a value is read back on the linewidth line as the handbook does', () => {
  // 2.3.7.1: calibrated value = (y − a) / b; first control reading 1.12 of an artifact of 0.76
  const [intercept, slope] = sources[1].figures.map(({ printed }) => Number(printed[0]));
  near(inverseOnLine(linewidths(), { y: 1.12 }).value, (1.12 - intercept) / slope, 1e-6);
});

test('ISO/TS 28037, example 1: χ² is not above 9.488, the 95 % quantile for four', () => {
  expect(equalWeights().p).toBeGreaterThan(0.05);
});
