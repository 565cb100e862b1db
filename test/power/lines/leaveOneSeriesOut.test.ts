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

describe('by hand, the whole record', () => {
  // Factors 1.2, 1.25, 1.5 at 450 nm, 1.1 at 638 nm
  const series = [
    one('a', 450, 120, 100),
    one('b', 450.5, 50, 40),
    one('c', 450, 15, 10),
    one('d', 638, 11, 10),
  ];
  const about = (value: number) => expect.closeTo(value, 9);
  const off = (k: number, own: number) => 100 * (k / own - 1);

  test('a factor a wavelength, which half a nanometre belongs to', () => {
    const [first] = leaveOneSeriesOut(series).series;
    const k = Math.sqrt(1.25 * 1.5);
    expect(first).toEqual({
      id: 'a',
      corrected_mW: about(100 * k),
      error_percent: about(off(k, 1.2)),
      uncorrected_error_percent: about(off(1, 1.2)),
      predicted_from: ['b', 'c'],
      why: '',
    });
    const narrow = leaveOneSeriesOut(series, { sameWavelengthWithin_nm: 0.4 });
    expect(narrow.series.map((left) => left.predicted_from)).toEqual([['c'], [], ['a'], []]);
    expect(leaveOneSeriesOut(series, { sameWavelengthWithin_nm: 0 }).predicted).toBe(2);
    expect(leaveOneSeriesOut([one('a', 450, 12, 10), one('b', 450.6, 12, 10)]).predicted).toBe(0);
    expect(narrow).toEqual({
      series: narrow.series,
      predicted: 2,
      // c corrects a, a corrects c
      rms_error_percent: about(Math.hypot(off(1.5, 1.2), off(1.2, 1.5)) / Math.SQRT2),
      uncorrected_rms_error_percent: about(Math.hypot(off(1, 1.2), off(1, 1.5)) / Math.SQRT2),
      why: '2 of 4 series cannot be predicted from the others.',
    });
    expect(narrow.series[1]).toEqual({
      id: 'b',
      corrected_mW: null,
      error_percent: null,
      uncorrected_error_percent: about(off(1, 1.25)),
      predicted_from: [],
      why: 'No other series at 450.5 nm to predict it from.',
    });
  });

  test('one factor of all others', () => {
    const found = leaveOneSeriesOut(series, { prediction: 'common-factor' });
    const [ks, n] = [[1.2, 1.25, 1.5, 1.1], 3];
    found.series.forEach((left, i) => {
      const k = (ks.reduce((product, v) => product * v, 1) / ks[i]) ** (1 / n);
      near(left.error_percent, off(k, ks[i]), 1e-9);
    });
    expect([found.predicted, found.why]).toEqual([4, '']);
    expect(found.series[3].predicted_from).toEqual(['a', 'b', 'c']);
  });

  test('a line of two others runs through both: r = −2 + 1.4 c', () => {
    const found = leaveOneSeriesOut(
      [one('a', 450, 12, 10), one('b', 638, 26, 20), one('c', 520, 44, 30)],
      { prediction: 'gain-and-offset' },
    );
    near(found.series[2].corrected_mW, 40, 1e-9);
    near(found.series[2].error_percent, off(40, 44), 1e-9);
    expect(found.series[2].predicted_from).toEqual(['a', 'b']);
  });

  test('of three, the one that the ratio makes: relative noise', () => {
    // r/c = 1.2, 1.3, 1.2 at 1/c = 0.1, 0.05, 0.025: x̄ = 7/120, Σ(x − x̄)² = 7/2400, Σ(x − x̄)y = −1/1200,
    // so r = −2/7 + (37/30 + 2/7·7/120)·c
    const found = leaveOneSeriesOut(
      [one('a', 450, 12, 10), one('b', 450, 26, 20), one('c', 450, 48, 40), one('d', 450, 90, 80)],
      { prediction: 'gain-and-offset' },
    );
    near(found.series[3].corrected_mW, -2 / 7 + (37 / 30 + 1 / 60) * 80, 1e-9);
  });
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
    expect(leaveOneSeriesOut([])).toEqual({
      series: [],
      predicted: 0,
      rms_error_percent: null,
      uncorrected_rms_error_percent: null,
      why: 'No series can be predicted from the others.',
    });
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

  test.each([
    ['a reference of 0', one('a', 450, 0, 10), 'reading-not-positive'],
    ['a candidate of 0', one('a', 450, 10, 0), 'reading-not-positive'],
    ['a candidate below 0', one('a', 450, 10, -1), 'reading-not-positive'],
    ['a mean without end', one('a', 450, Number.POSITIVE_INFINITY, 1), 'reading-not-positive'],
    ['a mean that is no number', one('a', 450, 10, Number.NaN), 'reading-not-positive'],
    ['no name', one(undefined as unknown as string, 450, 10, 10), 'argument-wrong'],
    ['no wavelength', one('a', Number.NaN, 10, 10), 'argument-wrong'],
  ])('%s is refused', (_, bad, code) => {
    expect(() => leaveOneSeriesOut([one('z', 450, 1, 1), bad])).toThrow(
      expect.objectContaining({ code }),
    );
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
