import { expect, it } from 'vitest';
import { near } from '../near.js';
import { sources as lines } from './calibrationLines.cases.js';
import { holds } from './holds.js';
import { endGauge, predicted, R, sources } from './propagation.cases.js';

holds(sources);

it('the end gauge has 16 degrees of freedom, truncated as in H.1.6', () => {
  expect(Math.floor(endGauge().dof ?? 0)).toBe(16);
});

it('offers no degrees of freedom for correlated inputs, and says why', () => {
  expect(R.dof).toBeNull();
  expect(R.expanded_uncertainty).toBeNull();
  expect(R.why).toMatch(/independent/);
});

it('gives the thermometer correction of H.3.4 from the correlated ends of the line', () => {
  const [, , r, at30] = lines[0].figures.map(({ printed }) => printed.map(Number));
  const found = predicted(20);
  near(found.r, r[0], 0.0005);
  near(found.result.value, at30[0], 0.00005);
  near(found.result.standard_uncertainty, at30[1], 0.00005);
  // H.3.5: t0 = 24.0085 °C makes r = 0.
  const about = predicted(24.0085);
  near(about.r, 0, 0.001);
  near(about.result.standard_uncertainty, at30[1], 0.00005);
});
