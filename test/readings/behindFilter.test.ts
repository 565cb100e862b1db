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
  expect(transmissionAt(grey([632.9, 0.1]), 638)).toBeUndefined();
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
    const found = state([638, 0.08], [1064, 0.9]);
    expect([found.status, found.transmission]).toEqual(['other-light', 0.9]);
  });

  test('nobody knows, where it is not stated at the line, is 0 there, or is no filter of the study', () => {
    expect(state([1064, 0.9]).status).toBe('not-stated');
    expect(state([638, 0], [1064, 0.9]).status).toBe('not-stated');
    expect(filterState({ filters: [] }, { ...bare, filter: 'grey' }).status).toBe('not-stated');
  });
});
