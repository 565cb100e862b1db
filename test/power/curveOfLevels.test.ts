import { describe, expect, test } from 'vitest';
import { curveOfLevels } from '../../src/power/curveOfLevels.js';
import { factorByPower } from '../../src/power/factorByPower.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { KNOWN_EXACTLY, type WavelengthResult } from '../../src/vocabulary.js';
import { ENTRY } from '../factors/support.js';
import { levelOf } from '../fullRecords.js';
import { near } from '../near.js';

/** u = 5 % of which 3 % are placements: 4 % are the rest. */
const at = (candidate_mW: number, factor: number, changes: object = {}) => ({
  ...levelOf({
    ...ENTRY,
    candidate_range_mW: [candidate_mW, candidate_mW],
    factor,
    relative_standard_uncertainty: 0.05,
    dof: 10,
    coverage_factor: coverageFactor(0.95, 10),
    placement_u: 0.03,
  }),
  rest_dof: 20,
  ...changes,
});
const curve = (part?: 'all' | 'placement' | 'rest', changes: object = {}) =>
  curveOfLevels({ levels: [at(100, 1.1, changes), at(400, 1.2)], offset_mW: null }, 0.95, part)
    .levels;

describe('levels of a file as a curve', () => {
  test('of ln K, with all of the uncertainty or the part that is asked for', () => {
    const [all, placement, rest] = [curve(), curve('placement'), curve('rest')];
    near(all[0]!.logFactor, Math.log(1.1), 1e-12);
    near(all[0]!.standardUncertainty, 0.05, 1e-12);
    near(all[0]!.dof, 10, 1e-6);
    expect([placement[0]!.standardUncertainty, placement[0]!.dof]).toEqual([0.03, 10]);
    near(rest[0]!.standardUncertainty, 0.04, 1e-12);
    expect(rest[0]!.dof).toBe(20);
  });

  test('each level as it is: place, value, uncertainty and what it shares with the next', () => {
    const level = { ...at(100, 1.1), candidate_mW: [80, 125] as const };
    const made = curveOfLevels({ levels: [level], offset_mW: -0.4 }, 0.95, 'rest');
    expect(made).toEqual({
      offset_mW: -0.4,
      levels: [
        {
          candidate_mW: [80, 125],
          centre_mW: 100,
          logFactor: Math.log(1.1),
          standardUncertainty: Math.sqrt(0.05 ** 2 - 0.03 ** 2),
          dof: 20,
          correlationWithNext: 1,
        },
      ],
    });
  });

  test('placements above all of the uncertainty leave no rest', () => {
    const more = { placement_relative_standard_uncertainty: 0.06 };
    expect(curve('rest', more)[0]!.standardUncertainty).toBe(0);
    // No rest of its own: 0.5 of the placements, of which the next level has 3 parts in 5
    near(
      curve('all', { ...more, placement_correlation_with_next: 0.5 })[0]!.correlationWithNext,
      0.5 * (3 / 5),
      1e-12,
    );
  });

  test('the rest is common to all levels, placements as far as the file says', () => {
    const shared = { placement_correlation_with_next: 0.5 };
    expect(curve('rest', shared)[0]!.correlationWithNext).toBe(1);
    expect(curve('placement', shared)[0]!.correlationWithNext).toBe(0.5);
    // (4 · 4 + 0.5 · 3 · 3) / (5 · 5)
    near(curve('all', shared)[0]!.correlationWithNext, 20.5 / 25, 1e-12);
    near(curve('all')[0]!.correlationWithNext, 1, 1e-12);
    expect(curve('all')[1]!.correlationWithNext).toBe(1);
    const exact = { relative_standard_uncertainty: 0, placement_relative_standard_uncertainty: 0 };
    expect(curve('all', exact)[0]!.correlationWithNext).toBe(1);
  });

  test('an interval narrower or wider than any t keeps its width', () => {
    const of = (coverage_factor: number) => curve('all', { coverage_factor })[0]!;
    // Half of the normal 1.96, and twice the 12.706 of one degree of freedom
    near(of(0.98).standardUncertainty, (0.05 * 0.98) / 1.959964, 1e-6);
    expect(of(0.98).dof).toBe(KNOWN_EXACTLY);
    near(of(25.412).standardUncertainty, 0.1, 1e-5);
    expect(of(25.412).dof).toBe(1);
    // And what lies within them is the t of that width, at any confidence (table: 2.228 and 3.169)
    near(of(2.228139).dof, 10, 1e-4);
    expect(of(coverageFactor(0.95, KNOWN_EXACTLY)).dof).toBe(KNOWN_EXACTLY);
    const [at99] = curveOfLevels(
      { levels: [at(100, 1.1, { coverage_factor: 3.169273 })], offset_mW: null },
      0.99,
    ).levels;
    near(at99!.dof, 10, 1e-4);
    expect(at99!.standardUncertainty).toBe(0.05);
  });
});

test('the factor of a reading is that of its power, and none where there are no levels', () => {
  const wavelength = (wavelength_nm: number, levels: object[]) =>
    ({ wavelength_nm, levels, by_power: { offset_mW: null } }) as unknown as WavelengthResult;
  const factorAt = factorByPower(
    [wavelength(520, [at(100, 1.1), at(400, 1.2)]), wavelength(638, [])],
    0.95,
  );
  near(factorAt(520, 100), 1.1, 1e-12);
  near(factorAt(520, 400), 1.2, 1e-12);
  near(factorAt(520, 200), Math.sqrt(1.1 * 1.2), 1e-12);
  expect([factorAt(638, 100), factorAt(450, 100), factorAt(520, 0), factorAt(520, 10)]).toEqual([
    null,
    null,
    null,
    null,
  ]);
});

test('an offset that the levels show bends the way between them', () => {
  const levels = [at(20, 1.2 * (1 - 2 / 20)), at(200, 1.2 * (1 - 2 / 200))];
  const wavelength = { wavelength_nm: 520, levels, by_power: { offset_mW: 2 } };
  const factorAt = factorByPower([wavelength as unknown as WavelengthResult], 0.95);
  near(factorAt(520, 50), 1.2 * (1 - 2 / 50), 1e-12);
});
