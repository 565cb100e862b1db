import { correlation } from '../../src/agree/correlation.js';
import { bootstrap } from '../../src/statistics/bootstrap.js';
import { jackknife } from '../../src/statistics/jackknife.js';
import { figure, once, type PublishedSource } from './figure.js';

// Table 3.1: law schools
const lsat = [576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594];
const gpa = [
  3.39, 3.3, 2.81, 3.03, 3.44, 3.07, 3.0, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96,
];
const schools = lsat.map((score, i) => [score, gpa[i]] as const);
const r = (sample: readonly (readonly [number, number])[]) =>
  correlation({ reference: sample.map(([x]) => x), candidate: sample.map(([, y]) => y) }) ??
  Number.NaN;

// Table 14.1: spatial test A of 26 children
const spatial = [
  48, 36, 20, 29, 42, 42, 20, 42, 22, 41, 45, 14, 6, 0, 33, 28, 34, 4, 32, 24, 47, 41, 24, 26, 30,
  41,
];
const plugInVariance = (sample: readonly number[]) => {
  const centre = sample.reduce((sum, value) => sum + value, 0) / sample.length;
  return sample.reduce((sum, value) => sum + (value - centre) ** 2, 0) / sample.length;
};

export const spatialTest = once(() =>
  bootstrap(spatial, plugInVariance, { confidence: 0.9, resamples: 20000, seed: 7 }),
);
const lawSchool = once(() => jackknife(schools, r));
// The bias correction of 2000 resamples is uncertain by 0.028.
const RESAMPLES = 'printed from 2000 resamples, which leave so much open';
const SEEDS = 'three standard deviations of 20 000 resamples';

export const sources: readonly PublishedSource[] = [
  {
    source: 'Efron and Tibshirani 1993, An Introduction to the Bootstrap: law schools, table 3.1',
    read: 'Martinez and Martinez, Computational Statistics Handbook (2002), example 7.4 (0.78, -0.0065, 0.14); course notes (0.1425186); 0.776 where others quote the authors',
    figures: [
      figure('correlation', '0.776', () => lawSchool().estimate),
      figure('jackknife: bias, standard error', '-0.0065, 0.1425', () => [
        lawSchool().bias,
        lawSchool().standard_error,
      ]),
      figure(
        'bootstrap: standard error, table 6.1',
        '0.132',
        () => bootstrap(schools, r, { resamples: 3200, seed: 20 }).standard_error,
        { within: 0.0044, note: 'two runs of 3200 differ by 2 × 0.0022', memory: true },
      ),
    ],
  },
  {
    source: 'The same, 14.3: spatial test A of 26 children, table 14.1',
    read: 'the tests of Python’s pylogit (pages 183, 186)',
    figures: [
      figure('variance', '171.5', () => spatialTest().estimate, { memory: true }),
      figure('acceleration', '0.061', () => spatialTest().acceleration),
      figure('bias correction', '0.146', () => spatialTest().bias_correction, {
        within: 0.056,
        note: RESAMPLES,
      }),
      figure('90 % BCa interval: lower end', '115.8', () => spatialTest().low, {
        within: 2,
        note: RESAMPLES,
      }),
      figure('upper end', '259.6', () => spatialTest().high, { within: 6, note: RESAMPLES }),
    ],
  },
  {
    source:
      'SciPy 1.17.1, `scipy.stats.bootstrap`, BCa, 400 000 resamples: spatial test A of Efron and Tibshirani',
    figures: [
      figure('lower end', '115.504', () => spatialTest().low, { within: 1.5, note: SEEDS }),
      figure('upper end', '261.120', () => spatialTest().high, { within: 7, note: SEEDS }),
      figure('sd', '41.879', () => spatialTest().standard_error, { within: 0.65, note: SEEDS }),
    ],
  },
];
