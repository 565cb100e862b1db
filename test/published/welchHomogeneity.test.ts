import { expect, test } from 'vitest';
import { near } from '../near.js';
import { core } from '../statistics/core.js';
import { holds } from './holds.js';
import { plant, sources, spray, twoMeans } from './welchHomogeneity.cases.js';

holds(sources);

test('the first degrees of freedom are one fewer than the means', () => {
  expect(plant().dof1).toBe(core('plant.welch')[1]);
  expect(spray().dof1).toBe(core('spray.welch')[1]);
});

test('two means have the p of Welch’s t', () => {
  const [found, expected] = twoMeans();
  near(found, expected!, 1e-8);
});
