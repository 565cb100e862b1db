import { expect, test } from 'vitest';
import { readingScatter } from '../../src/series/readingScatter.js';
import { resultOf } from '../analysed.js';
import { near } from '../near.js';

const scattering = (candidate: number | null, runs: number, degree: number | null) => {
  const base = resultOf();
  return {
    ...base,
    repeatability: { reference: 0.5, candidate },
    used: { reference: 50, candidate: runs },
    drift: { ...base.drift, degree },
  };
};

test('scatter is pooled by degrees of freedom: runs less the mean, less half of the drift', () => {
  // 1 %: 6 − 1 − 2/2 = 4; 2 %: 9 − 1 − 4/2 = 6. s² = (4·1 + 6·4)·1e−4 ÷ 10 = 2.8e−4
  const found = readingScatter([scattering(0.01, 6, 2), scattering(0.02, 9, 4)]);
  near(found.reading_relative_sd, Math.sqrt(2.8e-4), 1e-12);
  expect(found.reading_dof).toBe(10);
});

test('a series counts for one degree of freedom at least, and without a scatter for none', () => {
  // 2 − 1 − 4/2 < 1, so 1; without a drift 3 − 1 = 2. s² = (1·9 + 2·0)·1e−4 ÷ 3 = 3e−4
  const found = readingScatter([
    scattering(0.03, 2, 4),
    scattering(0, 3, null),
    scattering(null, 40, 1),
  ]);
  near(found.reading_relative_sd, Math.sqrt(3e-4), 1e-12);
  expect(found.reading_dof).toBe(3);
});

test('where no series tells, the scatter is 0 with one degree of freedom, which a file can hold', () => {
  expect(readingScatter([scattering(null, 5, 1)])).toEqual({
    reading_relative_sd: 0,
    reading_dof: 1,
  });
});
