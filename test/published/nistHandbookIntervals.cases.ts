import { readFileSync } from 'node:fs';
import { summariseDifferences } from '../../src/agree/summarise.js';
import { chiSquareQuantile, coverageFactor } from '../../src/statistics/distributions.js';
import { standardDeviationInterval } from '../../src/statistics/standardDeviationInterval.js';
import { oneSampleStudent, twoSampleStudent } from '../../src/statistics/student.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import { figure, once, type PublishedSource } from './figure.js';

// Section 1.3.5.2, ZARR13.DAT (B. Zarr, NIST): heat-flow meter calibration factors
const zarr = [
  9.206343, 9.299992, 9.277895, 9.305795, 9.275351, 9.288729, 9.287239, 9.260973, 9.303111,
  9.275674, 9.272561, 9.288454, 9.255672, 9.252141, 9.29767, 9.266534, 9.256689, 9.277542, 9.248205,
  9.252107, 9.276345, 9.278694, 9.267144, 9.246132, 9.238479, 9.269058, 9.248239, 9.257439,
  9.268481, 9.288454, 9.258452, 9.28613, 9.251479, 9.257405, 9.268343, 9.291302, 9.21946, 9.270386,
  9.218808, 9.241185, 9.269989, 9.226585, 9.258556, 9.286184, 9.320067, 9.327973, 9.262963,
  9.248181, 9.238644, 9.225073, 9.220878, 9.271318, 9.252072, 9.281186, 9.270624, 9.294771,
  9.301821, 9.278849, 9.23668, 9.233988, 9.244687, 9.221601, 9.207325, 9.258776, 9.275708, 9.268955,
  9.257269, 9.264979, 9.2955, 9.292883, 9.264188, 9.280731, 9.267336, 9.300566, 9.253089, 9.261376,
  9.238409, 9.225073, 9.235526, 9.23951, 9.264487, 9.244242, 9.277542, 9.310506, 9.261594, 9.259791,
  9.253089, 9.245735, 9.284058, 9.251122, 9.275385, 9.254619, 9.279526, 9.275065, 9.261952,
  9.275351, 9.252433, 9.230263, 9.25515, 9.26878, 9.290389, 9.274161, 9.255707, 9.261663, 9.250455,
  9.261952, 9.264041, 9.264509, 9.242114, 9.239674, 9.221553, 9.241935, 9.215265, 9.28593, 9.271559,
  9.266046, 9.285299, 9.268989, 9.267987, 9.246166, 9.231304, 9.240768, 9.260506, 9.274355,
  9.292376, 9.27117, 9.267018, 9.308838, 9.264153, 9.278822, 9.255244, 9.229221, 9.253158, 9.256292,
  9.262602, 9.219793, 9.258452, 9.267987, 9.267987, 9.248903, 9.235153, 9.242933, 9.253453,
  9.262671, 9.242536, 9.260803, 9.259825, 9.253123, 9.240803, 9.238712, 9.263676, 9.243002,
  9.246826, 9.252107, 9.261663, 9.247311, 9.306055, 9.237646, 9.248937, 9.256689, 9.265777,
  9.299047, 9.244814, 9.287205, 9.300566, 9.256621, 9.271318, 9.275154, 9.281834, 9.253158,
  9.269024, 9.282077, 9.277507, 9.28491, 9.23984, 9.268344, 9.247778, 9.225039, 9.23075, 9.270024,
  9.265095, 9.284308, 9.280697, 9.263032, 9.291851, 9.252072, 9.244031, 9.283269, 9.196848,
  9.231372, 9.232963, 9.234956, 9.216746, 9.274107, 9.273776,
];
// Section 1.3.5.8, GEAR.DAT: gear diameters
const gear = [
  1.006, 0.996, 0.998, 1, 0.992, 0.993, 1.002, 0.999, 0.994, 1, 0.998, 1.006, 1, 1.002, 0.997,
  0.998, 0.996, 1, 1.006, 0.988, 0.991, 0.987, 0.997, 0.999, 0.995, 0.994, 1, 0.999, 0.996, 0.996,
  1.005, 1.002, 0.994, 1, 0.995, 0.994, 0.998, 0.996, 1.002, 0.996, 0.998, 0.998, 0.982, 0.99,
  1.002, 0.984, 0.996, 0.993, 0.98, 0.996, 1.009, 1.013, 1.009, 0.997, 0.988, 1.002, 0.995, 0.998,
  0.981, 0.996, 0.99, 1.004, 0.996, 1.001, 0.998, 1, 1.018, 1.01, 0.996, 1.002, 0.998, 1, 1.006, 1,
  1.002, 0.996, 0.998, 0.996, 1.002, 1.006, 1.002, 0.998, 0.996, 0.995, 0.996, 1.004, 1.004, 0.998,
  0.999, 0.991, 0.991, 0.995, 0.984, 0.994, 0.997, 0.997, 0.991, 0.998, 1.004, 0.997,
];
// AUTO83B.DAT: miles per gallon of cars from the USA (y1) and from Japan (y2)
export const { y1, y2 }: { y1: number[]; y2: number[] } = JSON.parse(
  readFileSync(new URL('../fixtures/nistTwoSample.json', import.meta.url), 'utf8'),
);

const summary = once(() => summariseDifferences(zarr, { confidence: 0.95 }));
export const student = once(() => oneSampleStudent(zarr, { hypothesis: 5 }));
export const pooled = once(() => twoSampleStudent(y1, y2, { variances: 'pooled' }));
const welch = once(() => twoSampleStudent(y1, y2));

export const sources: readonly PublishedSource[] = [
  {
    source: 'NIST/SEMATECH e-Handbook, 1.3.5.2: confidence limits for the mean (ZARR13)',
    figures: [
      figure('mean', '9.261460', () => summary().mean, {
        within: 1e-6,
        note: 'the handbook computes in single precision',
      }),
      figure('sd', '0.022789', () => summary().sd),
      figure('95 % limits', '9.258242, 9.264679', () => [summary().low, summary().high]),
      figure('lower limit by the t test', '9.258242', () => student().low),
      figure('t against 5', '2611.284', () => student().t, {
        within: 2.6e-3,
        note: 'the handbook computes in single precision, good to 1e-6; read in a transcription',
      }),
    ],
  },
  {
    source: 'The same, 1.3.5.8: chi-square test of the standard deviation (GEAR)',
    figures: [
      figure('sd', '0.6278908e-2', () => standardDeviation(gear), {
        within: 5e-9,
        note: 'printed in single precision',
      }),
      figure('χ² critical values, ν = 99', '73.361, 128.422', () => [
        chiSquareQuantile(0.025, 99),
        chiSquareQuantile(0.975, 99),
      ]),
    ],
  },
  {
    source: 'R 4.2.2, `s*sqrt(99/qchisq(c(.975,.025),99))`: gear diameters (GEAR)',
    figures: [
      figure(
        '95 % interval of the sd',
        '0.005512921464, 0.007294048427',
        () => standardDeviationInterval(standardDeviation(gear), 99),
        { within: 1e-11, note: 'jstat’s quantiles are good to about 2e-9' },
      ),
    ],
  },
  {
    source: 'NIST/SEMATECH e-Handbook, 1.3.5.3: two-sample t test (AUTO83B)',
    figures: [
      figure('means', '20.14458, 30.48101', () => [mean(y1), mean(y2)]),
      figure('sds', '6.41470, 6.10771', () => [standardDeviation(y1), standardDeviation(y2)]),
      figure('pooled t', '-12.62059', () => pooled().t),
      figure('critical t, ν = 326', '1.9673', () => coverageFactor(0.95, 326)),
    ],
  },
  {
    source: 'R 4.2.2, `t.test(y1, y2)`: car mileage (AUTO83B)',
    figures: [
      figure('Welch’s t', '-12.94627327', () => welch().t, {
        within: 1e-8,
        note: 'one unit of the last digit',
      }),
      figure('its degrees of freedom', '136.8749767', () => welch().dof),
    ],
  },
];
