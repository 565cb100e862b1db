import { describe, expect, test } from 'vitest';
import { curvature } from '../../../src/power/lines/curvature.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromR, peakFlow } from './fixtures.js';

const powers = [20, 50, 100, 200, 350, 500, 700, 900, 1200, 1500, 1750, 2000];

/** Candidate = offset + 0.8 · P · (1 + bend · P / 2000), 0.5 % noise in both. */
function bench(seed: number, bend: number, offset = 0) {
  const random = seededRandom(seed);
  const noisy = (value: number) => value * (1 + 0.005 * random.normal());
  return {
    reference_mW: powers.map(noisy),
    candidate_mW: powers.map((p) => noisy(offset + 0.8 * p * (1 + (bend * p) / 2000))),
  };
}

test('the test of the bend is that of lm with weights 1/x², with and without an offset', () => {
  // test/fixtures/lines.R: t, p and size at the top of a parabola through the peak flows
  const readings = { reference_mW: peakFlow.x, candidate_mW: peakFlow.y };
  const [t, p, percent] = fromR.bend;
  const found = curvature(readings);
  nearly(found.t, t, 1e-9);
  nearly(found.p, p, 1e-7);
  nearly(found.at_top_percent, percent, 1e-7);
  // Gain at low flow is not told from 0 here, so the size has no bounds
  expect(found.interval_percent).toBeNull();
  expect(found.why).toMatch(/cannot be told from zero/);
  const [t0, p0, percent0] = fromR.bendWithoutOffset;
  const without = curvature(readings, { offset: false });
  nearly(without.t, t0, 1e-9);
  nearly(without.p, p0, 1e-7);
  nearly(without.at_top_percent, percent0, 1e-7);
});

test('the interval of the bend ends where R finds its t statistic at the quantile', () => {
  // test/fixtures/lines.R; invented ratios, bending by a few percent
  const ratio = [
    0.802, 0.797, 0.803, 0.799, 0.794, 0.795, 0.791, 0.786, 0.781, 0.774, 0.772, 0.764,
  ];
  const found = curvature({
    reference_mW: powers,
    candidate_mW: powers.map((p, i) => p * ratio[i]),
  });
  const [percent, low, high] = fromR.bendInterval;
  nearly(found.at_top_percent, percent, 1e-10);
  nearly(found.interval_percent?.[0], low, 1e-8);
  nearly(found.interval_percent?.[1], high, 1e-8);
});

test('three ratios by hand, and the whole record', () => {
  // a + b·(power ÷ 400) through 0.8, 0.79, 0.75: Σ(x − x̄)² = 7/24, b = −0.02·24/7, a = 0.78 − b·7/12.
  // Squares left: 0.0014 − b²·7/24 = 0.02857e-3, one degree of freedom, so t = −√48; p and Fieller's ends
  // by SciPy 1.17.1 (stats.t.sf, numpy.roots)
  const reference_mW = [100, 200, 400];
  const candidate_mW = [80, 158, 300];
  const found = curvature({ reference_mW, candidate_mW }, { offset: false });
  expect(found).toEqual({
    verdict: 'not-shown',
    at_top_percent: expect.closeTo((-100 * 0.48) / 5.74, 9),
    interval_percent: [expect.closeTo(-21.7899184, 5), expect.closeTo(7.66389374, 5)],
    t: expect.closeTo(-Math.sqrt(48), 8),
    p: expect.closeTo(0.0912578967, 8),
    dof: 1,
    top_mW: 400,
    offset_included: false,
    why: found.why,
  });
  const at = (confidence: number) =>
    curvature({ reference_mW, candidate_mW }, { offset: false, confidence });
  expect([at(0.908).verdict, at(0.909).verdict]).toEqual(['reads-low-at-the-top', 'not-shown']);
  // The order of the readings does not matter, and a candidate that reads high does so with its sign.
  const turned = { reference_mW: [400, 100, 200], candidate_mW: [300, 80, 158] };
  near(curvature(turned, { offset: false }).at_top_percent, (-100 * 0.48) / 5.74, 1e-9);
  const high = curvature(
    { reference_mW, candidate_mW: [80, 162, 340] },
    { offset: false, confidence: 0.9 },
  );
  expect(high.verdict).toBe('reads-high-at-the-top');
  near(high.t, Math.sqrt(48), 1e-8);
});

test('four readings are enough with an offset, and left with one degree of freedom', () => {
  const found = curvature({ reference_mW: [10, 20, 40, 80], candidate_mW: [8, 16.2, 32, 63] });
  expect([found.dof, found.top_mW, found.offset_included]).toEqual([1, 80, true]);
});

test('a candidate that grows as the square has no gain to measure a bend by', () => {
  const squared = curvature(
    { reference_mW: [1, 2, 4, 8], candidate_mW: [1, 4, 16, 64] },
    { offset: false },
  );
  expect([squared.verdict, squared.interval_percent]).toEqual(['reads-high-at-the-top', null]);
  expect(JSON.stringify(squared)).not.toMatch(/NaN|Infinity/);
});

describe('properties', () => {
  test('a candidate that reads 5 % low at the top is seen to, and by how much', () => {
    const found = curvature(bench(1, -0.05));
    expect(found.verdict).toBe('reads-low-at-the-top');
    expect(found.interval_percent?.[0]).toBeLessThan(-5);
    expect(found.interval_percent?.[1]).toBeGreaterThan(-5);
    expect(found.interval_percent?.[1]).toBeLessThan(0);
    expect(curvature(bench(1, 0.05)).verdict).toBe('reads-high-at-the-top');
  });

  test('the interval holds 95 % and the test errs in 5 %', () => {
    // 1500 studies; four binomial standard errors are 2.25 %
    let covered = 0;
    let rejected = 0;
    for (let seed = 0; seed < 1500; seed++) {
      const [low, high] = curvature(bench(seed, -0.03)).interval_percent ?? [0, 0];
      // The top that is reported is a noisy reading, 0.5 % of 3 % and so not visible
      if (low <= -3 && -3 <= high) covered++;
      if ((curvature(bench(seed + 5000, 0)).p ?? 1) < 0.05) rejected++;
    }
    near(covered / 1500, 0.95, 0.0225);
    near(rejected / 1500, 0.05, 0.0225);
  });

  test('a zero offset is not taken for a bend unless the offset is left out', () => {
    let shown = 0;
    for (let seed = 0; seed < 100; seed++) {
      if (curvature(bench(seed, 0, 2)).verdict !== 'not-shown') shown++;
    }
    // 5 % expected; four binomial standard errors
    expect(shown).toBeLessThan(14);
    // From 200 mW up the offset falls off smoothly and passes for a bend
    const readings = bench(1, 0, 20);
    const upper = {
      reference_mW: readings.reference_mW.slice(3),
      candidate_mW: readings.candidate_mW.slice(3),
    };
    expect(curvature(upper, { offset: false }).verdict).toBe('reads-low-at-the-top');
    expect(curvature(upper).verdict).toBe('not-shown');
  });
});

describe('awkward input', () => {
  const bent0 = () =>
    curvature({
      reference_mW: powers,
      candidate_mW: powers.map((p) => 0.5 * p * (1 + (0.1 * p) / 2000)),
    });

  test('readings exactly on a line and exactly on a parabola', () => {
    const straight = curvature({ reference_mW: powers, candidate_mW: powers.map((p) => 0.5 * p) });
    expect(straight.verdict).toBe('not-shown');
    near(straight.at_top_percent, 0, 1e-9);
    expect([straight.t, straight.p, bent0().t, bent0().p]).toEqual([null, null, null, null]);
    expect(bent0().verdict).toBe('reads-high-at-the-top');
    const bent = curvature({
      reference_mW: powers,
      candidate_mW: powers.map((p) => 0.5 * p * (1 - (0.1 * p) / 2000)),
    });
    expect(bent.verdict).toBe('reads-low-at-the-top');
    near(bent.at_top_percent, -10, 1e-8);
    expect(JSON.stringify([straight, bent])).not.toMatch(/NaN|Infinity/);
  });

  test.each([
    ['three readings with an offset', [1, 2, 3], [1, 2, 3], true, 'too-few-values'],
    ['two readings', [1, 2], [1, 2], false, 'too-few-values'],
    ['two powers', [5, 5, 9, 9, 9], [5, 5, 9, 9, 9], true, 'too-few-values'],
    ['one power', [5, 5, 5, 5], [5, 5, 5, 5], false, 'too-few-values'],
    ['a reading of 0', [0, 2, 3, 4, 5], [1, 2, 3, 4, 5], true, 'reading-not-positive'],
  ])('%s: refused', (_, reference_mW, candidate_mW, offset, code) => {
    expect(() => curvature({ reference_mW, candidate_mW }, { offset })).toThrow(
      expect.objectContaining({ code }),
    );
  });
});
