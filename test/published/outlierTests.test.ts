import { expect, test } from 'vitest';
import { holds } from './holds.js';
import { esd, oneSided, rosner, sources, tietjenMoore } from './outlierTests.cases.js';

holds(sources);

test('ESD: three outliers, although the first two steps alone convict nobody', () => {
  expect(esd().outliers.map((index) => rosner[index])).toEqual([6.01, 5.42, 5.34]);
});

test('Grubbs: the largest value is the outlier', () => {
  expect(tietjenMoore[oneSided().index]).toBe(245.57);
  expect(oneSided().outlier).toBe(true);
});
