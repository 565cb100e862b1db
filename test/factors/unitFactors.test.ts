import { describe, expect, it } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import type { UnitFactor } from '../../src/factors/severalUnits.js';
import { unitFactors } from '../../src/factors/unitFactors.js';
import type { Factors } from '../../src/vocabulary.js';
import { entry, madeFactors } from '../madeFactors.js';

const unit = madeFactors;
const at520 = (units: readonly Factors[]) => unitFactors(units, { wavelength_nm: 520 });

function codeOf(units: readonly Factors[], wavelength_nm = 520): readonly [string, string] {
  try {
    unitFactors(units, { wavelength_nm });
  } catch (error) {
    if (error instanceof MeterpairError) return [error.code, error.message];
    throw error;
  }
  return ['no error', ''];
}

describe('factors of several units', () => {
  it('lose what all owe to the reference, and nothing else', () => {
    // 3-4-5: √(2.5² − 1.5²) % = 2 %.
    const found = at520([unit(1), unit(2)]);
    expect(found.map(({ name, factor }) => [name, factor])).toEqual([
      ['Unit 1', 1.1],
      ['Unit 2', 1.2],
    ]);
    for (const one of found) expect(one.relative_standard_uncertainty).toBeCloseTo(0.02, 12);
  });

  it('are found at a wavelength that counts as the same', () => {
    const near = unit(1, { factors: [entry(521, 1.3, 0.02), entry(638, 1.4, 0.02)] });
    expect(at520([near, unit(2)])[0]?.factor).toBe(1.3);
  });

  it('keep their whole uncertainty where the reference states none', () => {
    const bare = (number: number) =>
      unit(number, {
        reference: {
          name: 'Meter R',
          uncertainty_stated: false,
          relative_standard_uncertainty: null,
        },
      });
    const own = (list: readonly UnitFactor[]) =>
      list.map((one) => one.relative_standard_uncertainty);
    expect(own(at520([bare(1), bare(2)]))).toEqual([0.025, 0.025]);
    // Early files do not say how large it is; one that says so speaks for all.
    const early = unit(2, { reference: { name: 'Meter R', uncertainty_stated: true } });
    expect(own(at520([early, unit(1, { candidate: { ...early.candidate, name: 'x' } })]))).toEqual([
      expect.closeTo(0.02, 12),
      expect.closeTo(0.02, 12),
    ]);
    // A factor that is surer than the calibration it is said to hold cannot hold it.
    const sure = unit(3, { factors: [entry(520, 1.1, 0.01)] });
    expect(own(at520([unit(1), sure]))).toEqual([0.025, 0.01]);
  });
});

describe('units that cannot be taken together', () => {
  it.each([
    ['different references', { name: 'Meter Q', uncertainty_stated: true }, /different references/],
    [
      'a reference that was calibrated anew',
      { name: 'Meter R', uncertainty_stated: true, relative_standard_uncertainty: 0.01 },
      /another yardstick/,
    ],
  ])('%s', (_what, reference, words) => {
    const [code, message] = codeOf([unit(1), unit(2, { reference })]);
    expect(code).toBe('argument-wrong');
    expect(message).toMatch(words);
  });

  it('a candidate that comes twice, whatever its capitals', () => {
    const twin = unit(2, { candidate: { name: ' UNIT 1', resolution_mW: 1, rated_max_mW: null } });
    const [code, message] = codeOf([unit(1), twin]);
    expect(code).toBe('argument-wrong');
    expect(message).toContain('Evening 2');
  });

  it('the same data under two names', () => {
    const [code, message] = codeOf([unit(1), unit(2, { data_sha256: unit(1).data_sha256 })]);
    expect(code).toBe('argument-wrong');
    expect(message).toContain('"Unit 1" and "Unit 2"');
  });

  it('a unit without a factor at the wavelength is named, with those that it has', () => {
    const [code, message] = codeOf([unit(1), unit(2)], 638);
    expect(code).toBe('wavelength-out-of-range');
    expect(message).toMatch(/"Unit 1".*638 nm.*520 nm/);
    expect(codeOf([unit(1, { factors: [] })])[1]).toContain('none measured');
  });

  it('no units', () => {
    expect(codeOf([])[0]).toBe('argument-wrong');
  });
});
