import { combineContributions } from '../../src/budget/combine.js';
import { dofFromRelativeUncertainty, standardUncertainty } from '../../src/budget/inputs.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { effectiveDof } from '../../src/statistics/effectiveDof.js';
import { figure, once, type PublishedSource } from './figure.js';

export const line = (name: string, u: number, dof: number) => ({
  name,
  relative_standard_uncertainty: u,
  dof,
  type: 'A' as const,
  note: '',
});
// Y = b X1 X2 X3; means of 10, 5 and 15 readings, relative standard uncertainties 0.25 %, 0.57 %
// and 0.82 %. R: u <- c(.25,.57,.82); v <- sum(u^2)^2/sum(u^4/c(9,4,14)); sqrt(sum(u^2))*c(1, qt(.975, v))
const combined = once(() =>
  combineContributions([line('x1', 0.0025, 9), line('x2', 0.0057, 4), line('x3', 0.0082, 14)], {
    confidence: 0.95,
  }),
);

// Table H.1 in nm: u(l_s) = 25 (18 dof), u(d) = 9.7 (25.6), temperature 2.9 (50), 16.6 (2).
const endGauge = once(() =>
  effectiveDof([
    { standard_uncertainty: 25, dof: 18 },
    { standard_uncertainty: 9.7, dof: 25.6 },
    { standard_uncertainty: 2.9, dof: 50 },
    { standard_uncertainty: 16.6, dof: 2 },
  ]),
);
const k99 = () => coverageFactor(0.99, Math.floor(endGauge()));
// H.1.3.2: 5.8 (24), 3.9 (5), 6.7 (8)
const comparison = once(() => {
  const dof = effectiveDof([
    { standard_uncertainty: 5.8, dof: 24 },
    { standard_uncertainty: 3.9, dof: 5 },
    { standard_uncertainty: 6.7, dof: 8 },
  ]);
  const u = Math.hypot(5.8, 3.9, 6.7);
  return { u, dof: dof * (9.7 / u) ** 4 };
});

const u = (input: Parameters<typeof standardUncertainty>[0]) =>
  standardUncertainty(input).standard_uncertainty;
const divisor = (confidence: number) => 1 / u({ shape: 'interval', half_width: 1, confidence });
const memory = true;

export const sources: readonly PublishedSource[] = [
  {
    source: 'JCGM 100:2008 (GUM), G.4.1: worked example of three means',
    figures: [
      figure(
        'u in %, effective ν',
        '1.03, 19.0',
        () => [combined().relative_standard_uncertainty * 100, combined().dof],
        { memory },
      ),
      figure(
        'k, U in %',
        '2.09, 2.2',
        () => [combined().coverage_factor, combined().relative_expanded_uncertainty * 100],
        { memory },
      ),
    ],
  },
  {
    source: 'JCGM 100:2008 (GUM), H.1: end gauge, degrees of freedom',
    figures: [
      figure('effective ν', '16.7', endGauge, {
        within: 0.1,
        note: 'cut off and not rounded: the printed inputs give 16.76',
      }),
      figure('u(d) in nm, its ν', '9.7, 25.6', () => [comparison().u, comparison().dof], {
        note: 'from the rounded 9.7; without the rounding 25.4',
      }),
      figure('t₉₉(16), U in nm', '2.92, 93', () => [k99(), k99() * 32], {
        note: 'U from u rounded to 32',
      }),
    ],
  },
  {
    source: 'JCGM 100:2008 (GUM), examples of single inputs',
    read: 'divisor 2.576: NIST TN 1297 (1994), 4.3',
    figures: [
      figure(
        '4.3.3: 240 µg at three standard deviations',
        '80',
        () => u({ shape: 'normal', expanded_uncertainty: 240, coverage_factor: 3 }),
        { memory },
      ),
      figure(
        '4.3.4: 129 µΩ at 99 %',
        '50',
        () => u({ shape: 'interval', half_width: 129, confidence: 0.99 }),
        { memory },
      ),
      figure(
        '4.3.7: copper, ± 0.40, 10⁻⁶/°C',
        '0.23',
        () => u({ shape: 'rectangular', half_width: 0.4 }),
        { memory },
      ),
      figure('F.2.2.1: display step 1', '0.29', () => u({ shape: 'resolution', step: 1 }), {
        memory,
      }),
      figure(
        'H.1.3.4: temperature that swings by ± 0.5 °C',
        '0.35',
        () => u({ shape: 'arcsine', half_width: 0.5 }),
        { memory },
      ),
      figure(
        'G.4.2, H.1.3.5, H.1.3.6: ν of u known to 25 %, 10 %, 50 %',
        '8, 50, 2',
        () => [0.25, 0.1, 0.5].map(dofFromRelativeUncertainty),
        { memory },
      ),
    ],
  },
  {
    source: 'NIST TN 1297 (1994), 4.3 and 4.6: divisors of the normal distribution',
    read: '1.960 at nist.gov; R: `qnorm(.99865)`',
    figures: [
      figure('95 %', '1.960', () => divisor(0.95)),
      figure('99.73 %', '3', () => divisor(0.9973), { within: 0.005, note: '3.00 by R' }),
    ],
  },
];
