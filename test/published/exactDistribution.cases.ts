import { exactDistribution } from '../../src/budget/exactDistribution.js';
import type { ExactPart } from '../../src/budget/exactPart.js';
import { figure, type PublishedSource } from './figure.js';

export const part = (shape: ExactPart['shape'], u: number, dof?: number): ExactPart => ({
  shape,
  standard_uncertainty: u,
  ...(dof === undefined ? {} : { dof }),
});
/** Half of the coverage interval of a sum of parts. */
export const half = (parts: readonly ExactPart[], confidence = 0.95) =>
  exactDistribution(parts).coverageInterval(confidence)[1];
const four = (shape: ExactPart['shape'], last = 1) =>
  half([1, 1, 1, last].map((u) => part(shape, u)));

/** Points at θ = 0°, 15° … 90°. */
const behrensFisher = (n1: number, n2: number, points: string) =>
  figure(
    `ν = ${n1} and ${n2}`,
    points,
    () =>
      points.split(', ').map((_, i) => {
        const theta = (15 * i * Math.PI) / 180;
        return half([part('student', Math.sin(theta), n1), part('student', Math.cos(theta), n2)]);
      }),
    { within: 0.001, note: 'last digits of the table are good to one unit', memory: true },
  );

export const sources: readonly PublishedSource[] = [
  {
    source: 'JCGM 101:2008, 9.2: the same additive model, by its exact distribution',
    figures: [
      figure('four normal inputs: ±', '3.92', () => four('normal')),
      figure('four rectangular inputs: ±', '3.88', () => four('rectangular')),
      figure('one dominating rectangle: ±', '17.0', () => four('rectangular', 10), {
        memory: true,
      }),
    ],
  },
  {
    // h<-.002;x<-seq(-26,26,by=h);r<-function(s)ifelse(abs(x)<=s*sqrt(3),1,0);N<-2^18
    // F<-function(v)fft(c(v,rep(0,N-length(v))));g<-Re(fft(F(r(1))^3*F(r(10)),inverse=TRUE))
    // g<-g/sum(g);k<-4*(-26)+h*(seq_along(g)-1);approx(cumsum(g),k+h/2,.975,ties='ordered')$y
    source: 'R 4.2.2, FFT on a grid of 0.002: additive model of JCGM 101:2008, 9.2.4',
    figures: [
      figure('one dominating rectangle: ±', '17.0169', () => four('rectangular', 10), {
        within: 0.005,
        note: 'the same line is 0.002 beside the truth for four equal rectangles',
      }),
    ],
  },
  {
    // Statistic t₁ sin θ − t₂ cos θ
    source: 'Sukhatme 1938, Sankhyā 4, 39 (Fisher and Yates, table VI): Behrens–Fisher, 5 % points',
    figures: [
      behrensFisher(8, 6, '2.447, 2.430, 2.398, 2.364, 2.331, 2.310, 2.306'),
      behrensFisher(6, 6, '2.447, 2.440, 2.435, 2.435, 2.435, 2.440, 2.447'),
      behrensFisher(12, 6, '2.447, 2.423, 2.367, 2.301, 2.239, 2.193, 2.179'),
    ],
  },
];
