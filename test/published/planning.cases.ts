import { lapsToShowBias } from '../../src/plan/lapsToShowBias.js';
import { figure, type PublishedSource } from './figure.js';

// Plain alternation without drift is the test of two groups, with the laps as size of a group.
export const lapsFor = (bias: number) =>
  lapsToShowBias({
    bias,
    power: 0.8,
    confidence: 0.95,
    order: 'reference-first',
    referenceSd: 1,
    candidateSd: 1,
    driftDegree: 0,
  });

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
];
