import { autocorrelation } from '../../src/statistics/autocorrelation.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import { type Figure, figure, type PublishedSource } from './figure.js';

const lottery = [
  162, 671, 933, 414, 788, 730, 817, 33, 536, 875, 670, 236, 473, 167, 877, 980, 316, 950, 456, 92,
  517, 557, 956, 954, 104, 178, 794, 278, 147, 773, 437, 435, 502, 610, 582, 780, 689, 562, 964,
  791, 28, 97, 848, 281, 858, 538, 660, 972, 671, 613, 867, 448, 738, 966, 139, 636, 847, 659, 754,
  243, 122, 455, 195, 968, 793, 59, 730, 361, 574, 522, 97, 762, 431, 158, 429, 414, 22, 629, 788,
  999, 187, 215, 810, 782, 47, 34, 108, 986, 25, 644, 829, 630, 315, 567, 919, 331, 207, 412, 242,
  607, 668, 944, 749, 168, 864, 442, 533, 805, 372, 63, 458, 777, 416, 340, 436, 140, 919, 350, 510,
  572, 905, 900, 85, 389, 473, 758, 444, 169, 625, 692, 140, 897, 672, 288, 312, 860, 724, 226, 884,
  508, 976, 741, 476, 417, 831, 15, 318, 432, 241, 114, 799, 955, 833, 358, 935, 146, 630, 830, 440,
  642, 356, 373, 271, 715, 367, 393, 190, 669, 8, 861, 108, 795, 269, 590, 326, 866, 64, 523, 862,
  840, 219, 382, 998, 4, 628, 305, 747, 247, 34, 747, 729, 645, 856, 974, 24, 568, 24, 694, 608,
  480, 410, 729, 947, 293, 53, 930, 223, 203, 677, 227, 62, 455, 387, 318, 562, 242, 428, 968,
];

const michelso = [
  299.85, 299.74, 299.9, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300, 299.98,
  299.93, 299.65, 299.76, 299.81, 300, 300, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88,
  299.8, 299.85, 299.88, 299.9, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.8,
  299.79, 299.76, 299.8, 299.88, 299.88, 299.88, 299.86, 299.72, 299.72, 299.62, 299.86, 299.97,
  299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85, 299.84, 299.84, 299.84, 299.89,
  299.81, 299.81, 299.82, 299.8, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92, 299.89,
  299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81, 299.76,
  299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95,
  299.8, 299.81, 299.87,
];

/** NumAcc2 to 4 as NIST builds them: base + 0.2, then base + 0.1 and base + 0.3 in turn. */
const numAcc = (base: number) => [
  base + 0.2,
  ...Array.from({ length: 1000 }, (_, i) => base + (i % 2 === 0 ? 0.1 : 0.3)),
];

// NIST calls NumAcc3 and 4 of higher difficulty for that reason.
const STORED = '0.1 and 0.3 on top of so large a number cannot be stored exactly';
const DOUBLES = 'near the rounding of doubles';

/** Certified mean, standard deviation and lag-1 autocorrelation, and what doubles allow. */
function certified(
  name: string,
  values: readonly number[],
  [m, s, r]: readonly [string, string, string],
  relative: number,
  note = DOUBLES,
): Figure[] {
  return [
    figure(`${name}: mean`, m, () => mean(values), {
      relative: Math.min(relative, 1e-14),
      note: DOUBLES,
    }),
    figure(`${name}: sd`, s, () => standardDeviation(values), { relative, note }),
    figure(`${name}: autocorrelation`, r, () => autocorrelation(values), { relative, note }),
  ];
}

export const sources: readonly PublishedSource[] = [
  {
    source:
      'NIST StRD, univariate summary statistics (www.itl.nist.gov/div898/strd), certified to 15 digits or exact',
    figures: [
      certified(
        'Lottery',
        lottery,
        ['518.958715596330', '291.699727470969', '-0.120948622967393'],
        1e-14,
      ),
      certified(
        'Michelso',
        michelso,
        ['299.852400000000', '0.0790105478190518', '0.535199668621283'],
        1e-12,
      ),
      certified('NumAcc1', [10000001, 10000003, 10000002], ['10000002', '1', '-0.5'], 1e-15),
      certified('NumAcc2', numAcc(1), ['1.2', '0.1', '-0.999'], 1e-13),
      certified('NumAcc3', numAcc(1e6), ['1000000.2', '0.1', '-0.999'], 1e-9, STORED),
      certified('NumAcc4', numAcc(1e7), ['10000000.2', '0.1', '-0.999'], 1e-8, STORED),
    ].flat(),
  },
];
