import { correlation } from '../../src/agree/correlation.js';
import { limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import { replicatedMethodsLimits } from '../../src/agree/replicatedMethodsLimits.js';
import { summariseDifferences } from '../../src/agree/summarise.js';
import { PEAK_FLOW } from '../peakFlow.js';
import { figure, once, type PublishedSource } from './figure.js';

const { reference: a1, candidate: b1 } = PEAK_FLOW;
const a2 = [490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421];
const b2 = [525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443];
export const differences = a1.map((value, i) => value - b1[i]);

const summary = once(() => summariseDifferences(differences));
const limits = once(() => limitsOfAgreement(differences, { multiplier: 2 }));
const repeated = once(() =>
  replicatedMethodsLimits(
    a1.map((_, i) => ({ candidate: [a1[i], a2[i]], reference: [b1[i], b2[i]] })),
    { multiplier: 2 },
  ),
);
// The paper works from rounded figures (mean -2.1, sd 38.8) and takes 2 sd.
const ROUNDED = 'the paper works from its rounded figures';

export const sources: readonly PublishedSource[] = [
  {
    source: 'Bland and Altman 1986, Lancet 327, 307: peak expiratory flow by two meters, l/min',
    figures: [
      figure('mean difference, sd', '-2.1, 38.8', () => [summary().mean, summary().sd]),
      // -2.1 ± 2.12 × 9.4 = -22.03 to 17.83
      figure('95 % interval of the mean', '-22.0, 17.8', () => [summary().low, summary().high]),
      figure('correlation', '0.94', () => correlation({ reference: b1, candidate: a1 })),
      figure('limits of two sd', '-79.7, 75.5', () => [limits().low, limits().high], {
        within: 0.1,
        note: ROUNDED,
      }),
      figure('sd of the differences of means', '33.2', () => repeated().sd_of_means),
      // √2 times the standard deviation within subjects
      figure('sd of differences between repeats', '21.6, 28.2', () => [
        repeated().sd_candidate! * Math.SQRT2,
        repeated().sd_reference! * Math.SQRT2,
      ]),
      figure('sd corrected for repeats', '37.7', () => repeated().sd_total),
    ],
  },
  {
    source: 'R 4.2.2, `test/fixtures/agree.R`, `pefr.exact`: peak flow of 1986, sign turned',
    figures: [
      figure(
        'exact 95 % intervals of the limits',
        '-124.162827785, -53.0960611876, 48.86076707, 119.927533667',
        () => {
          const exact = limitsOfAgreement(differences);
          return [...exact.low_interval, ...exact.high_interval];
        },
        { within: 1e-8, note: 'R knows its noncentral t to about 1e-9' },
      ),
    ],
  },
];
