import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../../src/error.js';
import { commonBend } from '../../../src/power/lines/commonBend.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';

test('size, interval and p are those of lm with a constant a group', () => {
  // R 4.2.2: lm(log(ratio) ~ 0 + g + I(x/1000)), x = 100, 400, 1000, 50, 200, 800, ratio as below,
  // g = 1 1 1 2 2 2: estimate −0.0423026020256768, interval −0.0595789729482180 to
  // −0.0250262311031355, p 0.00439822498550614. The p carries jstat's 2e-8.
  const reference_mW = [100, 400, 1000, 50, 200, 800];
  const ratio = [0.92, 0.915, 0.885, 0.81, 0.8, 0.785];
  const found = commonBend({
    reference_mW,
    candidate_mW: reference_mW.map((p, i) => p * ratio[i]),
    groups: [1, 1, 1, 2, 2, 2],
  });
  nearly(found.at_top_percent, 100 * Math.expm1(-0.0423026020256768), 1e-11);
  nearly(found.interval_percent[0], 100 * Math.expm1(-0.059578972948218), 1e-8);
  nearly(found.interval_percent[1], 100 * Math.expm1(-0.0250262311031355), 1e-8);
  nearly(found.p, 0.00439822498550614, 1e-6);
  expect([found.dof, found.top_mW]).toEqual([3, 1000]);
});

test('with a known scatter two readings are enough, by hand', () => {
  // ln ratio 0 at half the top and −0.04 at the top: bend −0.08, u = √(0.01² + 0.02²)/½ = 0.0447214,
  // t = 1.788854; with ν = 10 the two-sided p is 0.1039 (table of Student's t, interpolated)
  const found = commonBend(
    {
      reference_mW: [500, 1000],
      candidate_mW: [500, 1000 * Math.exp(-0.04)],
      groups: ['a', 'a'],
    },
    { scatter: { sd: [0.01, 0.02], dof: 10 } },
  );
  near(found.at_top_percent, 100 * Math.expm1(-0.08), 1e-9);
  // t(10) at 95 %: 2.228139 (table)
  near(found.interval_percent[1], 100 * Math.expm1(-0.08 + 2.228139 * 0.0447214), 1e-3);
  near(found.interval_percent[0], 100 * Math.expm1(-0.08 - 2.228139 * 0.0447214), 1e-3);
  near(found.p, 0.1039, 2e-4);
  expect([found.dof, found.top_mW]).toEqual([10, 1000]);
});

describe('a stated scatter', () => {
  const readings = { reference_mW: [500, 1000], candidate_mW: [500, 1000], groups: ['a', 'a'] };
  const of = (sd: number, dof: number, confidence?: number) =>
    commonBend(readings, { scatter: { sd: [sd, sd], dof }, confidence });

  test('judges readings that fit exactly too: no bend, for certain', () => {
    const found = of(0.01, 10);
    near(found.at_top_percent, 0, 1e-9);
    near(found.p, 1, 1e-9);
    // √2 · 0.01/½ = 0.0282843; t(10) at 90 %: 1.812461 (table)
    near(of(0.01, 10, 0.9).interval_percent[1], 100 * Math.expm1(1.812461 * 0.0282843), 1e-4);
  });

  test('known better than exactly is known exactly: 1.96', () => {
    for (const dof of [1e6, 1e12]) {
      near(of(0.01, dof).interval_percent[0], 100 * Math.expm1(-1.959964 * 0.0282843), 1e-4);
      near(of(0.01, dof).p, 1, 1e-9);
    }
    const bent = { ...readings, candidate_mW: [500, 1000 * Math.exp(-0.0282843)] };
    // Twice its standard uncertainty: 2·(1 − Φ(2)) = 0.0455
    near(commonBend(bent, { scatter: { sd: [0.01, 0.01], dof: 1e12 } }).p, 0.0455, 1e-4);
  });

  test('of any size leaves finite bounds', () => {
    const { interval_percent: interval } = of(1000, 10);
    near(interval[0], -100, 1e-9);
    near(interval[1], 100 * Math.expm1(700), 1e295);
  });

  test.each([0, -1])('has to have degrees of freedom: %d', (dof) => {
    expect(() => of(0.01, dof)).toThrow(expect.objectContaining({ code: 'too-few-values' }));
  });
});

describe('properties', () => {
  test('the gains of the groups do not matter, and the true bend is covered in 95 %', () => {
    // 1500 studies of 7 series; four binomial standard errors are 2.25 %
    let covered = 0;
    let rejected = 0;
    for (let seed = 0; seed < 1500; seed++) {
      const random = seededRandom(seed);
      const powers = [100, 500, 1000, 200, 900, 40, 60];
      const groups = ['a', 'a', 'a', 'b', 'b', 'c', 'c'];
      const gain: Readonly<Record<string, number>> = { a: 0.9, b: 1.1, c: 0.7 };
      const draw = (bend: number) =>
        powers.map(
          (p, i) => p * gain[groups[i]] * Math.exp((bend * p) / 1000 + 0.01 * random.normal()),
        );
      const at = (bend: number) =>
        commonBend({ reference_mW: powers, candidate_mW: draw(bend), groups });
      const [low, high] = at(-0.03).interval_percent;
      const truth = 100 * Math.expm1(-0.03);
      if (low <= truth && truth <= high) covered++;
      if ((at(0).p ?? 1) < 0.05) rejected++;
    }
    near(covered / 1500, 0.95, 0.0225);
    near(rejected / 1500, 0.05, 0.0225);
  });

  test('readings that fit exactly give no p', () => {
    const reference_mW = [100, 200, 400];
    const found = commonBend({ reference_mW, candidate_mW: reference_mW, groups: [1, 1, 1] });
    expect(found.p).toBeNull();
    near(found.at_top_percent, 0, 1e-9);
  });
});

test.each([
  ['no group with two powers', [100, 200], ['a', 'b'], 'too-few-values'],
  ['nothing left to judge by', [100, 200], ['a', 'a'], 'too-few-values'],
  ['a group missing', [100, 200, 300], ['a', 'a'], 'argument-wrong'],
  ['a group too many', [100, 200, 300], ['a', 'a', 'a', 'a'], 'argument-wrong'],
  ['one reading', [100], ['a'], 'too-few-values'],
  ['no list of groups', [100, 200, 300], null as unknown as string[], 'argument-wrong'],
  ['a reading of 0', [100, 0, 300], ['a', 'a', 'a'], 'reading-not-positive'],
])('%s is refused', (_what, readings, groups, code) => {
  const call = () => commonBend({ reference_mW: readings, candidate_mW: readings, groups });
  expect(call).toThrow(MeterpairError);
  expect(call).toThrow(expect.objectContaining({ code }));
});

test('a stated scatter is one for each reading, above 0', () => {
  const readings = { reference_mW: [500, 1000], candidate_mW: [500, 990], groups: ['a', 'a'] };
  for (const sd of [[0.01], [0.01, 0], [0.01, -0.01], [0.01, Number.NaN]]) {
    expect(() => commonBend(readings, { scatter: { sd, dof: 10 } })).toThrow('scatter');
  }
  expect(() => commonBend({ ...readings, groups: ['a'] })).toThrow('needs its group');
});
