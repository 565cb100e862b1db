import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { compareFactors } from '../../src/factors/analyseThenAndNow.js';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { parseFactors } from '../../src/factors/parseFactors.js';
import { readStudy } from '../../src/record/readStudy.js';
import { terminalTable } from '../../src/terminal/terminalTable.js';
import type { ChangeOfFactor, Factors, Result } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { notFinite, steady, studyOf } from '../seriesStudy.js';

const demo = (name: string) => fileURLToPath(new URL(`../../data-demo/${name}`, import.meta.url));
const REFERENCE = { expanded_uncertainty_percent: 3, coverage_factor: 2 };

/** Factors of a study at 638 nm with K near 100/90 and a stated reference. */
function earlierOf(changes: { reference?: object; candidate?: object } = {}) {
  const study = studyOf([{ id: 'then', nm: 638, laps: steady(100, 90) }], {
    ...changes,
    reference: { ...REFERENCE, ...changes.reference },
  });
  return factorsOf(study, analyse(study));
}

const later = () =>
  analyse(studyOf([{ id: 'now', nm: 638, laps: steady(100, 80) }], { reference: REFERENCE }));

/** A file of factors with one entry made to measure. */
const withUncertainty = (factors: Factors, u: number): Factors => ({
  ...factors,
  factors: factors.factors.map((one) => ({ ...one, relative_standard_uncertainty: u, dof: 1e6 })),
});
const resultWith = (result: Result, u: number): Result => ({
  ...result,
  wavelengths: result.wavelengths.map((one) => ({
    ...one,
    relative_standard_uncertainty: u,
    dof: 1e6,
  })),
});

describe('by hand', () => {
  test('the common calibration is left out on both sides', () => {
    // u = 2 % each, of which 1.5 % common: √(2·(2² − 1.5²)) % = 1.8708 %; change 90/80 − 1 = 12.5 %
    const found = compareFactors(withUncertainty(earlierOf(), 0.02), resultWith(later(), 0.02));
    const [one] = found.wavelengths;
    near(one.relative_standard_uncertainty, Math.sqrt(2 * (4 - 2.25)) / 100, 1e-12);
    near(one.change_percent, 12.5, 1e-9);
    // Normal quantile 1.959964 (table); ν is about 2·10⁵ here, which moves the ends by 1e-5
    near(one.low_percent, 100 * (1.125 * Math.exp(-1.959964 * 0.018708287) - 1), 3e-5);
    near(one.high_percent, 100 * (1.125 * Math.exp(1.959964 * 0.018708287) - 1), 3e-5);
    expect(one.verdict).toBe('moved');
    expect(found).toMatchObject({
      same_reference: true,
      common_relative_standard_uncertainty: 0.015,
    });
  });

  test.each([
    ['another reference', { name: 'Meter Q' }, /Another reference/],
    ['a reference that states another uncertainty', { expanded_uncertainty_percent: 2 }, /anew/],
  ])('%s counts in full', (_what, reference, why) => {
    // √(2² + 2²) % = 2.8284 %
    const earlier = withUncertainty(earlierOf({ reference }), 0.02);
    const found = compareFactors(earlier, resultWith(later(), 0.02));
    near(found.wavelengths[0].relative_standard_uncertainty, Math.sqrt(8) / 100, 1e-12);
    expect(found.same_reference).toBe(false);
    expect(found.common_relative_standard_uncertainty).toBeNull();
    expect(found.why).toMatch(why);
  });

  test('a file of before the calibration was written is taken to mean that of now', () => {
    const { relative_standard_uncertainty: _, ...reference } = earlierOf().reference;
    const old = withUncertainty({ ...earlierOf(), reference }, 0.02);
    const found = compareFactors(parseFactors(factorsFile(old)), resultWith(later(), 0.02));
    near(found.wavelengths[0].relative_standard_uncertainty, Math.sqrt(3.5) / 100, 1e-12);
  });
});

describe('what cannot be compared says why', () => {
  const only = (found: { wavelengths: readonly ChangeOfFactor[] }) => {
    expect(found.wavelengths).toHaveLength(1);
    expect(found.wavelengths[0]).toMatchObject({
      verdict: 'not-comparable',
      change_percent: null,
      low_percent: null,
      dof: null,
    });
    return found.wavelengths[0].why;
  };

  test('the factors of another candidate', () => {
    const found = compareFactors(earlierOf({ candidate: { name: 'Meter D' } }), later());
    expect(only(found)).toContain('"Meter D"');
    expect(found.common_relative_standard_uncertainty).toBeNull();
  });

  test('the very data of this study', () => {
    const study = studyOf([{ id: 'a', nm: 638, laps: steady(100, 90) }]);
    const result = analyse(study);
    expect(only(compareFactors(factorsOf(study, result), result))).toContain('very data');
  });

  test('wavelengths that only one of both has', () => {
    const other = analyse(
      studyOf([{ id: 'now', nm: 450, laps: steady(100, 80) }], { reference: REFERENCE }),
    );
    const found = compareFactors(earlierOf(), other);
    expect(found.wavelengths.map((one) => [one.wavelength_nm, one.verdict])).toEqual([
      [450, 'not-comparable'],
      [638, 'not-comparable'],
    ]);
    expect(found.wavelengths[0].why).toContain('earlier study has no factor');
    expect(found.wavelengths[1].why).toContain('no series');
  });
});

describe('a year later, of which the truth is known', () => {
  let found: NonNullable<Result['then_and_now']>;
  let result: Result;
  beforeAll(async () => {
    const then = await readStudy(demo('1-workshop-evening'));
    const earlier = factorsOf(then, analyse(then));
    result = analyse(await readStudy(demo('5-a-year-later')), { earlier });
    found = result.then_and_now as NonNullable<Result['then_and_now']>;
  });
  const at = (nm: number) =>
    found.wavelengths.find((one) => one.wavelength_nm === nm) as ChangeOfFactor;

  test('the factor at 405 nm has moved, by as much as it truly has', () => {
    // Factor to the reference 1.21968 then, 1.35576 now (truth.json of both): +11.157 %
    const one = at(405);
    expect(one.verdict).toBe('moved');
    expect(one.low_percent).toBeLessThan(11.157);
    expect(one.high_percent).toBeGreaterThan(11.157);
    const warning = result.warnings.filter((each) => each.code === 'factor-moved');
    expect(warning).toHaveLength(1);
    expect(warning[0].message).toContain('405 nm');
  });

  test.each([520, 638, 808])('at %d nm, where nothing has changed, no change is claimed', (nm) => {
    expect(['within', 'not-shown']).toContain(at(nm).verdict);
    expect(at(nm).low_percent).toBeLessThan(0);
    expect(at(nm).high_percent).toBeGreaterThan(0);
  });

  test('the same reference is left out, and makes the change surer', () => {
    expect(found.same_reference).toBe(true);
    // U = 3 %, k = 2
    near(found.common_relative_standard_uncertainty, 0.015, 1e-12);
    const u = result.wavelengths.find((one) => one.wavelength_nm === 405)
      ?.relative_standard_uncertainty as number;
    expect(at(405).relative_standard_uncertainty).toBeLessThan(u * Math.SQRT2);
    expect(notFinite(found)).toEqual([]);
  });
});

describe('what the reader has to know', () => {
  const dated = (
    date: string | undefined,
    laps: ReturnType<typeof steady>,
    candidate = 'Meter C',
  ) =>
    studyOf([{ id: date ?? 'now', nm: 638, laps }], {
      reference: REFERENCE,
      candidate: { name: candidate },
      ...(date === undefined ? {} : { study: { record: { date } } }),
    });
  const factors = (date: string | undefined, candidate?: string) => {
    const study = dated(date, steady(100, 90), candidate);
    return factorsOf(study, analyse(study));
  };
  const found = (date: string | undefined, earlier: Factors) => {
    const result = analyse(dated(date, steady(100, 80)), { earlier });
    const code = (wanted: string) =>
      result.warnings.filter((one) => one.code === wanted).map(({ message }) => message);
    return { result, code, terminal: terminalTable(result).replaceAll(/\n */g, ' ') };
  };

  test('factors called earlier that are younger are said to be, and the younger is to be used', () => {
    const { code, terminal } = found('2023-05-01', factors('2024-05-01'));
    expect(code('earlier-is-younger')).toEqual([
      expect.stringMatching(/of 2024-05-01, this study of 2023-05-01: then and now are exchanged/),
    ]);
    expect(code('factor-moved')).toEqual([
      expect.stringMatching(/moved between both studies\. .* use the younger factor/),
    ]);
    expect(terminal).toContain('! The factors called earlier are of 2024-05-01');
    expect(terminal).toContain('of 2024-05-01, younger than this study of 2023-05-01: 638 nm has');
  });

  test.each([
    ['2025-05-01', '2024-05-01'],
    ['2024-05-01', '2024-05-01'],
    ['2024-05-02', '2024-05'],
    [undefined, '2024-05-01'],
    ['2024-05-01', undefined],
  ])('a study of %s after factors of %s is in order', (now, then) => {
    const { code, terminal } = found(now, factors(then));
    expect(code('earlier-is-younger')).toEqual([]);
    expect(code('factor-moved')).toEqual([expect.stringContaining('since the earlier study')]);
    expect(terminal).toContain('Since "Invented readings for a test": 638 nm has moved');
  });

  test('why nothing can be compared is said once, in a warning and in the terminal', () => {
    const { code, terminal } = found('2025-05-01', factors('2024-05-01', 'Meter D'));
    expect(code('factors-not-comparable')).toEqual([
      'Nothing of "Invented readings for a test" can be compared with this study. The earlier factors are those of another candidate ("Meter D", here "Meter C").',
    ]);
    expect(terminal).toContain('nothing can be compared. The earlier factors are those of another');
    expect(found('2025-05-01', factors('2024-05-01')).code('factors-not-comparable')).toEqual([]);
  });
});

test('without earlier factors there is nothing to say', () => {
  expect(later().then_and_now).toBeNull();
});
