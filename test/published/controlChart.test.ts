import { describe, expect, it } from 'vitest';
import { controlChart } from '../../src/factors/controlChart.js';

describe('NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, flow rate of ten batches', () => {
  // Values and answers read in a public copy of that page: mean 50.81, mean moving range 1.8778,
  // limits 55.8041 and 45.8159, no point outside.
  const chart = controlChart({
    values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1],
  });

  it('has the printed centre and limits', () => {
    expect(chart.centre).toBeCloseTo(50.81, 4);
    expect(chart.limits[1]).toBeCloseTo(55.8041, 4);
    expect(chart.limits[0]).toBeCloseTo(45.8159, 4);
  });

  it('has the printed mean moving range', () => {
    const ranges = chart.points.flatMap(({ movingRange }) =>
      movingRange === null ? [] : [movingRange],
    );
    expect(ranges.reduce((a, b) => a + b) / ranges.length).toBeCloseTo(1.8778, 4);
  });

  it('has no point beyond its limits', () => {
    expect(chart.points.flatMap((point) => point.signals)).not.toContain('beyond the limits');
  });
});
