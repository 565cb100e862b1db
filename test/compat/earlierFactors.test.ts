/** Files that earlier versions of the package wrote, kept as they were. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { correct } from '../../src/correct/index.js';
import { parseFactors } from '../../src/report/index.js';

const text = readFileSync(new URL('factors-without-placement.json', import.meta.url), 'utf8');

test('factors from before the spread of placements was written are read, and corrections say what they lack', () => {
  const factors = parseFactors(text);
  expect(factors.factors.map((entry) => entry.wavelength_nm)).toEqual([
    405, 450, 520, 532, 638, 808,
  ]);
  const found = correct(factors, { reading_mW: 42, wavelength_nm: 520 });
  const entry = factors.factors.find((one) => one.wavelength_nm === 520);
  expect(found.value).toBe(42 * (entry?.factor ?? Number.NaN));
  expect(found.cautions.map((one) => one.code)).toContain('placement-not-stated');
});
