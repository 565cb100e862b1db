/**
 * Bland and Altman, Lancet 327 (1986) 307: peak expiratory flow of 17 subjects by two meters, twice
 * each, in l/min. The paper works from rounded figures (mean -2.1, sd 38.8) and takes 2 sd.
 */
import { describe, expect, test } from 'vitest';
import { correlation } from '../../src/agree/correlation.js';
import { limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import { replicatedMethodsLimits } from '../../src/agree/replicatedMethodsLimits.js';
import { summariseDifferences } from '../../src/agree/summarise.js';
import { near } from '../agree/near.js';

const a1 = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const a2 = [490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421];
const b1 = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
const b2 = [525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443];
const differences = a1.map((value, i) => value - b1[i]);

describe('peak flow, first readings', () => {
  test('mean difference, its interval and the correlation are as printed', () => {
    // Printed: -2.1, 38.8, 95 % interval -22.0 to 17.8, r = 0.94. The paper's interval comes from
    // rounded figures (-2.1 ± 2.12 × 9.4 = -22.03 to 17.83).
    const summary = summariseDifferences(differences);
    near(summary.mean, -2.1, 0.05);
    near(summary.sd, 38.8, 0.05);
    near(summary.low, -22.0, 0.05);
    near(summary.high, 17.8, 0.05);
    near(correlation({ reference: b1, candidate: a1 }), 0.94, 0.005);
  });

  test('limits of two standard deviations are as printed', () => {
    // Printed: -79.7 and 75.5 from the rounded figures; -79.65 and 75.41 from the data
    const limits = limitsOfAgreement(differences, { multiplier: 2 });
    near(limits.low, -79.7, 0.1);
    near(limits.high, 75.5, 0.1);
  });

  test('the exact intervals agree with R and reach further out than the printed, symmetric ones', () => {
    // R 4.2.2, test/fixtures/agree.R, lines pefr.exact.lower and .upper for the opposite sign:
    // -119.927533667 to -48.86076707 and 53.0960611876 to 124.162827785, so mirrored here
    const limits = limitsOfAgreement(differences);
    near(limits.low_interval[0], -124.162827785, 1e-8);
    near(limits.low_interval[1], -53.0960611876, 1e-8);
    near(limits.high_interval[0], 48.86076707, 1e-8);
    near(limits.high_interval[1], 119.927533667, 1e-8);
    // Printed, from the rounded figures and symmetric: lower limit -114.3 to -45.1 about -79.7.
    expect(limits.low_interval[0]!).toBeLessThan(-114.3);
  });
});

test('peak flow, both readings: the standard deviation corrected for repeats is as printed', () => {
  // Printed: sd of the differences of means 33.2; sd of differences between repeats 21.6 (A) and
  // 28.2 (B), which is √2 times the standard deviation within subjects; corrected sd 37.7
  const sources = a1.map((_, i) => ({ candidate: [a1[i], a2[i]], reference: [b1[i], b2[i]] }));
  const found = replicatedMethodsLimits(sources, { multiplier: 2 });
  near(found.sd_of_means, 33.2, 0.05);
  near(found.sd_candidate! * Math.SQRT2, 21.6, 0.05);
  near(found.sd_reference! * Math.SQRT2, 28.2, 0.05);
  near(found.sd_total, 37.7, 0.05);
});
