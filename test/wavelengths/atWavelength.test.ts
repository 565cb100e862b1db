import { expect, test } from 'vitest';
import { atWavelength } from '../../src/wavelengths/atWavelength.js';

test('of the entries within 2 nm the nearest, whatever their order', () => {
  const list = [520, 521.5, 524, 518.6].map((wavelength_nm) => ({ wavelength_nm }));
  const at = (nm: number) => atWavelength(list, nm)?.wavelength_nm;
  expect([521, 522.5, 519.2, 526, 526.1, 516.6, 516.5].map(at)).toEqual([
    521.5,
    521.5,
    518.6,
    524,
    undefined,
    518.6,
    undefined,
  ]);
});
