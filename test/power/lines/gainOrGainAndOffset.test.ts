import { describe, expect, test } from 'vitest';
import { gainOrGainAndOffset } from '../../../src/power/lines/gainOrGainAndOffset.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromR, peakFlow } from './fixtures.js';

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

  test('noise of 0 is refused', () => {
    expect(() => gainOrGainAndOffset(bench(1, 0), { candidateRelativeSd: 0 })).toThrow(
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
