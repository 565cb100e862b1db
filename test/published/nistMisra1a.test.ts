import { expect, test } from 'vitest';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { nearly } from '../near.js';
import { holds } from './holds.js';
import { CERTIFIED, fits, sources, x, y } from './nistMisra1a.cases.js';

holds(sources);

test('fourteen points and two parameters leave twelve degrees of freedom', () => {
  expect(fits.map((from) => from().dof)).toEqual([12, 12]);
});

test('taken as a trace, Misra1a ends after 0.4 time constants and is refused by default', () => {
  const trace = { elapsed_s: x, reading_mW: y };
  const refusal = fitStepResponse(trace);
  expect(refusal).toMatchObject({ status: 'refused', reason: 'too-short' });
  // Asked for all the same, level and time constant are the certified b1 and 1/b2
  const fit = fitStepResponse(trace, { leastTimeConstants: 0 });
  if (fit.status !== 'fitted') throw new Error(fit.why);
  const b2 = Number(CERTIFIED.b2);
  nearly(fit.settled_mW.value, Number(CERTIFIED.b1), 3e-11);
  nearly(fit.time_constant_s.value, 1 / b2, 2e-11);
  // u(1/b2) = u(b2)/b2²
  nearly(fit.time_constant_s.standard_uncertainty, Number(CERTIFIED['s(b2)']) / b2 ** 2, 1e-10);
  nearly(fit.residual_sd_mW, Number(CERTIFIED['residual sd']), 3e-10);
});
