/** Counts: treated positive and negative, control positive and negative. */
import { coverageFactor } from '../../src/statistics/distributions.js';
import { randomEffects } from '../../src/statistics/randomEffects.js';
import { core } from '../statistics/core.js';
import { type Figure, figure, once, type PublishedSource } from './figure.js';

const TABLES = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
] as const;

const trials = TABLES.map(([a, b, c, d]) => ({
  value: Math.log(a / (a + b) / (c / (c + d))),
  standardUncertainty: Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
}));

export const byDerSimonian = once(() => randomEffects(trials, { method: 'dersimonian-laird' }));
export const byPaule = once(() => randomEffects(trials, { method: 'paule-mandel' }));

const byR = (name: string, title: string, found: typeof byPaule): Figure[] => {
  const printed = core(`bcg.${name}`).map((value) => value.toPrecision(10));
  return [
    figure(
      `${title}: τ², mean, its u, its u by Hartung and Knapp`,
      printed.slice(0, 4).join(', '),
      () => {
        const { betweenVariance, mean, standardError, hartungKnappPlain } = found();
        return [betweenVariance, mean, standardError, hartungKnappPlain];
      },
      { within: 1e-9, note: 'two units of the tenth digit' },
    ),
    figure(
      'its interval by Hartung and Knapp',
      printed.slice(4).join(', '),
      () => {
        const half = coverageFactor(0.95, 12) * found().hartungKnappPlain;
        return [found().mean - half, found().mean + half];
      },
      { within: 1e-8, note: 'jstat’s t' },
    ),
  ];
};

export const sources: readonly PublishedSource[] = [
  {
    source: 'Colditz and others 1994, JAMA 271, 698: thirteen trials, DerSimonian and Laird',
    read: 'the tests of R’s metafor, which quote another program; u in a second transcription',
    figures: [
      figure('mean, u, τ²', '-0.7141, 0.1787, 0.3088', () => [
        byDerSimonian().mean,
        byDerSimonian().standardError,
        byDerSimonian().betweenVariance,
      ]),
      figure('Q, I² in %', '152.233, 92.12', () => [
        byDerSimonian().q,
        100 * byDerSimonian().iSquared,
      ]),
    ],
  },
  {
    source: 'R 4.2.2, `test/fixtures/core.R`: thirteen trials (Colditz and others 1994)',
    figures: [
      ...byR('dl', 'DerSimonian–Laird', byDerSimonian),
      ...byR('pm', 'Paule–Mandel', byPaule),
    ],
  },
];
