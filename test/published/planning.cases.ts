import { comparisonDesign } from '../../src/plan/comparisonDesign.js';
import { lapsToShowBias } from '../../src/plan/lapsToShowBias.js';
import { figure, once, type PublishedSource } from './figure.js';

// Plain alternation without drift is the test of two groups, with the laps as size of a group.
export const lapsFor = (bias: number) =>
  lapsToShowBias({
    bias,
    power: 0.8,
    confidence: 0.95,
    order: 'reference-first',
    reference_sd: 1,
    candidate_sd: 1,
    drift_degree: 0,
  });

// Two references, two test items; divisor 8.
export const fourItems = once(() =>
  comparisonDesign({
    differences: [
      [1, -1, 0, 0],
      [1, 0, -1, 0],
      [1, 0, 0, -1],
      [0, 1, -1, 0],
      [0, 1, 0, -1],
      [0, 0, 1, -1],
    ],
    restraint: [1, 1, 0, 0],
  }),
);

// Two references and three tests in ten differences; divisor 330.
export const fiveItems = once(() =>
  comparisonDesign({
    differences: [
      [1, -1, 0, 0, 0],
      [0, 1, -1, 0, 0],
      [0, 0, 1, -1, 0],
      [0, 0, 0, 1, -1],
      [-1, 0, 0, 0, 1],
      [-1, 0, 0, 1, 0],
      [0, 1, 0, -1, 0],
      [0, -1, 0, 0, 1],
      [0, 0, 1, 0, -1],
      [1, 0, -1, 0, 0],
    ],
    restraint: [1, 1, 0, 0, 0],
    times: [-9, -7, -5, -3, -1, 1, 3, 5, 7, 9],
  }),
);

export const sources: readonly PublishedSource[] = [
  {
    // R: power.t.test(delta=.5, power=.8)
    source: 'J. Cohen 1992, Psychological Bulletin 112, 155, table 2: two groups, 5 %, power 0.80',
    read: 'a public table after Cohen (1988), 2.3.1 to 2.3.6',
    figures: [
      figure('size for an effect of 0.2', '393', () => lapsFor(0.2).laps, {
        within: 1,
        note: 'the exact size is 393.4; tables give 393 or, rounded up, 394',
      }),
      figure('size for 0.5 and 0.8', '64, 26', () => [lapsFor(0.5).laps, lapsFor(0.8).laps]),
    ],
  },
  {
    source: 'NIST/SEMATECH e-Handbook, 2.3.3.3.4 and 2.3.4.1.2: design 1,1,1,1',
    figures: [
      figure('factors of sd', '0.3536, 0.6124, 0.7071', () =>
        [
          [1, 0, 0, 0],
          [0, 0, 1, 0],
          [1, -1, 0, 0],
        ].map((combination) => fourItems().factorOf(combination)),
      ),
    ],
  },
  {
    source: 'NIST/SEMATECH e-Handbook, 2.3.4.2.13: drift-eliminating design for five',
    figures: [
      figure('factors of sd', '0.3162, 0.5477, 0.6325, 0.8944, 1.2247', () =>
        [
          [1, 0, 0, 0, 0],
          [0, 0, 1, 0, 0],
          [1, -1, 0, 0, 0],
          [0, 0, 1, 1, 0],
          [0, 0, 1, 1, 1],
        ].map((combination) => fiveItems().factorOf(combination)),
      ),
    ],
  },
];
