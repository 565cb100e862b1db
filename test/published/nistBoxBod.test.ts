import { expect, test } from 'vitest';
import { holds } from './holds.js';
import { fits, sources } from './nistBoxBod.cases.js';

holds(sources);

test('six points and two parameters leave four degrees of freedom', () => {
  expect(fits.map((from) => from().dof)).toEqual([4, 4]);
});
