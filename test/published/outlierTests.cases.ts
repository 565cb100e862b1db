import { generalisedEsd } from '../../src/statistics/generalisedEsd.js';
import { grubbs } from '../../src/statistics/grubbs.js';
import { figure, once, type PublishedSource } from './figure.js';

export const rosner = [
  -0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65,
  1.69, 1.7, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24,
  2.26, 2.35, 2.37, 2.4, 2.47, 2.54, 2.62, 2.64, 2.9, 2.92, 2.92, 2.93, 3.21, 3.26, 3.3, 3.59, 3.68,
  4.3, 4.64, 5.34, 5.42, 6.01,
];
export const esd = once(() => generalisedEsd(rosner, { most: 10 }));
export const tietjenMoore = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
export const oneSided = once(() => grubbs(tietjenMoore, { alpha: 0.1 }));
const CUT = 'the handbook cuts its digits off (3.1189 stands as 3.118): one unit';

export const sources: readonly PublishedSource[] = [
  {
    source: 'NIST/SEMATECH e-Handbook, 1.3.5.17.3: generalised ESD (Rosner 1983), steps 1 to 10',
    figures: [
      figure(
        'R',
        '3.118, 2.942, 3.179, 2.810, 2.815, 2.848, 2.279, 2.310, 2.101, 2.067',
        () => esd().steps.map(({ statistic }) => statistic),
        { within: 1e-3, note: CUT },
      ),
      figure(
        'λ',
        '3.158, 3.151, 3.143, 3.136, 3.128, 3.120, 3.111, 3.103, 3.094, 3.085',
        () => esd().steps.map(({ critical }) => critical),
        { within: 1e-3, note: CUT },
      ),
    ],
  },
  {
    source: 'NIST/SEMATECH e-Handbook, 1.3.5.17.1: Grubbs (Tietjen and Moore 1972)',
    figures: [
      figure('G', '2.4687', () => oneSided().statistic, {
        within: 1e-4,
        note: 'cut off; exact 2.468765',
      }),
      // One-sided at 5 % is two-sided at 10 %.
      figure('critical value, one-sided 5 %', '2.032', () => oneSided().critical),
    ],
  },
  {
    // Two-sided 5 %, n = 8: 2.126 (LibreTexts, Analytical Chemistry, appendix 7); 2.13 in a table
    // after Grubbs 1969.
    source: 'R 4.2.2, `t <- qt(1-.05/16, 6); 7/sqrt(8)*sqrt(t^2/(6+t^2))`',
    figures: [
      figure(
        'two-sided critical value, 5 %, n = 8',
        '2.1266450872',
        () => grubbs(tietjenMoore).critical,
        {
          within: 1e-8,
          note: 'jstat’s quantiles are good to about 2e-9',
        },
      ),
    ],
  },
];
