import { expect, test } from 'vitest';
import { holds } from './holds.js';
import { sources, student } from './studentSleep.cases.js';

holds(sources);

test('ten differences leave nine degrees of freedom', () => {
  expect(student().dof).toBe(9);
});
