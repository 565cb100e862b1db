import { describe, expect, test } from 'vitest';
import { settingRatios } from '../../src/readings/settingRatio.js';
import { near } from '../near.js';
import { runsOf, seriesOf } from '../series/runs.js';

describe('what a wavelength setting is worth', () => {
  const series = (settings: readonly number[], reading: (place: number) => number) => ({
    ...seriesOf(
      runsOf('R'.repeat(settings.length), ({ place }) => reading(place)).map((run, i) => ({
        ...run,
        setting_nm: settings[i]!,
      })),
    ),
    kind: 'setting' as const,
  });

  test('a straight drift does not enter the ratio', () => {
    const settings = [520, 650, 520, 650, 520, 650];
    const [found] = settingRatios(
      series(settings, (i) => 50 * Math.exp(-0.01 * i) * (settings[i] === 650 ? 1.04 : 1)),
      0.95,
    );
    expect(found).toMatchObject({ from_nm: 520, to_nm: 650, meter: 'reference' });
    near(found!.ratio, 1.04, 1e-12);
  });

  test('each further setting has its own ratio to the first', () => {
    const settings = [520, 650, 808, 520, 650, 808, 520, 650, 808];
    const found = settingRatios(
      series(settings, (i) => [50, 55, 60][i % 3]! * (1 + 0.001 * ((i * 5) % 4))),
      0.95,
    );
    expect(found.map((one) => one.to_nm)).toEqual([650, 808]);
    near(found[0]!.ratio, 1.1, 5e-3);
    near(found[1]!.ratio, 1.2, 5e-3);
    for (const one of found) {
      expect(one.low).toBeLessThan(one.ratio!);
      expect(one.high).toBeGreaterThan(one.ratio!);
    }
  });

  test('of 1, 2, 2, 1 all by arithmetic', () => {
    // ln of the readings: a setting worth 0.2, a drift of −0.01 a run, and what neither explains,
    // e·(−1, 3, −3, 1)/√20 with e = 0.01; that leaves one degree of freedom, and the ratio, of two runs
    // each, has u = e. t95(1) = 12.706 (JCGM 100:2008, Table G.2: 12.71).
    const rest = [-1, 3, -3, 1].map((one) => (0.01 * one) / Math.sqrt(20));
    const found = settingRatios(
      series([520, 650, 650, 520], (i) =>
        Math.exp(3 + (i === 1 || i === 2 ? 0.2 : 0) - 0.01 * i + rest[i]!),
      ),
      0.95,
    );
    expect(found).toEqual([
      {
        series: 's',
        source: 'laser',
        wavelength_nm: 520,
        meter: 'reference',
        from_nm: 520,
        to_nm: 650,
        ratio: expect.closeTo(Math.exp(0.2), 10),
        low: expect.closeTo(Math.exp(0.2 - 0.12706), 5),
        high: expect.closeTo(Math.exp(0.2 + 0.12706), 5),
        relative_standard_uncertainty: expect.closeTo(0.01, 10),
        dof: 1,
        why: 'From 4 runs; drift of degree 1 taken out.',
      },
    ]);
  });

  test('a drift in a parabola does not enter from ten runs on', () => {
    const settings = Array.from({ length: 10 }, (_, i) => (i % 2 === 0 ? 520 : 650));
    const of = (runs: number) =>
      settingRatios(
        series(settings.slice(0, runs), (i) =>
          Math.exp(3 + (i % 2 ? 0.2 : 0) + 0.01 * (i - 2) ** 2),
        ),
        0.95,
      )[0]!;
    near(of(10).ratio!, Math.exp(0.2), 1e-10);
    expect(of(10).why).toBe('From 10 runs; drift of degree 2 taken out.');
    expect(of(9).why).toBe('From 9 runs; drift of degree 1 taken out.');
    expect(Math.abs(of(9).ratio! - Math.exp(0.2))).toBeGreaterThan(1e-3);
  });

  test('runs left out, and those without a setting, are none', () => {
    const all = series([808, 520, 650, 650, 520, 520], (i) => 50 + (i === 5 ? 40 : 0));
    const runs = all.runs.map((run, i) => ({
      ...run,
      exclude: i === 0 ? 'a cloud' : null,
      setting_nm: i === 5 ? null : run.setting_nm,
    }));
    const found = settingRatios({ ...all, runs }, 0.95);
    expect(found.map(({ from_nm, to_nm }) => [from_nm, to_nm])).toEqual([[520, 650]]);
    near(found[0]!.ratio!, 1, 1e-12);
    expect(found[0]!.why).toContain('From 4 runs');
    expect(settingRatios({ ...all, runs: [] }, 0.95)).toEqual([]);
    expect(settingRatios({ ...all, runs: runs.slice(1, 2) }, 0.95)).toEqual([]);
  });

  test.each([
    ['one of the first', [520, 650, 650, 650]],
    ['one of the second', [520, 520, 650, 520]],
  ])('%s is too few', (_, settings) => {
    const [found] = settingRatios(
      series(settings, () => 50),
      0.95,
    );
    expect(found!.ratio).toBeNull();
  });

  test('so are settings that cannot be told from the drift', () => {
    const all = series([520, 520, 650, 650], (i) => 50 + i);
    const runs = all.runs.map((run, i) => ({ ...run, time_s: i < 2 ? 0 : 60 }));
    expect(settingRatios({ ...all, runs }, 0.95)[0]).toMatchObject({ ratio: null, dof: null });
  });

  test('one run under a setting gives no number and says what is needed', () => {
    const [found] = settingRatios(
      series([520, 650, 520], () => 50),
      0.95,
    );
    expect(found).toMatchObject({ from_nm: 520, to_nm: 650, ratio: null, low: null, high: null });
    expect(found).toMatchObject({ relative_standard_uncertainty: null, dof: null });
    expect(found!.why).toContain('at least two of each');
  });
});
