import { describe, expect, test } from 'vitest';
import {
  commonToAll,
  sharedReference,
  statedReference,
} from '../../src/opinions/sharedReference.js';
import { withoutCommon } from '../../src/opinions/withoutCommon.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';
import { near } from '../near.js';

const stated = (u: number | null | undefined, name = 'Head R') => ({
  name,
  relative_standard_uncertainty: u,
});

describe('one reference behind several sets of factors', () => {
  test('is known by its name, whatever its case and the blanks around it', () => {
    const of = (name: string) => sharedReference([stated(0.01), stated(0.01, name)]);
    expect(of(' head r ')).toEqual({ sameName: true, same: true, common: 0.01 });
    expect(sharedReference([stated(0.01, ' Head R'), stated(0.01)]).same).toBe(true);
    expect(of('Head S')).toEqual({ sameName: false, same: false, common: null });
    const third = [stated(0.01), stated(0.01), stated(0.01, 'Head S')];
    expect(sharedReference(third).sameName).toBe(false);
  });

  test('and by its stated uncertainty, but for rounding at a millionth of it', () => {
    const same = (...all: (number | null | undefined)[]) =>
      sharedReference(all.map((u) => stated(u))).same;
    expect([same(0.02, 0.02 * (1 + 9e-7)), same(0.02, 0.02 * (1 + 2e-6))]).toEqual([true, false]);
    expect(same(0.02, 0.03)).toBe(false);
    expect(same(0.03, 0.02, 0.02)).toBe(false);
    expect(same(0.02, 0.02 * (1 - 2e-6))).toBe(false);
  });

  test('not stated is not the same as stated, and the same as not stated', () => {
    const of = (...all: (number | null | undefined)[]) =>
      sharedReference(all.map((u) => stated(u)));
    expect(of(null, 0.02)).toEqual({ sameName: true, same: false, common: null });
    expect(of(0.02, null).same).toBe(false);
    expect(of(null, null)).toEqual({ sameName: true, same: true, common: null });
    // Stated, and nobody wrote how large: taken to be that of the others.
    expect(of(undefined, 0.02)).toEqual({ sameName: true, same: true, common: 0.02 });
    expect(of(0.02, undefined).common).toBe(0.02);
    expect(of(undefined, undefined)).toEqual({ sameName: true, same: true, common: null });
  });

  test('as a file of factors states it', () => {
    const of = (uncertainty_stated: boolean, u?: number | null) =>
      statedReference({
        reference: {
          name: 'R',
          uncertainty_stated,
          ...(u === undefined ? {} : { relative_standard_uncertainty: u }),
        },
      }).relative_standard_uncertainty;
    expect([of(true, 0.01), of(false, null), of(true), of(false)]).toEqual([
      0.01,
      null,
      undefined,
      null,
    ]);
    // A figure that is written counts, whatever else the file says.
    expect(of(false, 0.01)).toBe(0.01);
  });

  test('has no part that a factor is too sure to hold', () => {
    const factors = [0.02, 0.01].map((u) => ({ relative_standard_uncertainty: u }));
    const common = (u: number | null) =>
      commonToAll({ sameName: true, same: true, common: u }, factors);
    expect([common(0.005), common(0.01), common(0.015), common(null)]).toEqual([
      0.005,
      0.01,
      null,
      null,
    ]);
  });
});

describe('a factor without what it shares', () => {
  const factor = (u: number, dof = 50) => ({ relative_standard_uncertainty: u, dof });

  test('u² − c² and ν·((u² − c²)/u²)²', () => {
    // 5² − 3² = 4², (16/25)² · 50 = 20.48.
    const { standardUncertainty, dof } = withoutCommon(factor(0.05), 0.03);
    near(standardUncertainty, 0.04, 1e-12);
    near(dof, 20.48, 1e-9);
    expect(withoutCommon(factor(0.05, 2), 0.049).dof).toBe(1);
  });

  test('nothing is left, and known exactly, where the whole of it is shared', () => {
    const nothing = { standardUncertainty: 0, dof: KNOWN_EXACTLY };
    expect(withoutCommon(factor(0.03), 0.03)).toEqual(nothing);
    expect(withoutCommon(factor(0.03), 0.04)).toEqual(nothing);
    expect(withoutCommon(factor(0), 0)).toEqual(nothing);
  });
});
