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
