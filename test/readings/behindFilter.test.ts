import { describe, expect, test } from 'vitest';
import { filterState, transmissionAt } from '../../src/readings/behindFilter.js';
import { steady, studyOf } from '../seriesStudy.js';

const study = studyOf([{ id: 'a', nm: 638, laps: steady(110, 100, 2) }]);
const [bare] = study.series;
type Passed = readonly (readonly [nm: number, transmission: number])[];
const grey = (...transmissions: Passed) => ({
  name: 'grey',
  transmissions: transmissions.map(([wavelength_nm, transmission]) => ({
    wavelength_nm,
    transmission,
    standard_uncertainty: 0.01 * transmission,
  })),
});
const state = (...transmissions: Passed) =>
  filterState({ filters: [grey(...transmissions)] }, { ...bare, filter: 'grey' });

test('a transmission counts within 5 nm, the nearest first', () => {
  expect(transmissionAt(grey([633, 0.1], [640, 0.2]), 638)?.transmission).toBe(0.2);
  expect(transmissionAt(grey([640, 0.2], [633, 0.1]), 635)?.transmission).toBe(0.1);
  expect(transmissionAt(grey([636, 0.3], [642, 0.2]), 638)?.transmission).toBe(0.3);
  expect(transmissionAt(grey([634, 0.3], [640, 0.2]), 638)?.transmission).toBe(0.2);
  expect(transmissionAt(grey([632.9, 0.1]), 638)).toBeUndefined();
  expect(transmissionAt(grey([643.1, 0.1]), 638)).toBeUndefined();
  expect(transmissionAt(grey([633, 0.1]), 638)?.transmission).toBe(0.1);
  expect(transmissionAt(grey(), 638)).toBeUndefined();
  expect(transmissionAt(grey([643, 0.1]), 638)?.transmission).toBe(0.1);
});

describe('what a series behind a filter is of', () => {
  test('without one: all of the light', () => {
    expect(filterState(study, bare)).toEqual({
      status: 'none',
      transmission: 1,
      standardUncertainty: 0,
    });
  });

  test('the wanted line, as far as the filter passes a tenth of what it passes best', () => {
    expect(state([638, 0.05], [1064, 0.5])).toEqual({
      status: 'stated',
      transmission: 0.05,
      standardUncertainty: 0.0005,
    });
  });

  test('other light, where it blocks the line: divided by what it passes best', () => {
    const other = {
      status: 'other-light',
      transmission: 0.9,
      standardUncertainty: expect.closeTo(0.009, 12),
    };
    for (const found of [
      state([638, 0.08], [1064, 0.9]),
      state([1064, 0.9], [638, 0.08]),
      state([450, 0.5], [1064, 0.9], [638, 0.08]),
    ]) {
      expect(found).toEqual(other);
    }
  });

  test('nobody knows, where it is not stated at the line, is 0 there, or is no filter of the study', () => {
    const unknown = { status: 'not-stated', transmission: 1, standardUncertainty: 0 };
    expect(state([1064, 0.9])).toEqual(unknown);
    expect(state([638, 0], [1064, 0.9])).toEqual(unknown);
    expect(filterState({ filters: [] }, { ...bare, filter: 'grey' })).toEqual(unknown);
    const filters = [grey([638, 0.5])];
    expect(filterState({ filters }, { ...bare, filter: 'pink' })).toEqual(unknown);
  });
});
