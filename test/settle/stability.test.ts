import { describe, expect, test } from 'vitest';
import { stability } from '../../src/settle/stability.js';

const seconds = (count: number) => Array.from({ length: count }, (_, i) => i);

describe('by hand', () => {
  // Readings 9, 11, 9, 11 … about 10: s² of ten is 10/9, so ΔP = 2·1.0541/10.
  const elapsed_s = seconds(10);
  const reading_mW = elapsed_s.map((i) => (i % 2 === 0 ? 9 : 11));

  test('mean, fluctuation and highest reading', () => {
    const found = stability({ elapsed_s, reading_mW });
    expect(found.mean_mW).toBeCloseTo(10, 12);
    expect(found.relative_fluctuation).toBeCloseTo(0.210819, 6);
    expect(found).toMatchObject({ peak_mW: 11, peak_at_s: 1, from_s: 0, to_s: 9, readings: 10 });
    expect(found.warm_at_s).toBeNull();
  });

  test('the mean is one over time, not over readings', () => {
    // 10 mW for 90 s in one stretch, then 20 mW read every second for 9 s: (90·10 + 15 + 9·20)/100.
    const times = [0, 90, ...seconds(10).map((i) => 91 + i)];
    const found = stability({ elapsed_s: times, reading_mW: [10, 10, ...Array(10).fill(20)] });
    expect(found.mean_mW).toBeCloseTo((900 + 15 + 180) / 100, 12);
  });

  test('a source that warms up is warm from the reading on after which it stays', () => {
    const found = stability(
      { elapsed_s: seconds(40), reading_mW: seconds(40).map((i) => (i < 12 ? 8 + i / 6 : 10)) },
      { over_s: 20, within: 0.02 },
    );
    expect(found).toMatchObject({
      mean_mW: 10,
      relative_fluctuation: 0,
      warm_at_s: 11,
      from_s: 19,
    });
  });

  test('what came before the window counts for the highest reading only', () => {
    const found = stability(
      { elapsed_s: seconds(30), reading_mW: seconds(30).map((i) => (i === 2 ? 50 : 10)) },
      { from_s: 10 },
    );
    expect(found).toMatchObject({
      peak_mW: 50,
      peak_at_s: 2,
      mean_mW: 10,
      relative_fluctuation: 0,
    });
  });
});

test('scaling the power scales the mean and nothing else', () => {
  const trace = { elapsed_s: seconds(50), reading_mW: seconds(50).map((i) => 10 + Math.sin(i)) };
  const one = stability(trace);
  const ten = stability({ ...trace, reading_mW: trace.reading_mW.map((P) => 10 * P) });
  expect(ten.mean_mW).toBeCloseTo(10 * one.mean_mW, 9);
  expect(ten.relative_fluctuation).toBeCloseTo(one.relative_fluctuation, 12);
  expect(ten.warm_at_s).toBe(one.warm_at_s);
});

describe('bounds of the window and of what is warm', () => {
  // 20 mW up to 8 s, 15 mW at 9 s, 10 mW from then on
  const trace = {
    elapsed_s: seconds(21),
    reading_mW: seconds(21).map((t) => (t < 9 ? 20 : t === 9 ? 15 : 10)),
  };

  test('the whole record', () => {
    expect(stability(trace, { from_s: 10, within: 0.5 })).toEqual({
      peak_mW: 20,
      peak_at_s: 0,
      from_s: 10,
      to_s: 20,
      readings: 11,
      mean_mW: 10,
      relative_fluctuation: 0,
      // 15 ÷ 10 is a half off, which is within a half
      warm_at_s: 9,
    });
    expect(stability(trace, { from_s: 10, within: 0.499 }).warm_at_s).toBe(10);
    expect(stability(trace, { from_s: 10, within: 1 }).warm_at_s).toBe(0);
    expect(stability(trace, { from_s: 10 }).warm_at_s).toBe(10);
    expect(
      stability({ ...trace, reading_mW: [...trace.reading_mW.slice(0, 20), 12] }).warm_at_s,
    ).toBeNull();
  });

  test('a reading at the first moment counts, and ten are enough', () => {
    expect(stability(trace, { from_s: 11 })).toMatchObject({ from_s: 11, readings: 10 });
    expect(stability(trace, { over_s: 9 })).toMatchObject({ from_s: 11, readings: 10, to_s: 20 });
    expect(stability(trace, { over_s: 9.5 })).toMatchObject({ from_s: 11, readings: 10 });
    expect(() => stability(trace, { from_s: 11.5 })).toThrow(
      expect.objectContaining({ code: 'too-few-values', found: '9 readings from 11.5 s on' }),
    );
    expect(() => stability(trace, { from_s: 21 })).toThrow(
      expect.objectContaining({ code: 'too-few-values', found: '0 readings from 21 s on' }),
    );
    expect(() => stability({ elapsed_s: [], reading_mW: [] })).toThrow(
      expect.objectContaining({ code: 'too-few-values' }),
    );
  });

  test('a time as long as what is left of the trace is allowed, a longer one is named', () => {
    expect(stability(trace, { from_s: 5, over_s: 15 })).toMatchObject({ from_s: 5, readings: 16 });
    expect(() => stability(trace, { from_s: 5, over_s: 15.1 })).toThrow(
      expect.objectContaining({ code: 'argument-wrong', found: '15 s', expected: '15.1 s' }),
    );
  });

  test.each([{ from_s: -1 }, { over_s: 0 }, { within: -0.01 }, { within: Number.NaN }])(
    '%j is refused',
    (options) => {
      expect(() => stability(trace, options)).toThrow(
        expect.objectContaining({ code: 'argument-wrong' }),
      );
    },
  );

  test('times that run backwards are no trace', () => {
    expect(() => stability({ ...trace, elapsed_s: [...trace.elapsed_s].reverse() })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('refused', () => {
  const trace = { elapsed_s: seconds(20), reading_mW: Array(20).fill(5) };
  test('too few readings, a longer time than there is, and options that mean nothing', () => {
    expect(() => stability(trace, { from_s: 15 })).toThrow(/longer trace/);
    expect(() => stability(trace, { from_s: 99 })).toThrow(/longer trace/);
    expect(() => stability(trace, { over_s: 100 })).toThrow(/shorter/);
    expect(() => stability(trace, { within: 0 })).toThrow(/above 0/);
    // @ts-expect-error a misspelt option
    expect(() => stability(trace, { ovr_s: 3 })).toThrow(/no such option/);
  });
});
