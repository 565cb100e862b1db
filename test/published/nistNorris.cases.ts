import { ordinaryLine } from '../../src/power/lines/ordinaryLine.js';
import { weightedLine } from '../../src/power/lines/weightedLine.js';
import { figure, once, type PublishedSource } from './figure.js';

const x = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9,
  338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0,
  779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
];
const y = [
  0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8,
  339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5,
  778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
];

export const line = once(() => ordinaryLine({ x, y }));
const weighted = once(() =>
  weightedLine({ x, y, y_standard_uncertainty: x.map(() => 1) }, { scale: 'estimated' }),
);
// Double precision loses what forming sums of squares about the mean loses, two to three digits.
const SUMS = { relative: 1e-12, note: 'sums of squares in double precision: 12 digits' };

export const sources: readonly PublishedSource[] = [
  {
    source: 'NIST StRD, Norris (J. Norris), ordinary line, certified to 15 digits',
    figures: [
      figure('intercept', '-0.262323073774029', () => line().intercept.value, SUMS),
      figure('slope', '1.00211681802045', () => line().slope.value, { ...SUMS, relative: 1e-14 }),
      figure(
        's of the intercept',
        '0.232818234301152',
        () => line().intercept.standard_uncertainty,
        SUMS,
      ),
      figure(
        's of the slope, ordinary and weighted',
        '0.000429796848199937, 0.000429796848199937',
        () => [line().slope.standard_uncertainty, weighted().slope.standard_uncertainty],
        SUMS,
      ),
      figure('residual sd', '0.884796396144373', () => line().residual_sd, SUMS),
      figure('R²', '0.999993745883712', () => line().r_squared, { ...SUMS, relative: 1e-14 }),
      // The residual sum of squares is χ² for unit weights.
      figure('residual sum of squares', '26.6173985294224', () => weighted().chi_square, SUMS),
      figure('intercept, weighted', '-0.262323073774029', () => weighted().intercept.value, {
        ...SUMS,
        relative: 5e-12,
      }),
    ],
  },
];
