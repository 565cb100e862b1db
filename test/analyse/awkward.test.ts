/** Short, odd and hostile studies. */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { analyseSeries } from '../../src/series/analyseSeries.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';
import { type Lap, type Made, SETTINGS, steadyLaps, studyWith } from './studies.js';
import { faultsIn } from './walk.js';

function analysed(series: readonly Made[], settings: object = SETTINGS) {
  const study = studyWith(series, settings);
  const result = analyse(study);
  expect(faultsIn(result)).toEqual([]);
  return { study, result, first: result.series[0]!, at: result.wavelengths[0]! };
}
const one = (laps: readonly Lap[], more: Partial<Made> = {}, settings: object = SETTINGS) =>
  analysed([{ id: 'a', laps, ...more }], settings);
/** One series alone. */
function seriesAlone(laps: readonly Lap[]) {
  const study = studyWith([{ id: 'a', laps }]);
  return analyseSeries(study.series[0]!, study, { reference: 0.01, candidate: 0.01 }).result;
}
const codes = (result: { readonly warnings: readonly { readonly code: string }[] }) =>
  result.warnings.map((warning) => warning.code);
const protocol = (change: object) => ({ ...SETTINGS, protocol: change });

describe('few laps', () => {
  test('one lap: a difference, no interval, no factor, and the words for it', () => {
    const { first, at, result } = one(steadyLaps(1));
    expect(first.laps).toBe(1);
    expect(first.difference_mW.mean).not.toBeNull();
    expect(first.difference_mW.sd).toBeNull();
    expect(first.factor.value).toBeNull();
    expect(first.verdict).toBe('inconclusive');
    expect(first.why).toContain('1 lap');
    expect(at).toMatchObject({ factor: null, verdict: 'inconclusive' });
    expect(at.next_step).not.toBe('');
    expect(codes(result)).toContain('few-laps');
  });

  test('two laps: a factor with one degree of freedom', () => {
    const { first } = one(steadyLaps(2));
    expect(first.factor.dof).toBeGreaterThanOrEqual(1);
    expect(first.drift.degree).toBe(1);
    // Student's t with one degree of freedom is 12.7 (JCGM 100:2008, table G.2).
    near(
      Math.log(first.factor.high! / first.factor.value!) /
        first.factor.relative_standard_uncertainty!,
      12.7,
      0.1,
    );
  });

  test.each([3, 4])('%i laps: no cold start can be told', (count) => {
    const laps = steadyLaps(count);
    laps[0] = { reference: laps[0]!.reference * 0.8, candidate: laps[0]!.candidate };
    const { first, result } = one(laps);
    if (count === 3) expect(first.excluded).toEqual([]);
    expect(first.factor.value).not.toBeNull();
    expect(codes(result)).toContain('few-laps');
  });
});

describe('one run of a meter', () => {
  test('its scatter is taken from the other meter, and a warning says so', () => {
    const study = parseStudy(
      { ...SETTINGS, sources: [SETTINGS.sources[0]] },
      { runs: 'meter,reading_mW\nreference,50\ncandidate,45\nreference,50.3\nreference,50.1\n' },
    );
    const result = analyse(study);
    expect(result.series[0]!.factor.value).not.toBeNull();
    const said = result.warnings.find((warning) => warning.code === 'one-run-of-a-meter')!;
    expect(said.message).toContain('candidate');
    expect(codes(one(steadyLaps(6)).result)).not.toContain('one-run-of-a-meter');
  });
});

describe('coarse displays over several series', () => {
  const coarse = {
    ...SETTINGS,
    candidate: { ...SETTINGS.candidate, resolution_mW: 1 },
  };
  const frozen = (count: number, candidate = 46) =>
    Array.from({ length: count }, () => ({ reference: 50, candidate }));
  const rounding = (series: readonly Made[]) =>
    analysed(series, coarse).at.budget.find((line) => line.name.includes("candidate's display"))!
      .relative_standard_uncertainty;

  test('series that show the same number share its rounding: more of them do not average it out', () => {
    const single = rounding([{ id: 'a', laps: frozen(6) }]);
    near(single, 1 / Math.sqrt(12) / 46, 1e-6);
    const three = ['a', 'b', 'c'].map((id) => ({ id, laps: frozen(6) }));
    near(rounding(three), single, 1e-9);
  });

  test('series that show different numbers are rounded independently', () => {
    const three = [46, 92, 184].map((level, i) => ({ id: `s${i}`, laps: frozen(6, level) }));
    // step/√12 of 46, 92 and 184 mW: root sum of squares over three
    const parts = [46, 92, 184].map((level) => 1 / Math.sqrt(12) / level);
    near(rounding(three), Math.hypot(...parts) / 3, 1e-6);
  });

  test('single laps that show the same number know it no better than the display does', () => {
    const laps = ['a', 'b', 'c'].map((id) => ({ id, laps: frozen(1) }));
    near(rounding(laps), 1 / Math.sqrt(12) / 46, 1e-6);
  });
});

describe('readings that repeat', () => {
  test('all identical: K exact, and only what the displays may hide is left', () => {
    const { first } = one(
      Array.from({ length: 8 }, () => ({ reference: 50, candidate: 46 })),
      {},
      {
        ...SETTINGS,
        reference: { ...SETTINGS.reference, resolution_mW: 0.1 },
        candidate: { ...SETTINGS.candidate, resolution_mW: 1 },
      },
    );
    near(first.factor.value, 50 / 46, 1e-12);
    // Half steps: 49.95/46.5 to 50.05/45.5
    expect(first.factor.low).toBeGreaterThan(49.95 / 46.5);
    expect(first.factor.high).toBeLessThan(50.05 / 45.5);
    expect(first.factor.high! - first.factor.low!).toBeGreaterThan(0.9 * (0.95 / 46) * (50 / 46));
    expect(first.flagged).toEqual([]);
    expect(first.excluded).toEqual([]);
    expect(first.difference_mW.sd).toBe(0);
  });

  test('display steps that nobody stated are read off the digits, and a warning says so', () => {
    const { first, result } = one(
      Array.from({ length: 8 }, (_, i) => ({ reference: 50 + (i % 2) / 10, candidate: 46 })),
      {},
      {
        ...SETTINGS,
        reference: { name: 'bench meter' },
        candidate: { name: 'drawer meter' },
      },
    );
    const said = result.warnings.filter((warning) => warning.code === 'resolution-not-stated');
    expect(said.map((warning) => warning.message).join(' ')).toMatch(/0\.1 mW.*1 mW/s);
    expect(first.factor.high! / first.factor.low!).toBeGreaterThan(1 + 0.9 / 46);
  });
});

describe('exclusions', () => {
  const all = (count: number, step = 1) =>
    Object.fromEntries(
      Array.from({ length: count }, (_, i) => [i * step + 1, 'shutter left closed']),
    );

  test('everything left out: nothing is computed, and every reason is kept', () => {
    const { first, at } = one(steadyLaps(4), { exclude: all(8) });
    expect(first.used).toEqual({ reference: 0, candidate: 0 });
    expect(first.excluded).toHaveLength(8);
    expect(first.factor.value).toBeNull();
    expect(first.candidate_range_mW).toBeNull();
    expect(at.factor).toBeNull();
  });

  test('one meter left out: its partners go with it', () => {
    const { first } = one(steadyLaps(4), { exclude: all(4, 2) });
    expect(first.used).toEqual({ reference: 0, candidate: 0 });
    expect(first.excluded.map((exclusion) => exclusion.meter)).toContain('candidate');
    expect(first.factor.value).toBeNull();
  });

  test('discarding more laps than there are leaves nothing, without a crash', () => {
    const { first } = one(steadyLaps(3), {}, protocol({ discard_first_laps: 10 }));
    expect(first.used).toEqual({ reference: 0, candidate: 0 });
    expect(first.excluded.every((exclusion) => exclusion.kind === 'declared')).toBe(true);
  });

  test('leaving the first lap out by declaration gives what the rest alone gives', () => {
    const laps = steadyLaps(9);
    const off = { ...SETTINGS, protocol: { discard_first_laps: 1, exclude_cold_starts: false } };
    const whole = one(laps, {}, off).first;
    const rest = one(laps.slice(1), {}, protocol({ exclude_cold_starts: false })).first;
    near(whole.factor.value! / rest.factor.value!, 1, 1e-12);
    near(whole.factor.high! / rest.factor.high!, 1, 1e-12);
    const [effect] = whole.exclusion_effects;
    expect(effect).toMatchObject({ kind: 'declared', runs: [1, 2] });
    expect(effect!.factor_without).toBe(whole.factor.value);
  });

  test('an excluded reading that is not positive does no harm', () => {
    const laps = steadyLaps(6);
    laps[2] = { reference: 0, candidate: laps[2]!.candidate };
    const { first, result } = one(laps, { exclude: { 5: 'beam blocked' } });
    expect(first.excluded.map((exclusion) => exclusion.run)).toEqual([5, 6]);
    expect(first.factor.value).not.toBeNull();
    expect(first.exclusion_effects[0]!.factor_with).toBeNull();
    expect(result.hazard[0]!.highest_mW).toBeGreaterThan(50);
    const kept = errorOf(() => studyWith([{ id: 'a', laps }]));
    expect(kept.message).toContain('row 6');
  });
});

describe('cold starts', () => {
  function cold(deficit: number, seed = 3): Lap[] {
    const random = seededRandom(seed);
    return Array.from({ length: 8 }, (_, i) => ({
      reference: 50 * (1 - (i === 0 ? deficit : 0)) * (1 + 0.004 * random.normal()),
      candidate: 45 * (1 + 0.004 * random.normal()),
    }));
  }

  test('a plain one is left out, its effect is shown, and it can be kept', () => {
    const { first } = one(cold(0.08));
    expect(first.excluded.map((exclusion) => exclusion.kind)).toEqual(['cold-start', 'cold-start']);
    const [effect] = first.exclusion_effects;
    expect(effect!.factor_with).toBeLessThan(effect!.factor_without!);
    const kept = one(cold(0.08), {}, protocol({ exclude_cold_starts: false })).first;
    expect(kept.excluded).toEqual([]);
    near(kept.factor.value, effect!.factor_with!, 1e-9);
    expect(effect!.factor_without).toBe(first.factor.value);
  });

  test('the effect is told with the factor that is reported, curved drift or not', () => {
    for (let seed = 0; seed < 30; seed++) {
      const laps = cold(0.08, seed)
        .slice(0, 5)
        .map((lap, i) => ({ ...lap, candidate: lap.candidate * (1 + 0.004 * (i - 2) ** 2) }));
      const found = seriesAlone(laps);
      for (const effect of found.exclusion_effects) {
        expect(effect.factor_without).toBe(found.factor.value);
      }
    }
  });

  test('a suspected one stays, and the interval reaches as far as leaving it out would move K', () => {
    const laps = Array.from({ length: 80 }, (_, seed) => cold(0.01, seed)).find((list) =>
      seriesAlone(list).why.includes('may be a cold start'),
    )!;
    const suspected = one(laps).first;
    expect(suspected.excluded).toEqual([]);
    const plain = one(laps, {}, protocol({ exclude_cold_starts: false })).first;
    expect(suspected.factor.value).toBe(plain.factor.value);
    const wide = suspected.factor.high! / suspected.factor.low!;
    expect(wide).toBeGreaterThan(plain.factor.high! / plain.factor.low!);
    // The answer without the lap lies inside.
    const without = one(
      laps,
      { exclude: { 1: 'tried' } },
      protocol({ exclude_cold_starts: false }),
    );
    expect(without.first.factor.value).toBeGreaterThanOrEqual(suspected.factor.low!);
    expect(without.first.factor.value).toBeLessThanOrEqual(suspected.factor.high!);
    expect(suspected.factor.relative_standard_uncertainty).toBeGreaterThan(
      plain.factor.relative_standard_uncertainty!,
    );
  });
});

describe('outliers', () => {
  const laps = steadyLaps(12);
  laps[6] = { ...laps[6]!, candidate: laps[6]!.candidate * 1.08 };

  test('flagged and kept unless the protocol says otherwise', () => {
    const { first, result } = one(laps);
    expect(first.flagged.map((flag) => flag.run)).toContain(14);
    expect(first.excluded).toEqual([]);
    expect(codes(result)).toContain('odd-run');
  });

  test('left out in laps where the protocol says so, with the effect on K', () => {
    const { first } = one(laps, {}, protocol({ exclude_outliers: true }));
    const out = first.excluded.filter((exclusion) => exclusion.kind === 'outlier');
    expect(out.map((exclusion) => exclusion.run)).toEqual(expect.arrayContaining([13, 14]));
    const effect = first.exclusion_effects.find((one) => one.kind === 'outlier')!;
    expect(effect.factor_without).toBeGreaterThan(effect.factor_with!);
    near(first.factor.value, 1.1, 0.005);
  });
});

describe('extremes', () => {
  test('300 runs take less than a second', () => {
    const study = studyWith([{ id: 'a', laps: steadyLaps(150) }]);
    // Time of this process alone: other programs on the machine do not count.
    const start = process.cpuUsage();
    const result = analyse(study);
    const { user, system } = process.cpuUsage(start);
    expect((user + system) / 1e6).toBeLessThan(1);
    expect(faultsIn(result)).toEqual([]);
    near(result.series[0]!.factor.value, 1.1, 0.002);
  });

  test.each([1e-5, 1e-3, 1e4, 1e6])('powers about %d mW', (level) => {
    const settings = {
      ...SETTINGS,
      reference: { name: 'r', resolution_mW: level / 1e4 },
      candidate: { name: 'c', resolution_mW: level / 1e4 },
    };
    near(one(steadyLaps(6, level), {}, settings).first.factor.value, 1.1, 0.01);
  });

  test('a display step larger than the readings gives no factor, in words', () => {
    const { first, at } = one(
      steadyLaps(6, 0.001),
      {},
      {
        ...SETTINGS,
        candidate: { name: 'c', resolution_mW: 1 },
      },
    );
    expect(first.factor.value).toBeNull();
    expect(first.why).toContain('display steps');
    expect(at.verdict).toBe('inconclusive');
  });

  test('an unstable source is inconclusive and says what would settle it', () => {
    const random = seededRandom(5);
    const laps = Array.from({ length: 6 }, () => ({
      reference: 50 * (1 + 0.15 * random.normal()),
      candidate: 45 * (1 + 0.15 * random.normal()),
    }));
    const { first, at } = one(laps);
    expect(first.verdict).toBe('inconclusive');
    expect(first.why).toContain('tolerance');
    expect(at.verdict).toBe('inconclusive');
  });
});

describe('filters', () => {
  test('of a source also measured behind an isolating filter, only that series gives the factor', () => {
    const settings = {
      ...SETTINGS,
      filters: [
        {
          name: 'block',
          transmissions: [
            { wavelength_nm: 520, transmission: 0.8, standard_uncertainty: 0.01 },
            { wavelength_nm: 1064, transmission: 0.01, standard_uncertainty: 0.002 },
          ],
        },
      ],
      sources: [SETTINGS.sources[0]],
    };
    const rows = [
      ...steadyLaps(6, 60, 1.3).map((lap) => ['bare', lap, '']),
      ...steadyLaps(6, 32, 1.1).map((lap) => ['filtered', lap, 'block']),
    ].flatMap(([id, lap, filter]) =>
      (['reference', 'candidate'] as const).map(
        (meter) => `${id},green,${meter},${(lap as Lap)[meter]},${filter}`,
      ),
    );
    const study = parseStudy(settings, {
      runs: `series,source,meter,reading_mW,filter\n${rows.join('\n')}\n`,
    });
    const result = analyse(study);
    expect(faultsIn(result)).toEqual([]);
    expect(result.wavelengths[0]!.series).toEqual(['filtered']);
    near(result.wavelengths[0]!.factor, 1.1, 0.01);
    expect(result.agreement.series).toBe(1);
    expect(codes(result)).toContain('infrared-in-the-beam');
    // G = (R₁ − τ_I R₀)/(τ_G − τ_I) = (32 − 0.01·60)/0.79 = 39.7 mW; 20.3 of 60 mW are infrared.
    near(result.infrared[0]!.wanted_mW, 31.4 / 0.79, 0.2);
    near(result.infrared[0]!.infrared_fraction, 1 - 31.4 / 0.79 / 60, 0.01);
  });
});

describe('factors.json from a result', () => {
  test('holds the wavelengths that have a factor, and none besides', () => {
    const { study, result } = analysed([
      { id: 'a', laps: steadyLaps(6) },
      { id: 'b', laps: steadyLaps(1), source: 'red' },
    ]);
    const factors = factorsOf(study, result);
    expect(factors.factors.map((entry) => entry.wavelength_nm)).toEqual([520]);
    expect(factors.wavelength_range_nm).toEqual([520, 520]);
    expect(factors.data_sha256).toBe(study.data_sha256);
    const [entry] = factors.factors;
    expect(entry!.factor).toBe(result.wavelengths[0]!.factor);
    expect(entry!.candidate_range_mW).toEqual(result.series[0]!.candidate_range_mW);
    expect(entry!.reading_relative_sd).toBeGreaterThan(0);
  });

  test('without any factor it is empty, with no range', () => {
    const { study, result } = one(steadyLaps(1));
    expect(factorsOf(study, result)).toMatchObject({ factors: [], wavelength_range_nm: null });
  });
});
