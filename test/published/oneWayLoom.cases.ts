import { replicateLimits } from '../../src/agree/replicateLimits.js';
import { oneWay } from '../../src/statistics/oneWay.js';
import { figure, once, type PublishedSource } from './figure.js';

const looms = [
  [98, 97, 99, 96],
  [91, 90, 93, 92],
  [96, 95, 97, 95],
  [95, 96, 99, 98],
];

const parts = once(() => oneWay(looms));
export const limits = once(() => replicateLimits(looms));

export const sources: readonly PublishedSource[] = [
  {
    // R: anova(lm(y ~ loom))
    source: 'Montgomery, Design and Analysis of Experiments: four looms, four cloths each',
    read: 'a public lecture on the book’s example 3.11; a course script (29.729, 1.896)',
    figures: [
      figure('mean squares between, within', '29.73, 1.90', () => [
        // Four cloths a loom.
        4 * parts().variance_of_means,
        parts().mean_square_within,
      ]),
      figure('components between, within', '6.96, 1.90', () => [
        limits().sd_between! ** 2,
        limits().sd_within! ** 2,
      ]),
      figure('total', '8.86', () => limits().sd_total! ** 2, {
        within: 1e-2,
        note: 'printed: the sum of the rounded components',
      }),
    ],
  },
];
