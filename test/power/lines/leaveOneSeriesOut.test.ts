import { describe, expect, test } from 'vitest';
import { leaveOneSeriesOut } from '../../../src/power/lines/leaveOneSeriesOut.js';
import { near } from '../../near.js';

const one = (
  id: string,
  wavelength_nm: number,
  reference_mean_mW: number,
  candidate_mean_mW: number,
) => ({ id, wavelength_nm, reference_mean_mW, candidate_mean_mW });

test('errors are those of a calculation by hand', () => {
  // By hand: factors 1.2, 1.25, 1.5 (450 nm) and 1.1 (638 nm). Leaving out a: √(1.25·1.5)/1.2 − 1 =
  // 14.109 %; b: √(1.2·1.5)/1.25 − 1 = 7.331 %; c: √(1.2·1.25)/1.5 − 1 = −18.350 %.
  const found = leaveOneSeriesOut([
    one('a', 450, 120, 100),
    one('b', 450, 50, 40),
    one('c', 450, 15, 10),
    one('d', 638, 11, 10),
  ]);
  near(found.series[0].error_percent, 14.109, 0.0005);
  near(found.series[1].error_percent, 7.331, 0.0005);
  near(found.series[2].error_percent, -18.35, 0.0005);
  near(found.series[0].uncorrected_error_percent, 100 * (100 / 120 - 1), 1e-12);
  // √((14.109² + 7.331² + 18.350²)/3)
  near(found.rms_error_percent, 14.018, 0.001);
  expect(found.series[3]).toMatchObject({
    error_percent: null,
    why: 'No other series at 638 nm to predict it from.',
  });
  expect(found.predicted).toBe(3);
  expect(found.why).toMatch(/1 of 4/);
});

describe('properties', () => {
  test('one true factor is predicted without error, by every road', () => {
    const series = [5, 20, 80, 300].map((p, i) => one(`s${i}`, 520, 1.3 * p, p));
    for (const prediction of [
      'factor-per-wavelength',
      'common-factor',
      'gain-and-offset',
    ] as const) {
      const found = leaveOneSeriesOut(series, { prediction });
      near(found.rms_error_percent, 0, 1e-9);
      // 1/1.3 − 1
      near(found.uncorrected_rms_error_percent, 100 * (1 - 1 / 1.3), 1e-9);
    }
  });

  test('an offset defeats a factor and not a line', () => {
    const series = [5, 20, 80, 300].map((p, i) => one(`s${i}`, 520, 2 + 1.3 * p, p));
    expect(leaveOneSeriesOut(series).rms_error_percent).toBeGreaterThan(5);
    near(leaveOneSeriesOut(series, { prediction: 'gain-and-offset' }).rms_error_percent, 0, 1e-9);
  });

  test('the order of the series does not matter', () => {
    const series = [one('a', 450, 12, 10), one('b', 450, 13, 10), one('c', 450.3, 11, 10)];
    const forth = leaveOneSeriesOut(series);
    const back = leaveOneSeriesOut([...series].reverse());
    near(back.rms_error_percent, forth.rms_error_percent ?? 0, 1e-12);
    expect(forth.series[0].predicted_from).toEqual(['b', 'c']);
  });
});

describe('awkward input', () => {
  test('no series and one series: nothing to say, and why', () => {
    expect(leaveOneSeriesOut([])).toMatchObject({ predicted: 0, rms_error_percent: null });
    const single = leaveOneSeriesOut([one('a', 450, 12, 10)], { prediction: 'common-factor' });
    expect(single.rms_error_percent).toBeNull();
    expect(single.series[0].why).toMatch(/No other series/);
  });

  test('a line from one power, or one that gives no positive power, is not used', () => {
    const same = leaveOneSeriesOut(
      [one('a', 450, 12, 10), one('b', 450, 13, 10), one('c', 450, 25, 20)],
      { prediction: 'gain-and-offset' },
    );
    expect(same.series[2].why).toMatch(/different powers/);
    const negative = leaveOneSeriesOut(
      [one('a', 450, 1, 1), one('b', 450, 100, 50), one('c', 450, 300, 100)],
      { prediction: 'gain-and-offset' },
    );
    expect(negative.series[0]).toMatchObject({ error_percent: null });
    expect(negative.series[0].why).toMatch(/no positive power/);
  });

  test('a mean at or below 0 and a name used twice are refused', () => {
    expect(() => leaveOneSeriesOut([one('a', 450, 0, 10)])).toThrow(
      expect.objectContaining({ code: 'reading-not-positive' }),
    );
    expect(() => leaveOneSeriesOut([one('a', 450, 1, 1), one('a', 450, 1, 1)])).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});
