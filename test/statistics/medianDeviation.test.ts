import { expect, test } from 'vitest';
import { farFromMedian } from '../../src/statistics/medianDeviation.js';
import { errorOf } from '../record/support.js';
import { core } from './core.js';

const VALUES = [0, 0.1, -0.2, 0.3, 0.05, 4, -0.1, 2.2];

test('the bound is the limit times the scale of R’s mad()', () => {
  const [median, scale] = core('mad');
  const bound = (4 - median!) / scale!;
  expect(farFromMedian(VALUES, { limit: bound * 0.999 })).toEqual([5]);
  expect(farFromMedian(VALUES, { limit: bound * 1.001 })).toEqual([]);
  expect(farFromMedian(VALUES)).toEqual([5, 7]);
});

test('readings that repeat convict nobody without a floor, and by the floor with one', () => {
  const frozen = [5, 5, 5, 5, 5, 6, 5];
  expect(farFromMedian(frozen)).toEqual([]);
  expect(farFromMedian(frozen, { floor: 0.3 })).toEqual([5]);
  expect(farFromMedian(frozen, { floor: 0.5 })).toEqual([]);
});

test.each<readonly [number[], object, number[]]>([
  // Three floors away is not yet far, on either side.
  [[0, 0, 0, 0, 3], { floor: 1 }, []],
  [[0, 0, 0, 0, 3.001], { floor: 1 }, [4]],
  [[-3.001, 0, 0, 0, 3.001], { floor: 1 }, [0, 4]],
  [[0, 0, 0, 0, 2], { floor: 1, limit: 2 }, []],
  [[0, 0, 0, 0, 2.001], { floor: 1, limit: 2 }, [4]],
  // Median 2, deviations 2, 1, 0, 1, x: their median 1, three times 1.4826 is 4.4478
  [[0, 1, 2, 3, 6.447], {}, []],
  [[0, 1, 2, 3, 6.448], {}, [4]],
  [[6.448, 3, 2, 1, 0], { floor: 1.4826 }, [0]],
  [[6.448, 3, 2, 1, 0], { floor: 1.483 }, []],
  [[1, 2, 9], {}, [2]],
  [[1, 1, 9], {}, []],
])('of %j with %j these are far: %j', (values, options, far) => {
  expect(farFromMedian(values, options)).toEqual(far);
});

test('fewer than three values, or one that is not finite, are refused', () => {
  expect(errorOf(() => farFromMedian([1, 2])).code).toBe('too-few-values');
  expect(errorOf(() => farFromMedian([1, 2, Number.NaN])).code).toBe('argument-wrong');
});
