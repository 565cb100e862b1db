import { ordinaryLine } from '../../src/power/lines/ordinaryLine.js';
import { predictOnLine } from '../../src/power/lines/predictOnLine.js';
import { weightedLine } from '../../src/power/lines/weightedLine.js';
import { yorkLine } from '../../src/power/lines/yorkLine.js';
import { figure, once, type PublishedSource } from './figure.js';

// Table H.6: readings t in °C and corrections b
export const t = [
  21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
];
export const b = [
  -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16,
];

type Line = Pick<ReturnType<typeof ordinaryLine>, 'intercept' | 'slope' | 'covariance'>;
const intercept = ({ intercept: { value, standard_uncertainty } }: Line) => [
  value,
  standard_uncertainty,
];
const slope = ({ slope: { value, standard_uncertainty } }: Line) => [value, standard_uncertainty];
const correlation = ({ covariance, ...line }: Line) =>
  covariance! / (line.intercept.standard_uncertainty! * line.slope.standard_uncertainty!);

/** The line of H.3 about an origin t0 in °C. */
export const thermometer = (t0: number) => ordinaryLine({ x: t.map((value) => value - t0), y: b });
const line20 = once(() => thermometer(20));
const at30 = once(() => predictOnLine(line20(), { x: 10 }));

const reference = [6.19, 9.17, 1.99, 7.77, 4.0, 10.77, 4.78, 2.99, 6.98, 9.98];
const measured = [
  6.31, 9.27, 2.21, 8.0, 4.27, 10.93, 4.95, 3.24, 7.14, 10.23, 6.27, 9.21, 2.19, 7.81, 4.15, 10.73,
  4.87, 3.17, 7.07, 10.02, 6.31, 9.34, 2.22, 7.95, 4.15, 10.92, 5.0, 3.21, 7.18, 10.07, 6.28, 9.23,
  2.2, 7.84, 4.15, 10.89, 5.0, 3.21, 7.2, 10.17,
];
export const linewidths = once(() =>
  ordinaryLine({ x: [...reference, ...reference, ...reference, ...reference], y: measured }),
);

const x = [1, 2, 3, 4, 5, 6];
export const equalWeights = once(() =>
  weightedLine({
    x,
    y: [3.3, 5.6, 7.1, 9.3, 10.7, 12.1],
    y_standard_uncertainty: [0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
  }),
);
const otherWeights = once(() =>
  weightedLine({
    x,
    y: [3.2, 4.3, 7.6, 8.6, 11.7, 12.8],
    y_standard_uncertainty: [0.5, 0.5, 0.5, 1, 1, 1],
  }),
);
const bothUncertain = once(() =>
  yorkLine({
    x: [1.2, 1.9, 2.9, 4.0, 4.7, 5.9],
    y: [3.4, 4.4, 7.2, 8.5, 10.8, 13.5],
    x_standard_uncertainty: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2],
    y_standard_uncertainty: [0.2, 0.2, 0.2, 0.4, 0.4, 0.4],
  }),
);
const rest = (line: { covariance: number | null; chi_square: number | null }) => [
  line.covariance,
  line.chi_square,
];

export const sources: readonly PublishedSource[] = [
  {
    source: 'JCGM 100:2008 (GUM), H.3: calibration of a thermometer, °C',
    figures: [
      figure('y₁ and its u', '-0.1712, 0.0029', () => intercept(line20())),
      figure('y₂ and its u', '0.00218, 0.00067', () => slope(line20())),
      figure('correlation, residual sd', '-0.930, 0.0035', () => [
        correlation(line20()),
        line20().residual_sd,
      ]),
      figure('correction at 30 °C and its u', '-0.1494, 0.0041', () => [
        at30().value,
        at30().standard_uncertainty,
      ]),
      // 24.0085 °C is the rounded mean: r = 0 to three digits
      figure('correlation about the mean, H.3.5', '0.000', () => correlation(thermometer(24.0085))),
    ],
  },
  {
    source: 'NIST/SEMATECH e-Handbook, 2.3.6.7.3: linewidths, µm',
    figures: [
      figure('intercept and its u', '0.2357623, 0.02430034', () => intercept(linewidths())),
      figure('slope and its u', '0.9870377, 0.003441', () => slope(linewidths())),
      figure('residual sd', '0.06203', () => linewidths().residual_sd),
    ],
  },
  {
    source: 'ISO/TS 28037:2010, 6.3, example 1: equal known u(y)',
    read: 'the manual of the uncertainty library GTC, which quotes pages 13, 15 and 21',
    figures: [
      figure('intercept and its u', '1.867, 0.465', () => intercept(equalWeights())),
      figure('slope and its u', '1.757, 0.120', () => slope(equalWeights())),
      figure('covariance, χ²', '-0.050, 1.665', () => rest(equalWeights())),
    ],
  },
  {
    source: 'ISO/TS 28037:2010, 6.3, example 2: different known u(y)',
    read: 'as above',
    figures: [
      figure('intercept and its u', '0.885, 0.530', () => intercept(otherWeights())),
      figure('slope and its u', '2.057, 0.178', () => slope(otherWeights())),
      figure('covariance, χ²', '-0.082, 4.131', () => rest(otherWeights())),
    ],
  },
  {
    source: 'ISO/TS 28037:2010, 7: u(x) and u(y)',
    read: 'as above',
    figures: [
      figure('intercept and its u', '0.5788, 0.4764', () => intercept(bothUncertain())),
      figure('slope and its u', '2.1597, 0.1355', () => slope(bothUncertain()), {
        note: 'the manual cuts the slope to 2.159; its last digit is from memory',
      }),
      figure('covariance, χ²', '-0.0577, 2.743', () => rest(bothUncertain())),
    ],
  },
];
