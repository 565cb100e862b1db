import { limitsFromFigures } from '../../src/agree/limitsOfAgreement.js';
import { replicatedMethodsLimitsFromFigures } from '../../src/agree/replicatedMethodsLimits.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { figure, once, type PublishedSource } from './figure.js';

const first = { n: 85, mean: -16.29, sd: 19.61 };
const standardError = first.sd / Math.sqrt(85);
export const single = once(() => limitsFromFigures(first));
const repeated = once(() =>
  replicatedMethodsLimitsFromFigures({
    n: 85,
    bias: -15.62,
    variance_of_means: 358.493,
    candidate: { variance: 83.141, size: 3, dof: 170 },
    reference: { variance: 37.408, size: 3, dof: 170 },
  }),
);
const memory = true;

// The figures agree with each other in R:
// -16.29 + c(-1, 1)*1.96*19.61; sqrt(358.493 + 2/3*(37.408 + 83.141)).
export const sources: readonly PublishedSource[] = [
  {
    source:
      'Bland and Altman 1999, Stat. Methods Med. Res. 8, 135: blood pressure of 85 subjects, mmHg',
    figures: [
      figure('limits, 2.1', '-54.7, 22.1', () => [single().low, single().high], { memory }),
      figure('standard error of the bias, 2.2', '2.13', () => standardError, { memory }),
      figure(
        'intervals of the limits, symmetric',
        '-61.9, -47.5, 14.9, 29.3',
        () => [...single().low_interval, ...single().high_interval],
        { memory, within: 1.2, note: 'ours are exact and reach further out' },
      ),
      figure(
        'lower end of the bias',
        '-20.5',
        () => first.mean - coverageFactor(0.95, 84) * standardError,
        { memory },
      ),
      figure(
        'corrected variance, sd, 5.1',
        '438.859, 20.95',
        () => [repeated().sd_total! ** 2, repeated().sd_total],
        { memory },
      ),
      figure(
        'limits from three repeats',
        '-56.68, 25.44',
        () => [repeated().low, repeated().high],
        {
          memory,
        },
      ),
    ],
  },
];
