import { expect, test } from 'vitest';
import { holds } from './holds.js';
import { line, sources } from './nistNorris.cases.js';

holds(sources);

test('36 points leave 34 degrees of freedom', () => {
  expect(line().dof).toBe(34);
});
