import { expect, test } from 'vitest';
import { resultPreface, resultSentences } from '../../src/findings/resultSentence.js';
import { exampleResult } from '../report/exampleResult.js';

const at = (nm: number) => exampleResult().wavelengths.filter((one) => one.wavelength_nm === nm);

// JCGM 100:2008, 7.2.3: with U are given how the measurand is defined, y ± U, k, and the level of
// confidence; 7.2.4 asks for u and the degrees of freedom beside it.
test('a result is quoted with all that the GUM asks for, and the numbers fit each other', () => {
  const [one] = at(405);
  const [text = ''] = resultSentences({ wavelengths: at(405) });
  const [, value, U, u, k, nu, low, high] =
    text.match(
      /= ([\d.]+) ± ([\d.]+), u = ([\d.]+) %, k = ([\d.]+), ν = (\S+), \[([\d.]+) to ([\d.]+)\]/,
    ) ?? [];
  expect(Number(value)).toBeCloseTo(one?.factor ?? Number.NaN, 2);
  // The example's interval is straight, K·(1 ± k·u); u and U are printed with two digits each.
  const expected = (Number(value) * Number(k) * Number(u)) / 100;
  expect(Math.abs(Number(U) / expected - 1)).toBeLessThan(0.06);
  expect(Number(high) - Number(low)).toBeCloseTo(2 * Number(U), 2);
  expect(nu).toBe('38');
  expect(resultPreface(0.95)).toContain('level of confidence of 95 %');
});

test('nothing is quoted where the data cannot tell', () => {
  expect(resultSentences({ wavelengths: at(532) })).toEqual([]);
});
