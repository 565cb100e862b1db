import { describe, expect, test } from 'vitest';
import { displayStep } from '../../src/readings/displayStep.js';
import type { Meter } from '../../src/vocabulary.js';
import { NOTHING_FURTHER } from '../fullRecords.js';
import { runsOf, seriesOf } from '../series/runs.js';

describe('the step of a display', () => {
  const meter: Meter = {
    ...NOTHING_FURTHER,
    role: 'candidate',
    name: 'drawer',
  };
  const shown = (...readings: number[]) => ({
    series: [seriesOf(runsOf('C'.repeat(readings.length), ({ place }) => readings[place]!))],
  });

  test('stated, it is taken as stated', () => {
    const stated = { ...meter, resolution_mW: 0.5 };
    expect(displayStep(stated, shown(41, 42))).toEqual({ step_mW: 0.5, stated: true });
  });

  test.each([
    [[41, 42, 120], 1],
    [[41.2, 42, 40.9], 0.1],
    [[0.046, 0.0417], 1e-4],
    [[1 / 3, 2 / 3], null],
    [[0.000002, 0.000003], 1e-6],
    [[2e-7, 3e-7], null],
    [[46.2 - 0.1, 0.1 + 0.2], 0.1],
    [[0, 5], 1],
    [[1e-12, 5], 1],
    [[1234567.7 - 0.1, 1234567.3 - 0.2], 0.1],
    [[-41.2, 5], 0.1],
    [[], null],
  ])('the digits of %j show %j', (readings, step_mW) => {
    expect(displayStep(meter, shown(...readings))).toEqual({ step_mW, stated: false });
  });

  test('only what the meter itself showed counts, in all series', () => {
    const runs = runsOf('RCRC', ({ place }) => [41.25, 42, 43.333, 44][place]!);
    const [first, second] = [seriesOf(runs), seriesOf(runsOf('C', () => 41.5))];
    const steps = [[first], [first, second]].map(
      (series) => displayStep(meter, { series }).step_mW,
    );
    expect(steps).toEqual([1, 0.1]);
    expect(displayStep({ ...meter, role: 'reference' }, { series: [first] }).step_mW).toBe(0.001);
  });

  test('a subtracted zero does not hide the step that was shown', () => {
    const runs = runsOf('CC', () => 41.7).map((run) => ({ ...run, zero_mW: 0.3 }));
    expect(displayStep(meter, { series: [seriesOf(runs)] }).step_mW).toBe(1);
  });
});
