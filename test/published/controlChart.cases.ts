import { controlChart } from '../../src/factors/controlChart.js';
import { figure, once, type PublishedSource } from './figure.js';

export const chart = once(() =>
  controlChart({ values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1] }),
);
const meanRange = () => {
  const ranges = chart().points.flatMap(({ movingRange }) =>
    movingRange === null ? [] : [movingRange],
  );
  return ranges.reduce((a, b) => a + b) / ranges.length;
};

export const sources: readonly PublishedSource[] = [
  {
    source: 'NIST/SEMATECH e-Handbook, 6.3.2.2: flow rate of ten batches',
    read: 'a public copy of that page',
    figures: [
      figure('centre, mean moving range', '50.81, 1.8778', () => [chart().centre, meanRange()]),
      figure('limits', '45.8159, 55.8041', () => chart().limits),
    ],
  },
];
