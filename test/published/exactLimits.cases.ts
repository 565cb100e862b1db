import { exactLimitFactors } from '../../src/agree/limitsOfAgreement.js';
import { figure, type PublishedSource } from './figure.js';

// R's own qt with ncp is good to about 1e-9 here.
const R_QT = { within: 2e-9, note: 'R’s qt with ncp is good to about 1e-9' };
const interval = (n: number, printed: string) =>
  figure(`n = ${n}`, printed, () => exactLimitFactors(n, { multiplier: 1.959963984540054 }), R_QT);
const tolerance = (n: number) =>
  exactLimitFactors(n, { confidence: 0.9, multiplier: 1.6448536269514722 })[1];

export const sources: readonly PublishedSource[] = [
  {
    source:
      'R 4.2.2 (SciPy’s `nct.ppf` gives the same): `qt(c(.025, .975), n-1, ncp = qnorm(.975)*sqrt(n))/sqrt(n)`, factors of a limit of agreement (Carkeet 2015; Shieh 2018)',
    figures: [
      interval(10, '1.163180886, 3.800902359'),
      interval(17, '1.315029371, 3.148271440'),
      interval(20, '1.356484252, 3.014003091'),
      interval(30, '1.450346164, 2.756589855'),
      interval(50, '1.550699744, 2.535470482'),
      interval(100, '1.659063168, 2.341870744'),
    ],
  },
  {
    // Two-sided 95 % / one-sided 97.5 % is not tabled; this one is.
    // R: qt(.95, n - 1, ncp = qnorm(.95)*sqrt(n))/sqrt(n)
    source:
      'Hahn and Meeker 1991, Statistical Intervals, A.12d; Odeh and Owen 1980: one-sided 95 % tolerance factors for 95 %',
    read: 'n = 50: a text that quotes the table (U.S. NRC, ML14031A495)',
    figures: [
      figure('n = 5, 10, 20', '4.203, 2.911, 2.396', () => [5, 10, 20].map(tolerance), {
        memory: true,
      }),
      figure('n = 50', '2.065', () => tolerance(50)),
    ],
  },
];
