import { demingLine } from '../../src/power/lines/demingLine.js';
import { ordinaryLine } from '../../src/power/lines/ordinaryLine.js';
import { theilSenLine } from '../../src/power/lines/theilSenLine.js';
import { yorkLine } from '../../src/power/lines/yorkLine.js';
import { york } from '../power/lines/fixtures.js';
import { figure, once, type PublishedSource } from './figure.js';

export const yorkFit = once(() => yorkLine(york));
export const demingFit = once(() => demingLine(york));
const ordinary = once(() => ordinaryLine(york));
/** Sen's example (data of Graybill 1961). */
export const senPoints = { x: [1, 2, 3, 4, 10, 12, 18], y: [9, 15, 19, 20, 45, 55, 78] };
const senNormal = once(() => theilSenLine(senPoints, { confidence: 0.93, interval: 'normal' }));

export const sources: readonly PublishedSource[] = [
  {
    source:
      'York and others 2004, Am. J. Phys. 72, 367, table II: Pearson’s points, York’s weights',
    read: 'more digits: M. Lybanon 1984, Am. J. Phys. 52, 22',
    figures: [
      // Standard uncertainties at the adjusted points, unscaled
      figure('intercept and its u', '5.47991022, 0.294971', () => [
        yorkFit().intercept.value,
        yorkFit().intercept.standard_uncertainty,
      ]),
      figure('slope and its u', '-0.480533407, 0.057985', () => [
        yorkFit().slope.value,
        yorkFit().slope.standard_uncertainty,
      ]),
      figure('χ², per degree of freedom', '11.8664, 1.4833', () => [
        yorkFit().chi_square,
        (yorkFit().residual_sd ?? Number.NaN) ** 2,
      ]),
    ],
  },
  {
    source: 'K. Pearson 1901, Phil. Mag. 2, 559: orthogonal line',
    figures: [
      // The tutorial of Python's kapteyn computes 5.7840437742 and -0.5455611974, but quotes 5.7857:
      // lines.md. R: v <- prcomp(cbind(x, y))$rotation[, 1]; b <- v[2]/v[1]; c(mean(y) - b*mean(x), b)
      figure(
        'intercept, slope',
        '5.784, -0.546',
        () => [demingFit().intercept.value, demingFit().slope.value],
        { memory: true },
      ),
    ],
  },
  {
    source: 'Reed 1992: ordinary line through Pearson’s points',
    figures: [
      figure('intercept, slope', '5.761185, -0.539577', () => [
        ordinary().intercept.value,
        ordinary().slope.value,
      ]),
    ],
  },
  {
    source: 'SciPy’s own test of Sen’s example (1968), `theilslopes`',
    figures: [
      figure('93 % interval by the normal approximation', '3.71, 4.38', () => [
        senNormal().slope.interval?.[0],
        senNormal().slope.interval?.[1],
      ]),
    ],
  },
];
