import { coverageFactor } from '../../src/statistics/distributions.js';
import { figure, type PublishedSource } from './figure.js';

/** Degrees of freedom, then t for 95 %, 95.45 % and 99 %. */
export const TABLE_G2: readonly (readonly [number, string])[] = [
  [1, '12.71, 13.97, 63.66'],
  [2, '4.30, 4.53, 9.92'],
  [3, '3.18, 3.31, 5.84'],
  [5, '2.57, 2.65, 4.03'],
  [8, '2.31, 2.37, 3.36'],
  [10, '2.23, 2.28, 3.17'],
  [16, '2.12, 2.17, 2.92'],
  [20, '2.09, 2.13, 2.85'],
  [50, '2.01, 2.05, 2.68'],
];
export const G2_CONFIDENCES = [0.95, 0.9545, 0.99];

// In R: qt(1 - (1 - p)/2, dof).
export const sources: readonly PublishedSource[] = [
  {
    source: 'JCGM 100:2008 (GUM), table G.2: t for 95 %, 95.45 %, 99 %',
    read: 'the same table of NIST TN 1297 (1994), B.1',
    figures: TABLE_G2.map(([dof, printed]) =>
      figure(`ν = ${dof}`, printed, () => G2_CONFIDENCES.map((p) => coverageFactor(p, dof))),
    ),
  },
];
