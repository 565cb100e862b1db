/** The drift model without drift is Welch's comparison of two means. */
import { type Group, twoGroupFit } from '../../src/statistics/twoGroupFit.js';
import { figure, once, type PublishedSource } from './figure.js';
import { y1, y2 } from './nistHandbookIntervals.cases.js';
import { drug1, drug2 } from './studentSleep.cases.js';

function compare(first: readonly number[], second: readonly number[]) {
  const groups: Group[] = [...first.map((): Group => 0), ...second.map((): Group => 1)];
  const fit = twoGroupFit(
    groups.map((group) => [1, group - 0.5]),
    [...first, ...second],
    groups,
  );
  const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[1]!);
  return { fit, difference: fit.coefficients[1]!, standardUncertainty, dof };
}

export const cars = once(() => compare(y1, y2));
export const pooledSd = () =>
  Math.sqrt(cars().fit.residualSumOfSquares / (cars().fit.n - cars().fit.p));
const welch = ({ difference, standardUncertainty, dof }: ReturnType<typeof compare>) => [
  -difference / standardUncertainty,
  dof,
];

export const sources: readonly PublishedSource[] = [
  {
    source: 'NIST/SEMATECH e-Handbook, 1.3.5.3, by the drift model without drift',
    figures: [
      figure('sds, pooled', '6.41470, 6.10771, 6.34260', () => [
        Math.sqrt(cars().fit.variances[0]),
        Math.sqrt(cars().fit.variances[1]),
        pooledSd(),
      ]),
      figure(
        'pooled t',
        '-12.62059',
        () => -cars().difference / (pooledSd() * Math.sqrt(1 / 249 + 1 / 79)),
      ),
    ],
  },
  {
    source: 'R 4.2.2, `t.test(y1, y2)`: car mileage, by the drift model without drift',
    figures: [
      figure('Welch’s t', '-12.9462732749', () => welch(cars())[0], {
        within: 1e-9,
        note: 'twelve digits of doubles',
      }),
      figure('its degrees of freedom', '136.874976673', () => welch(cars())[1], {
        within: 1e-7,
        note: 'twelve digits of doubles',
      }),
    ],
  },
  {
    source: 'R, example of `t.test`: sleep data (Student 1908), by the drift model without drift',
    figures: [
      figure('Welch’s t, its degrees of freedom', '-1.8608, 17.776', () =>
        welch(compare(drug1, drug2)),
      ),
    ],
  },
];
