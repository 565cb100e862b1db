import { equivalenceOfRatio } from '../../src/agree/equivalence.js';
import { figure, once, type PublishedSource } from './figure.js';

const generic = [
  103.4, 59.92, 68.17, 94.54, 69.48, 72.17, 74.37, 84.44, 96.74, 94.26, 48.52, 95.68,
];
const reference = [
  90.11, 77.71, 77.71, 97.51, 58.21, 101.3, 79.84, 96.06, 89.3, 97.22, 61.62, 85.8,
];
export const found = once(() =>
  equivalenceOfRatio(
    generic.map((value, i) => value / reference[i]),
    { low: 0.8, high: 1.25 },
  ),
);

export const sources: readonly PublishedSource[] = [
  {
    source: 'SAS/STAT User’s Guide, TTEST, equivalence testing with lognormal data',
    figures: [
      figure('ratio and its 90 % interval', '0.9412, 0.8634, 1.0260', () => [
        found().estimate,
        found().low,
        found().high,
      ]),
      figure('t of both tests', '3.38, -5.90', () => [found().t_low, found().t_high]),
      figure('p of the lower one, overall p', '0.0031, 0.0031', () => [found().p_low, found().p]),
    ],
  },
];
