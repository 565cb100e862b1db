import { describe, expect, test } from 'vitest';
import { gainOrGainAndOffset } from '../../../src/power/lines/gainOrGainAndOffset.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromDefinition, fromR, peakFlow } from './fixtures.js';

const levels = [5, 8, 12, 20, 35, 60, 100, 160, 250, 400];

/** Readings with 1 % noise in both meters; truth: reference = offset + 1.25 · candidate. */
function bench(seed: number, offset: number) {
  const random = seededRandom(seed);
  return {
    candidate_mW: levels.map((level) => level * (1 + 0.01 * random.normal())),
    reference_mW: levels.map((level) => (offset + 1.25 * level) * (1 + 0.01 * random.normal())),
  };
}

describe('against R', () => {
  test('with noise in the reference alone it is anova of two lm, and the AICc difference', () => {
    // test/fixtures/lines.R; noise of the candidate set so low that it does not count (1e-9)
    const [slope, u, f, p, difference] = fromR.offset;
    const found = gainOrGainAndOffset(
      { candidate_mW: peakFlow.x, reference_mW: peakFlow.y },
      { candidateRelativeSd: 1e-9, referenceRelativeSd: 0, referenceSd_mW: 1 },
    );
    nearly(found.gain.factor.value, slope, 1e-9);
    nearly(found.gain.factor.standard_uncertainty, u, 1e-9);
    nearly(found.f, f, 1e-8);
    nearly(found.p, p, 1e-8);
    nearly(found.aicc_difference, difference, 1e-8);
    nearly(found.gain_and_offset.offset_mW.value, fromR.ordinary[0], 1e-8);
    nearly(found.gain_and_offset.offset_mW.standard_uncertainty, fromR.ordinary[2], 1e-8);
    expect(found.verdict).toBe('offset-not-shown');
  });
});

describe('against its definition (test/fixtures/powerLines.py)', () => {
  /** Every number of the record. */
  function expectRecord(found: unknown, expected: unknown, place = ''): void {
    if (typeof expected === 'number') {
      nearly(found as number, expected, 1e-6);
      return;
    }
    for (const [key, value] of Object.entries(expected as object)) {
      expect(found, `${place}.${key}`).toHaveProperty(key);
      expectRecord((found as Record<string, unknown>)[key], value, `${place}.${key}`);
    }
  }

  test('noise that grows and noise that does not, in both meters, at 90 %', () => {
    const { x, y, adjusted, ...expected } = fromDefinition.mixed;
    const found = gainOrGainAndOffset(
      { candidate_mW: x, reference_mW: y },
      {
        candidateRelativeSd: 0.02,
        referenceRelativeSd: 0.01,
        candidateSd_mW: 0.3,
        referenceSd_mW: 0.1,
        confidence: 0.9,
      },
    );
    expectRecord(found, expected);
    expect(found.verdict).toBe('offset-shown');
    expect(adjusted.every((level) => level > 0)).toBe(true);
  });

  test('a level that came out below 0 keeps the noise of its reading', () => {
    const { x, y, adjusted, ...expected } = fromDefinition.below;
    expect(adjusted[1]).toBeLessThan(-1);
    const noise = { candidateRelativeSd: 0.2, referenceRelativeSd: 0.2 };
    const found = gainOrGainAndOffset(
      { candidate_mW: x, reference_mW: y },
      { ...noise, candidateSd_mW: 4, referenceSd_mW: 4 },
    );
    expectRecord(found, expected);
    expect(found.verdict).toBe('offset-not-shown');
  });
});

describe('the verdict', () => {
  const of = (candidate_mW: readonly number[], offset: number, rest: readonly number[]) =>
    gainOrGainAndOffset({
      candidate_mW,
      reference_mW: candidate_mW.map((c, i) => (offset + c) * (1 + rest[i])),
    });

  test('of four pairs goes by p alone, the criterion being beyond them', () => {
    const shown = of([10, 50, 100, 400], 3, [0.001, -0.001, 0.001, -0.001]);
    expect(shown.p).toBeLessThan(0.05);
    expect(shown).toMatchObject({ verdict: 'offset-shown', aicc_difference: null });
    const not = of([10, 50, 100, 400], 0.05, [0.01, -0.01, 0.01, -0.01]);
    expect(not).toMatchObject({ verdict: 'offset-not-shown', aicc_difference: null });
  });

  test('of five needs both: AICc takes 20 off, so p has to be far below 5 %', () => {
    // 2·3 + 24 − (2·2 + 12/2) = 20 = 5·ln(S₀/S): S₀ below 54.6 S, F below 3·53.6 = 161
    const between = of([10, 20, 50, 100, 400], 1, [0.01, -0.01, 0.01, -0.01, 0.005]);
    expect(between.f).toBeGreaterThan(10.13);
    expect(between.f).toBeLessThan(160);
    expect(between.p).toBeLessThan(0.05);
    expect(between.aicc_difference).toBeLessThan(0);
    expect(between.verdict).toBe('offset-not-shown');
    near(between.aicc_difference, 5 * Math.log(1 + (between.f as number) / 3) - 20, 1e-9);
    const both = of([10, 20, 50, 100, 400], 1, [0.001, -0.001, 0.001, -0.001, 0.0005]);
    expect(both.aicc_difference).toBeGreaterThan(0);
    expect(both.verdict).toBe('offset-shown');
  });

  test('follows the confidence', () => {
    const candidate_mW = [10, 50, 100, 400];
    const reference_mW = [11.2, 50.4, 101.2, 401];
    const at = (confidence: number) =>
      gainOrGainAndOffset({ candidate_mW, reference_mW }, { confidence });
    const p = at(0.95).p as number;
    expect([at(1 - p - 0.001).verdict, at(1 - p + 0.001).verdict]).toEqual([
      'offset-shown',
      'offset-not-shown',
    ]);
  });
});

describe('properties', () => {
  test('an offset of 1 mW is found at 1 % noise, none is invented without', () => {
    const with1 = gainOrGainAndOffset(bench(1, 1));
    expect(with1.verdict).toBe('offset-shown');
    const [low, high] = with1.gain_and_offset.offset_mW.interval ?? [0, 0];
    expect(low).toBeLessThan(1);
    expect(high).toBeGreaterThan(1);
    expect(low).toBeGreaterThan(0.5);
    const without = gainOrGainAndOffset(bench(1, 0));
    expect(without.verdict).toBe('offset-not-shown');
    expect(without.offset_at_lowest_percent[0]).toBeLessThan(0);
    expect(without.offset_at_lowest_percent[1]).toBeGreaterThan(0);
  });

  test('without an offset the test errs in 5 % and the intervals hold 95 %', () => {
    // 1500 studies; four binomial standard errors are 2.25 %
    let rejected = 0;
    let factor = 0;
    let offset = 0;
    let both = 0;
    for (let seed = 0; seed < 1500; seed++) {
      const found = gainOrGainAndOffset(bench(seed, 0));
      if ((found.p ?? 1) < 0.05) rejected++;
      const [low, high] = found.gain.factor.interval ?? [0, 0];
      if (low <= 1.25 && 1.25 <= high) factor++;
      const [offLow, offHigh] = found.gain_and_offset.offset_mW.interval ?? [1, 1];
      if (offLow <= 0 && 0 <= offHigh) offset++;
      const [bLow, bHigh] = found.gain_and_offset.factor.interval ?? [0, 0];
      if (bLow <= 1.25 && 1.25 <= bHigh) both++;
    }
    near(rejected / 1500, 0.05, 0.0225);
    near(factor / 1500, 0.95, 0.0225);
    near(offset / 1500, 0.95, 0.0225);
    near(both / 1500, 0.95, 0.0225);
  });

  test('exchanging the meters turns the factor round', () => {
    const readings = bench(3, 0);
    const found = gainOrGainAndOffset(readings);
    const turned = gainOrGainAndOffset({
      candidate_mW: readings.reference_mW,
      reference_mW: readings.candidate_mW,
    });
    nearly(turned.gain.factor.value, 1 / found.gain.factor.value, 1e-9);
    nearly(turned.gain_and_offset.factor.value, 1 / found.gain_and_offset.factor.value, 1e-8);
    nearly(turned.p, found.p ?? 0, 1e-6);
  });

  test('the size of the stated noise does not matter, only its proportions', () => {
    const a = gainOrGainAndOffset(bench(4, 1), {
      candidateRelativeSd: 0.01,
      referenceRelativeSd: 0.02,
    });
    const b = gainOrGainAndOffset(bench(4, 1), {
      candidateRelativeSd: 0.1,
      referenceRelativeSd: 0.2,
    });
    nearly(b.gain_and_offset.offset_mW.value, a.gain_and_offset.offset_mW.value, 1e-9);
    nearly(b.p, a.p ?? 0, 1e-9);
  });
});

describe('awkward input', () => {
  test('perfect readings give finite numbers and the right verdict either way', () => {
    const exact = (offset: number) =>
      gainOrGainAndOffset({
        candidate_mW: levels,
        reference_mW: levels.map((level) => offset + 2 * level),
      });
    const none = exact(0);
    expect(none.verdict).toBe('offset-not-shown');
    nearly(none.gain.factor.value, 2, 1e-12);
    const some = exact(3);
    expect(some.verdict).toBe('offset-shown');
    near(some.gain_and_offset.offset_mW.value, 3, 1e-9);
    for (const found of [none, some]) {
      expect(JSON.stringify(found)).not.toMatch(/NaN|Infinity/);
    }
  });

  test.each([
    ['three pairs', [1, 2, 3], [1, 2, 3], 'too-few-values'],
    ['a reading of 0', [0, 2, 3, 4], [1, 2, 3, 4], 'reading-not-positive'],
    ['a negative reading', [1, 2, 3, 4], [1, -2, 3, 4], 'reading-not-positive'],
    ['an odd one out', [1, 2, 3, 4], [1, 2, 3], 'argument-wrong'],
    ['one power only', [5, 5, 5, 5], [6, 6.1, 5.9, 6], 'argument-wrong'],
  ])('%s is refused', (_, candidate_mW, reference_mW, code) => {
    expect(() => gainOrGainAndOffset({ candidate_mW, reference_mW })).toThrow(
      expect.objectContaining({ code }),
    );
  });

  test.each([
    ['of nothing', { candidateRelativeSd: 0 }],
    ['below 0', { referenceRelativeSd: -0.01 }],
    ['below 0, with another above', { candidateRelativeSd: -0.01, candidateSd_mW: 1 }],
    ['that does not grow, below 0', { candidateSd_mW: -0.001 }],
    ['without end', { referenceSd_mW: Number.POSITIVE_INFINITY }],
    ['that is no number', { candidateRelativeSd: Number.NaN }],
  ])('noise %s is refused', (_, noise) => {
    expect(() => gainOrGainAndOffset(bench(1, 0), noise)).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('readings without a reference are told what they lack', () => {
    expect(() => gainOrGainAndOffset({ candidate_mW: [1, 2, 3, 4] } as never)).toThrow(
      'must be a record with candidate_mW, reference_mW. Found: no reference_mW.',
    );
  });

  test('noise that does not grow is enough', () => {
    const noise = { candidateRelativeSd: 0, candidateSd_mW: 1, referenceRelativeSd: 0 };
    nearly(
      gainOrGainAndOffset(bench(1, 0), { ...noise, referenceSd_mW: 1 }).gain.factor.value,
      1.25,
      0.01,
    );
  });

  test.each([
    ['nothing', {}],
    ['no candidate', { reference_mW: [1, 2, 3, 4] }],
    ['no reference', { candidate_mW: [1, 2, 3, 4] }],
    ['texts', { candidate_mW: ['1', '2', '3', '4'], reference_mW: [1, 2, 3, 4] }],
    ['texts of the reference', { candidate_mW: [1, 2, 3, 4], reference_mW: ['1', '2', '3', '4'] }],
    ['a hole', { candidate_mW: [1, Number.NaN, 3, 4], reference_mW: [1, 2, 3, 4] }],
    [
      'a hole in the reference',
      { candidate_mW: [1, 2, 3, 4], reference_mW: [1, 2, 3, Number.NaN] },
    ],
  ])('%s is refused', (_, readings) => {
    expect(() => gainOrGainAndOffset(readings as never)).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

test('four readings are too few for the criterion of three parameters', () => {
  const { candidate_mW, reference_mW } = bench(3, 0);
  const of = (n: number) =>
    gainOrGainAndOffset({
      candidate_mW: candidate_mW.slice(0, n),
      reference_mW: reference_mW.slice(0, n),
    });
  expect([of(4).gain_and_offset.aicc, of(4).aicc_difference]).toEqual([null, null]);
  expect(of(4).gain.aicc).not.toBeNull();
  expect(of(5).gain_and_offset.aicc).not.toBeNull();
});
