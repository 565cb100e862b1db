import { wilcoxonSignedRank } from '../../src/statistics/wilcoxonSignedRank.js';
import { figure, once, type PublishedSource } from './figure.js';

const before = [1.83, 0.5, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.3];
const after = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];

export const found = once(() => wilcoxonSignedRank(before.map((value, i) => value - after[i])));

export const sources: readonly PublishedSource[] = [
  {
    source:
      'Hollander and Wolfe 1973, Nonparametric Statistical Methods, p. 29: depression scale of 9 patients',
    read: 'R’s `wilcox.test`; differences: the help of R’s asbio',
    figures: [
      // 10/512
      figure('V, one-sided p', '40, 0.01953', () => [found().statistic, found().p! / 2]),
      // R 4.2.2 gives the same, test/fixtures/agree.txt: wilcox.test(before-after, conf.int=TRUE) and
      // 1-2*psignrank(5,9).
      figure(
        'estimate, interval and its confidence',
        '0.46, 0.010, 0.786, 0.961',
        () => [found().estimate, found().low, found().high, found().achieved_confidence],
        { memory: true, note: 'R gives the same' },
      ),
    ],
  },
];
