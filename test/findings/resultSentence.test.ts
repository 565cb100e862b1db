import { expect, test } from 'vitest';
import { resultSentence } from '../../src/findings/resultSentence.js';
import { exampleResult } from '../report/exampleResult.js';

const at = (nm: number) => {
  const one = exampleResult().wavelengths.find(({ wavelength_nm }) => wavelength_nm === nm);
  if (one === undefined) throw new Error(`no ${nm} nm in the example`);
  return one;
};

// JCGM 100:2008, 7.2.3: with U are given how the measurand is defined, y ± U, k, and the level of
// confidence; 7.2.4 asks for u and the degrees of freedom beside it.
test('a result is quoted with all that the GUM asks for, and the numbers fit each other', () => {
  const one = at(405);
  const text = resultSentence(one, 0.95) ?? '';
  const [, value, U, u, k] =
    text.match(/= ([\d.]+) ± ([\d.]+),.* u = ([\d.]+) % and the coverage factor k = ([\d.]+)/) ??
    [];
  expect(Number(value)).toBeCloseTo(one.factor ?? Number.NaN, 2);
  const expected = Number(value) * Math.expm1((Number(k) * Number(u)) / 100);
  // u and U are printed with two digits each.
  expect(Math.abs(Number(U) / expected - 1)).toBeLessThan(0.06);
  expect(text).toContain('95 %');
  expect(text).toMatch(/effective degrees of freedom \d/);
});

test('nothing is quoted where the data cannot tell', () => {
  expect(resultSentence(at(532), 0.95)).toBeNull();
});
