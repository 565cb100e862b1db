import { summariseDifferences } from '../../src/agree/summarise.js';
import { oneSampleStudent } from '../../src/statistics/student.js';
import { figure, once, type PublishedSource } from './figure.js';

export const drug1 = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
export const drug2 = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
const gain = drug2.map((value, i) => value - drug1[i]);

export const student = once(() => oneSampleStudent(gain));
const summary = once(() => summariseDifferences(gain));

export const sources: readonly PublishedSource[] = [
  {
    source: 'Student 1908, Biometrika 6, 1: hours of sleep gained',
    figures: [
      figure('mean, sd with divisor n', '1.58, 1.17', () => [
        student().estimate,
        summary().sd! * Math.sqrt(0.9),
      ]),
    ],
  },
  {
    source: 'R, example of `t.test` on `datasets::sleep`, paired',
    figures: [
      figure('t, p', '4.0621, 0.002833', () => [student().t, student().p]),
      figure('95 % interval', '0.7001142, 2.4598858', () => [student().low, student().high]),
    ],
  },
];
