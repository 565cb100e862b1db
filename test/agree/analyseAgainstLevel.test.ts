import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { agreementFigure } from '../../src/figures/agreementFigure.js';
import { levelSentences } from '../../src/findings/levelSentences.js';
import { agreementByLevel } from '../../src/findings/spokenFindings.js';
import { seededRandom } from '../../src/statistics/random.js';
import { faultsIn } from '../analyse/walk.js';
import { near } from '../near.js';
import { type PlannedSeries, studyOf } from '../seriesStudy.js';

interface Plan {
  readonly powers: readonly number[];
  readonly nm?: (i: number) => number;
  /** Candidate minus reference at a power, in mW. */
  readonly bias: (power: number) => number;
  readonly sd: (power: number) => number;
  readonly seed?: number;
}

const POWERS = [5, 8, 12, 20, 30, 50, 80, 120, 200, 300, 500, 800];

/** Six laps a series; the series' own shift is as large as the scatter of its laps. */
function seriesOf({ powers, nm = () => 520, bias, sd, seed = 3 }: Plan): PlannedSeries[] {
  const random = seededRandom(seed);
  return powers.map((power, i) => {
    const centre = power + bias(power) + sd(power) * random.normal();
    return {
      id: `s${i}`,
      nm: nm(i),
      source: `source ${i}`,
      laps: Array.from(
        { length: 6 },
        () => [power, Number((centre + sd(power) * random.normal()).toFixed(4))] as const,
      ),
    };
  });
}

const resultOf = (plan: Plan) => {
  const study = studyOf(seriesOf(plan));
  return { study, result: analyse(study) };
};
const foundIn = (plan: Plan) => resultOf(plan).result.agreement.against_level;

describe('which limits serve', () => {
  test('errors in proportion to the power: constant limits in percent, with few false alarms', () => {
    const all = Array.from({ length: 24 }, (_, i) =>
      foundIn({ powers: POWERS, bias: (p) => -0.08 * p, sd: (p) => 0.01 * p, seed: i + 1 }),
    );
    // Two tests at 5 %: about 21.6 of 24, binomial standard deviation 1.5; three of them below.
    const constant = all.filter((one) => one.description === 'constant-percent');
    expect(constant.length).toBeGreaterThanOrEqual(17);
    for (const { scale, levels } of constant) {
      expect(scale).toBe('percent');
      expect(levels.map((one) => one.place)).toEqual(['lowest', 'middle', 'highest']);
      // Series scatter by 1.1 % in the mean: the line is off by 0.3 % in the middle, 0.6 % at its ends
      for (const one of levels) near(one.bias, -8, 2.4);
    }
  });

  test('a constant offset and scatter: constant limits in mW', () => {
    const found = foundIn({ powers: POWERS, bias: () => 0.6, sd: () => 0.1 });
    expect(found).toMatchObject({ description: 'constant-mW', scale: 'mW' });
    for (const one of found.levels) {
      // 1.96 × 0.1 × √2, from twelve series
      near(one.high, 0.6 + 0.277, 0.15);
      near(one.low, 0.6 - 0.277, 0.15);
    }
  });

  test('a bias that grows faster than the power: limits that change, right at each level', () => {
    const bias = (p: number) => p * (0.02 + 0.03 * Math.log(p / 5));
    const found = foundIn({ powers: POWERS, bias, sd: (p) => 0.01 * p });
    expect(found).toMatchObject({
      description: 'changes-with-level',
      scale: 'percent',
      bias_change: 'shown',
    });
    for (const one of found.levels) {
      // Level: mean of both meters on the log scale, so the power lies half a bias below.
      const p = one.level_mW / Math.sqrt(1 + bias(one.level_mW) / one.level_mW);
      const truth = (100 * bias(p)) / p;
      expect(one.bias_interval[0]).toBeLessThan(truth + 0.6);
      expect(one.bias_interval[1]).toBeGreaterThan(truth - 0.6);
      near(one.high, truth + 1.96 * Math.SQRT2, 1.5);
      expect(one.high_interval[0]).toBeLessThan(truth + 1.96 * Math.SQRT2);
      expect(one.high_interval[1]).toBeGreaterThan(truth + 1.96 * Math.SQRT2);
    }
  });

  test('a spread that shrinks relative to the power, as with a coarse display, is seen', () => {
    const powers = Array.from({ length: 30 }, (_, i) => 5 * 1.2 ** i);
    const found = foundIn({
      powers,
      bias: (p) => 0.2 * p ** 0.7,
      sd: (p) => p * (0.05 - 0.008 * Math.log(p / 5)),
    });
    expect(found).toMatchObject({ description: 'changes-with-level', spread_change: 'shown' });
    expect(found.spread_slope.value).toBeLessThan(0);
    const [low, , high] = found.levels.map((one) => (one.high ?? 0) - (one.low ?? 0));
    expect(low).toBeGreaterThan(2 * high);
    expect(found.levels[0].low_interval).toEqual([null, null]);
    expect(found.why).toContain('no interval');
    expect(found.why).not.toContain('there are no limits');
    // The slope that is told is that of the line through the levels.
    const [from, , to] = found.levels.map((one) => Math.log1p(one.bias / 100));
    const span = Math.log(found.levels[2].level_mW / found.levels[0].level_mW);
    near((to - from) / span, found.bias_slope.value ?? 0, 1e-9);
  });
});

describe('what is no change with the level', () => {
  const colour = [450, 520, 638];

  test('a difference between colours that were measured at different powers', () => {
    const powers = [10, 11, 12, 100, 105, 110, 1000, 1050, 1100];
    const nm = (i: number) => colour[Math.floor(i / 3)];
    const found = foundIn({
      powers,
      nm,
      bias: (p) => p * (p < 50 ? -0.06 : p < 500 ? 0 : 0.06),
      sd: (p) => 0.004 * p,
    });
    expect(found).toMatchObject({ bias_change: 'confounded', description: 'constant-percent' });
    expect(found.bias_slope.p).toBeLessThan(0.01);
    expect(found.why).toContain('wavelength');
  });

  test('nor one that the powers within each colour do not show', () => {
    const powers = [10, 30, 100, 100, 300, 1000, 1000, 3000, 10_000];
    const nm = (i: number) => colour[Math.floor(i / 3)];
    const at = new Map(powers.map((power, i) => [power * (1 + i * 1e-9), Math.floor(i / 3) - 1]));
    const found = foundIn({
      powers: [...at.keys()],
      nm,
      bias: (p) => p * 0.06 * (at.get(p) ?? 0),
      sd: (p) => 0.004 * p,
    });
    expect(found.bias_change).toBe('confounded');
    expect(found.why).toContain('within wavelengths no change is shown');
  });

  test('yet a change within colours is seen among several', () => {
    const powers = [10, 100, 1000, 12, 120, 1200, 9, 90, 900];
    const nm = (i: number) => colour[Math.floor(i / 3)];
    const found = foundIn({
      powers,
      nm,
      bias: (p) => p * (0.02 + 0.03 * Math.log(p / 10)),
      sd: (p) => 0.005 * p,
    });
    expect(found).toMatchObject({ bias_change: 'shown', description: 'changes-with-level' });
    expect(found.why).toContain('within wavelengths the difference changes too');
  });

  test('a noisy candidate: no slope is shown that its noise can make', () => {
    // All noise in the candidate, levels about as far apart as it scatters: the slope is never shown.
    let plain = 0;
    let shown = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const found = foundIn({
        powers: Array.from({ length: 16 }, (_, i) => 80 + 3 * i),
        bias: () => 0,
        sd: () => 14,
        seed,
      });
      if ((found.bias_slope.p ?? 1) < 0.05) plain += 1;
      if (found.bias_change === 'shown') shown += 1;
    }
    expect(plain).toBeGreaterThan(5);
    expect(shown).toBeLessThanOrEqual(2);
  });
});

describe('what cannot be told', () => {
  test('too few series and too little spread of level are null with a reason, nothing is lost', () => {
    const flat = { bias: () => 0.5, sd: (p: number) => 0.01 * p };
    const cases = [
      [{ ...flat, powers: [10] }, /4 series; there is 1/],
      [{ ...flat, powers: [10, 20, 40] }, /4 series; there are 3/],
      [{ ...flat, powers: [100, 101, 102, 103] }, /too close together/],
      [{ ...flat, powers: [10, 20, 40, 80] }, /8 series/],
    ] as const;
    for (const [plan, why] of cases) {
      const { result } = resultOf(plan);
      expect(result.agreement.against_level.why).toMatch(why);
      expect(faultsIn(result).filter((fault) => fault.includes('agreement'))).toEqual([]);
    }
  });

  test('laps that repeat exactly show no change that rounding makes', () => {
    const powers = [10, 20, 40, 80, 160, 320, 640, 1280, 2560];
    const found = foundIn({ powers, bias: (p) => -0.1 * p, sd: () => 0 });
    expect(found).toMatchObject({ description: 'constant-percent', bias_change: 'not-shown' });
    expect(found.spread_change).toBe('not-shown');
  });
});

describe('shown to people', () => {
  const bias = (p: number) => p * (0.02 + 0.03 * Math.log(p / 5));
  const changing = resultOf({ powers: POWERS, bias, sd: (p) => 0.01 * p });
  const constant = resultOf({
    powers: POWERS,
    bias: (p) => 0.02 * p,
    sd: (p) => 0.01 * p,
    seed: 1,
  });
  test('the table of levels has rows only where they matter', () => {
    expect(agreementByLevel(changing.result).rows.map(([place]) => place)).toEqual([
      'lowest',
      'middle',
      'highest',
    ]);
    expect(agreementByLevel(constant.result).rows).toEqual([]);
  });

  test('the sentences name what changes, the limits at each level, and which limits serve', () => {
    const [first = '', second = ''] = levelSentences(changing.result.agreement);
    expect(first).toContain('bias changes with the power');
    expect(first).toContain('take those of the level');
    expect(second.match(/limits .+? to .+? %/g)).toHaveLength(3);
    const [only = '', ...rest] = levelSentences(constant.result.agreement);
    expect(only).toContain('no change with the power is shown');
    expect(only).toContain('Constant limits in percent serve');
    expect(rest).toEqual([]);
  });

  test('the figure draws lines through the levels in place of constant ones', () => {
    const traces = agreementFigure(changing.study, changing.result);
    const lines = traces.data.filter((one) => 'mode' in one && one.mode === 'lines');
    expect(lines).toHaveLength(3);
    expect(traces.layout.shapes).toEqual([]);
    const { levels } = changing.result.agreement.against_level;
    const ends = lines.map((one) => ('y' in one ? (one.y as number[]) : []));
    const expected = [levels[0], levels[2]].map((one) => [one.bias, one.low ?? 0, one.high ?? 0]);
    ends.forEach((y, k) => {
      near(y[0], expected[0][k], 1e-9);
      near(y[y.length - 1], expected[1][k], 1e-9);
    });
    const plain = agreementFigure(constant.study, constant.result);
    expect(plain.data.every((one) => 'mode' in one && one.mode === 'markers')).toBe(true);
    expect(plain.layout.shapes).toHaveLength(3);
  });

  test('limits in mW are drawn in percent of the reference', () => {
    // Bias and spread in mW that no scale makes constant.
    const { study, result } = resultOf({
      powers: Array.from({ length: 30 }, (_, i) => 5 * 1.2 ** i),
      bias: () => 0,
      sd: () => 0.2,
    });
    const found = result.agreement.against_level;
    expect(found.scale).toBe('mW');
    const level = { ...found, description: 'changes-with-level' as const };
    const agreement = { ...result.agreement, against_level: level };
    const [, , high] = agreementFigure(study, { ...result, agreement }).data.filter(
      (one) => 'mode' in one && one.mode === 'lines',
    );
    const { level_mW: m, high: d } = found.levels[0];
    // Reference r = m − d/2
    near('y' in high ? (high.y as number[])[0] : null, (100 * (d ?? 0)) / (m - (d ?? 0) / 2), 1e-9);
  });
});
