import type { PublishedSource } from './figure.js';
import { certified, fitFrom } from './stepResponse.js';

export const x = [
  77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0,
];
export const y = [
  10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
];
export const fits = [fitFrom(x, y, [500, 0.0001]), fitFrom(x, y, [250, 0.0005])] as const;

export const CERTIFIED = {
  b1: '238.94212918',
  b2: '5.5015643181e-4',
  's(b1)': '2.7070075241',
  's(b2)': '7.2668688436e-6',
  'residual sum of squares': '0.12455138894',
  'residual sd': '0.10187876330',
} as const;

export const sources: readonly PublishedSource[] = [
  {
    // Recomputed in R as well.
    source: 'NIST StRD, Misra1a (D. Misra), certified to 11 digits, the worse of two starts',
    read: 'a transcription of NIST’s file in the tests of Python’s statsmodels',
    figures: certified(CERTIFIED, fits),
  },
];
