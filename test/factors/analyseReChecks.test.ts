import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { chartFactors } from '../../src/factors/analyseReChecks.js';
import { compareFactors } from '../../src/factors/analyseThenAndNow.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { readStudy } from '../../src/record/readStudy.js';
import type { Factors, ReChecks } from '../../src/vocabulary.js';
import { faultsIn } from '../analyse/walk.js';
import { entry, madeFactors } from '../madeFactors.js';
import { near } from '../near.js';
import { notFinite, steady, studyOf } from '../seriesStudy.js';

const candidate = { name: 'Meter C', resolution_mW: 1, rated_max_mW: null };
/** Factors of one candidate at 520 nm, u = 2.5 % of which 1.5 % by the reference. */
const check = (place: number, factor: number, changes: Partial<Factors> = {}) =>
  madeFactors(place, { candidate, factors: [entry(520, factor, 0.025)], ...changes });
const chart = (list: readonly Factors[]): ReChecks => {
  const [one] = chartFactors(list.slice(0, -1), list[list.length - 1]);
  return one;
};
const four = [1, 1.02, 1.01, 1.05].map((factor, i) => check(i, factor));

describe('by hand', () => {
  // ln K: 0, 0.0198026, 0.0099503, 0.0487902. Their mean 0.0196358; mean moving range 0.0228316,
  // sigma that ÷ 1.128 = 0.0202408. u of each without the reference √(2.5² − 1.5²) % = 2 %.
  const found = chart(four);

  test('centre and limits are those of ln K', () => {
    near(found.centre, 1.01983, 1e-6);
    near(found.limits?.[0] ?? null, 0.959746, 1e-6);
    near(found.limits?.[1] ?? null, 1.083675, 1e-6);
  });

  test('the common calibration is in none of the uncertainties', () => {
    expect(found.same_reference).toBe(true);
    expect(found.common_relative_standard_uncertainty).toBe(0.015);
    near(found.limits_from_uncertainty?.[0] ?? null, 0.96044, 1e-6);
    near(found.limits_from_uncertainty?.[1] ?? null, 1.082893, 1e-6);
    near(found.scatter_ratio, 1.012038, 1e-6);
    for (const one of found.values) near(one.relative_standard_uncertainty, 0.02, 1e-9);
    // Normal quantile 1.959964 (table); ν is about 4·10⁵.
    near(found.values[3].low, 1.009637, 1e-5);
    near(found.values[3].high, 1.091977, 1e-5);
  });

  test('the last value is compared with the first as two files are', () => {
    expect(found.since_first).toEqual(compareFactors(four[0], four[3]).wavelengths[0]);
    near(found.since_first?.change_percent ?? null, 5, 1e-9);
  });

  test('another reference once, and all calibrations count in full', () => {
    const reference = { ...four[1].reference, name: 'Meter Q' };
    const other = chart([four[0], { ...four[1], reference }, four[2], four[3]]);
    expect(other.same_reference).toBe(false);
    expect(other.common_relative_standard_uncertainty).toBeNull();
    // u = 2.5 %.
    near(other.limits_from_uncertainty?.[0] ?? null, 0.94614, 1e-6);
    near(other.scatter_ratio, 0.809631, 1e-6);
    expect(other.limits).toEqual(found.limits);
    expect(other.why).toContain('count in full');
  });

  test('a value beyond what the uncertainties allow is out of control, four values or not', () => {
    const out = chart([...four.slice(0, 3), check(3, 1.12)]);
    expect(out.in_control).toBe(false);
    expect(out.values.map((one) => one.signals)).toEqual([
      [],
      [],
      [],
      ['beyond the limits from the uncertainty'],
    ]);
    expect(found.in_control).toBe(true);
  });
});

describe('in an analysis', () => {
  const reference = { expanded_uncertainty_percent: 3, coverage_factor: 2 };
  const studies = [90, 89.5, 90.4, 84].map((shown, i) =>
    studyOf([{ id: `time ${i}`, nm: 638, laps: steady(100, shown) }], {
      reference,
      study: { title: `Time ${i}` },
    }),
  );
  const factors = studies.map((study) => factorsOf(study, analyse(study)));
  const last = (earlier: Factors | readonly Factors[] | null) => analyse(studies[3], { earlier });

  test('one earlier file gives the same bytes alone and in a list, and no chart', () => {
    const alone = last(factors[0]);
    expect(JSON.stringify(last([factors[0]]))).toBe(JSON.stringify(alone));
    expect(alone.re_checks).toBeNull();
    expect(alone.then_and_now).toEqual(compareFactors(factors[0], alone));
    expect(last([])).toEqual(last(null));
  });

  test('several go on the chart in the order given, with the latest study last', () => {
    const result = last(factors.slice(0, 3));
    const [one] = result.re_checks ?? [];
    expect(one.values.map((value) => value.title)).toEqual([
      'Time 0',
      'Time 1',
      'Time 2',
      'Time 3',
    ]);
    expect(one.values.map((value) => value.factor)).toEqual(
      factors.map((each) => each.factors[0].factor),
    );
    expect(one).toEqual(chartFactors(factors.slice(0, 3), factors[3])[0]);
    // The comparison stays one with the latest of them.
    expect(result.then_and_now).toEqual(last(factors[2]).then_and_now);
    const turned = last([factors[2], factors[1], factors[0]]);
    expect(turned.re_checks?.[0].centre).toBeCloseTo(one.centre ?? 0, 12);
    expect(turned.re_checks?.[0].limits).not.toEqual(one.limits);
    expect(faultsIn(result)).toEqual([]);
  });

  test('out of control is a warning, and in control is none', () => {
    // 90.4/84 is 7.6 % off, against a spread of 1 % a series.
    const codes = (earlier: readonly Factors[]) =>
      last(earlier)
        .warnings.filter((one) => one.code === 're-checks-out-of-control')
        .map((one) => one.message);
    expect(codes(factors.slice(0, 3))).toEqual([expect.stringMatching(/^At 638 nm .*4 \(/)]);
    expect(codes([factors[0], factors[3]])).toEqual([]);
    const calm = analyse(studies[2], { earlier: factors.slice(0, 2) });
    expect(calm.warnings.map((one) => one.code)).not.toContain('re-checks-out-of-control');
  });
});

test('a creep that the ends show before the chart does is a warning of its own', () => {
  const reference = { expanded_uncertainty_percent: 3, coverage_factor: 2 };
  const studies = [90, 89, 88, 87, 86].map((shown, i) =>
    studyOf([{ id: `time ${i}`, nm: 638, laps: steady(100, shown) }], { reference }),
  );
  const earlier = studies.slice(0, 4).map((study) => factorsOf(study, analyse(study)));
  const result = analyse(studies[4], { earlier });
  const [one] = result.re_checks ?? [];
  // 90/86 − 1 = 4.65 % in all and 1.2 % a step, against u near 1.4 % of a change.
  near(one.since_first?.change_percent ?? null, 100 * (90 / 86 - 1), 1e-6);
  expect(one.since_first?.verdict).toBe('moved');
  expect(result.then_and_now?.wavelengths[0].verdict).not.toBe('moved');
  expect(one.in_control).toBe(true);
  const codes = result.warnings.map((each) => each.code);
  expect(codes).toContain('factor-moved-since-first');
  expect(codes).not.toContain('re-checks-out-of-control');
});

describe('what is not on the chart says why', () => {
  test('factors of another candidate', () => {
    const other = check(7, 2, { candidate: { ...candidate, name: 'Meter D' } });
    const found = chart([four[0], other, four[1], four[2]]);
    expect(found.values[1]).toMatchObject({ factor: null, low: null });
    expect(found.values[1].why).toContain('"Meter D"');
    expect(found.centre).toBeCloseTo(chart(four.slice(0, 3)).centre ?? 0, 12);
  });

  test('data that come a second time count once, at the later place', () => {
    const found = chart([four[0], four[3], four[1], four[2], four[3]]);
    expect(found.values.map((one) => one.factor)).toEqual([1, null, 1.02, 1.01, 1.05]);
    expect(found.values[1].why).toContain('same data');
    expect(found.limits).toEqual(chart(four).limits);
  });

  test('wavelengths that few of the studies have', () => {
    const both = check(8, 1, { factors: [entry(520, 1.03, 0.025), entry(638, 0.9, 0.025)] });
    const found = chartFactors([...four, both], check(9, 1.01, { factors: [entry(521, 1, 0.03)] }));
    // 521 nm counts as 520 nm, and the latest study names it.
    expect(found.map((one) => one.wavelength_nm)).toEqual([521, 638]);
    expect(found[0].values.map((one) => one.factor)).toEqual([1, 1.02, 1.01, 1.05, 1.03, 1]);
    const [, lonely] = found;
    expect(lonely).toMatchObject({ centre: null, limits: null, in_control: null });
    expect(lonely.why).toContain('here are 1');
    expect(lonely.since_first).toBeNull();
    const again = check(9, 1.01, { factors: [entry(638, 0.92, 0.025)] });
    const [, two] = chartFactors([...four, both], again);
    near(two.since_first?.change_percent, 100 * (0.92 / 0.9 - 1), 1e-9);
    expect(lonely.values.map((one) => one.why)).toContain('on the chart');
  });

  test('no factor anywhere', () => {
    const bare = [0, 1, 2].map((i) => check(i, 1, { factors: [] }));
    expect(chartFactors(bare.slice(0, 2), bare[2])).toEqual([]);
  });
});

describe('awkward factors', () => {
  test('without any uncertainty of their own only five or more can be judged', () => {
    const exact = (count: number) =>
      chart(
        Array.from({ length: count }, (_, i) =>
          check(i, i === count - 1 ? 1.1 : 1, {
            factors: [entry(520, i === count - 1 ? 1.1 : 1, 0.015)],
          }),
        ),
      );
    expect(exact(4)).toMatchObject({
      in_control: null,
      limits_from_uncertainty: null,
      scatter_ratio: null,
    });
    expect(exact(4).why).toContain('No value has an uncertainty of its own');
    // 0, 0, 0, 0, x: 3.6 sigma.
    expect(exact(5).in_control).toBe(false);
  });

  test('one far surer than the others is named', () => {
    expect(
      chart([...four.slice(0, 3), check(3, 1, { factors: [entry(520, 1, 0.1)] })]).why,
    ).toContain('much surer than others');
    expect(chart(four).why).not.toContain('surer');
  });

  test('no chart holds a number that is not finite, whatever the files say', () => {
    const factor = fc.oneof(
      fc.double({ min: 0.5, max: 2, noNaN: true }),
      fc.double({ min: 1e-300, max: 1e300, noNaN: true }),
    );
    const u = fc.oneof(
      fc.double({ min: 0, max: 0.05, noNaN: true }),
      fc.double({ min: 0, max: 1e6, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(factor, u), { minLength: 3, maxLength: 8 }), (list) => {
        const sets = list.map(([k, own], i) => check(i, 1, { factors: [entry(520, k, own)] }));
        const found = chart(sets);
        expect(notFinite(found)).toEqual([]);
        expect(found.why).not.toBe('');
        expect(notFinite(compareFactors(sets[0], sets[1]))).toEqual([]);
        if (found.limits === null || found.centre === null) return;
        expect(found.limits[0]).toBeLessThanOrEqual(found.centre);
        expect(found.limits[1]).toBeGreaterThanOrEqual(found.centre);
      }),
      { seed: 33 },
    );
  });
});

test('two demos and a third evening: only the violet factor is out of control', async () => {
  const read = async (name: string) =>
    readStudy(fileURLToPath(new URL(`../../data-demo/${name}`, import.meta.url)));
  const first = await read('1-workshop-evening');
  const then = factorsOf(first, analyse(first));
  // A third evening, made of the first: the same meters, the same true factors, as if read anew.
  const again = {
    ...then,
    title: 'Once more',
    data_sha256: 'f'.repeat(64),
    readings_sha256: 'f'.repeat(64),
  };
  const result = analyse(await read('5-a-year-later'), { earlier: [then, again] });
  expect(faultsIn(result)).toEqual([]);
  const at = (nm: number) => result.re_checks?.find((one) => one.wavelength_nm === nm);
  // truth.json of both: 1.21968 then, 1.35576 now at 405 nm; nothing has changed at the others.
  expect(at(405)?.in_control).toBe(false);
  expect([520, 638, 808].map((nm) => at(nm)?.in_control)).toEqual([true, true, true]);
  expect(at(450)?.values.map((one) => one.factor === null)).toEqual([false, false, true]);
});
