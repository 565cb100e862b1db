import { studentCdf } from '../../src/statistics/distributions.js';
import { welchHomogeneity } from '../../src/statistics/welchHomogeneity.js';
import { core } from '../statistics/core.js';
import { figure, once, type PublishedSource } from './figure.js';

const estimates = (name: string) =>
  core(`${name}.mean`).map((value, i) => ({
    value,
    standardUncertainty: core(`${name}.u`)[i]!,
    dof: core(`${name}.n`)[i]! - 1,
  }));

export const plant = once(() => welchHomogeneity(estimates('plant')));
export const spray = once(() => welchHomogeneity(estimates('spray')));
const group = (name: string) => {
  const x = core(name);
  const mean = x.reduce((sum, v) => sum + v, 0) / x.length;
  const variance = x.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (x.length - 1);
  return { value: mean, standardUncertainty: Math.sqrt(variance / x.length), dof: x.length - 1 };
};
const sleep = once(() => welchHomogeneity([group('sleep.1'), group('sleep.2')]));
const [sleepT, sleepDof] = core('sleep.welch');

const DIGITS = { relative: 1e-9, note: 'nine digits, from means and uncertainties alone' };
const P = { within: 1e-9, note: '1 − CDF resolves about 1e-10' };
const all = (name: string, found: typeof plant) => {
  const [f, , dof2, p] = core(`${name}.welch`);
  return [
    figure(`${name}: F, ν₂`, `${f}, ${dof2}`, () => [found().f, found().dof2], DIGITS),
    figure(`${name}: p`, `${p}`, () => found().p, P),
  ];
};

export const sources: readonly PublishedSource[] = [
  {
    source: 'R, `oneway.test(weight ~ group, PlantGrowth)` (Dobson 1983)',
    figures: [
      figure('F, ν₂, p', '5.181, 17.128, 0.01739', () => [plant().f, plant().dof2, plant().p]),
    ],
  },
  {
    source: 'R 4.2.2, `test/fixtures/core.R`: Welch’s test of more than two means',
    figures: [
      ...all('plant', plant),
      ...all('spray', spray),
      // Two means: the square of Welch's t
      figure('sleep: F = t²', `${sleepT ** 2}`, () => sleep().f, DIGITS),
      figure('sleep: ν₂', `${sleepDof}`, () => sleep().dof2, DIGITS),
    ],
  },
];

/** p of two means, and of Welch's t with the same degrees of freedom. */
export const twoMeans = () => [sleep().p, 2 * studentCdf(sleepT, sleepDof)];
