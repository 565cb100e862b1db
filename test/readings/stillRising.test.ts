/** Traces that end while the reading still rises: where it would have gone nobody knows. */
import { describe, expect, test } from 'vitest';
import { oneKindOfReading } from '../../src/readings/oneKind.js';
import { settling } from '../../src/readings/settled.js';
import { jointStudy } from '../joints/bench.js';

/** Readings of a sensor in mW, every second, with the digits of a display of 0.01 mW. */
const trace = (seconds: number, reading: (s: number) => number, run = 1, meter = 'reference') =>
  Array.from({ length: seconds + 1 }, (_, s) => `s1,${run},${meter},${s},${reading(s).toFixed(2)}`);
const sensor = (tau: number) => (s: number) => 40 * (1 - Math.exp(-s / tau));
const openOf = (
  lines: readonly string[],
  read_at_s: number | null = 30,
  more: {
    readonly reference?: object;
    readonly cells?: (run: number) => Record<string, string>;
  } = {},
) =>
  settling(
    jointStudy({
      series: [{ cells: (_, run) => more.cells?.(run) ?? {} }],
      study: read_at_s === null ? {} : { protocol: { read_at_s } },
      reference: more.reference ?? {},
      traces: ['series,run,meter,elapsed_s,reading_mW', ...lines].join('\n'),
    }),
  ).open;

describe('a sensor of 100 s', () => {
  test('seen for 40 s leaves the readings of its meter without a bound, those of the other not', () => {
    const found = openOf(trace(40, sensor(100)));
    expect(found.reference).toContain('the trace of run 1 in the series "s1" (reference)');
    expect(found.reference).toContain('still rose at its end, 40 s');
    expect(found.candidate).toBeNull();
    expect(openOf(trace(40, sensor(100)), null).reference).not.toBeNull();
  });

  test('seen until it has settled tells its time constant, and bounds them', () => {
    expect(openOf(trace(500, sensor(100))).reference).toBeNull();
  });

  test('seen in another run until it has settled: the short trace is no matter', () => {
    const lines = [...trace(40, sensor(100)), ...trace(500, sensor(100), 4)];
    expect(openOf(lines).reference).toBeNull();
  });

  test('stated as such is known; stated as 2 s it is not what the trace shows', () => {
    const stated = (time_constant_s: number) =>
      openOf(trace(130, sensor(100)), 30, { reference: { time_constant_s } }).reference;
    expect(stated(100)).toBeNull();
    expect(stated(2)).not.toBeNull();
  });

  test('in a run that is left out it is the same sensor', () => {
    const cells = (run: number) => (run === 1 ? { exclude: 'too short' } : { exclude: '' });
    expect(openOf(trace(40, sensor(100)), 30, { cells }).reference).not.toBeNull();
  });
});

test('a short trace that bounds its time constant, and readings taken long after, are no matter', () => {
  // A minute of a sensor of 50 s, without scatter, bounds it; 900 s are 18 of it.
  const exact = trace(60, sensor(50));
  expect(openOf(exact, 900).reference).toBeNull();
  expect(openOf(exact, 60).reference).not.toBeNull();
});

test('a straight line that rises to its end is open, whatever the fit makes of it', () => {
  expect(openOf(trace(30, (s) => s)).reference).not.toBeNull();
});

test('few readings are enough to see that they rise, and one is not', () => {
  expect(openOf(trace(3, (s) => 10 * s)).reference).not.toBeNull();
  expect(openOf(trace(1, (s) => 10 * s)).reference).not.toBeNull();
  expect(openOf(trace(0, () => 10)).reference).toBeNull();
});

test('a trace that is level at its end is not: a flat one, one of a fast sensor, one that falls', () => {
  expect(openOf(trace(30, () => 40)).reference).toBeNull();
  expect(openOf(trace(30, sensor(0.2))).reference).toBeNull();
  expect(openOf(trace(30, (s) => 40 - s / 10)).reference).toBeNull();
});

test('a rise of less than 2 % from the middle third to the last is a source that wanders', () => {
  // A fast sensor, sampled too seldom, on a source that rises in a straight line by 5 and by 7 %.
  const drifting = (part: number) => trace(30, (s) => (s === 0 ? 0 : 40 + (40 * part * s) / 30));
  expect(openOf(drifting(0.05)).reference).toBeNull();
  expect(openOf(drifting(0.07)).reference).not.toBeNull();
});

test('a meter that anticipates, on a source that rises, is not one that has not settled', () => {
  const ahead = (s: number) => (s === 0 ? 0 : 40 * (1 + 0.004 * s + 0.3 * Math.exp(-s / 3)));
  const study = jointStudy({
    series: [{}],
    traces: ['series,run,meter,elapsed_s,reading_mW', ...trace(30, ahead)].join('\n'),
  });
  const { open, warnings } = settling(study);
  expect(warnings.map(({ message }) => message).join()).toContain('above');
  expect(open.reference).toBeNull();
});

test('the readings brought to one kind carry it', () => {
  const study = jointStudy({
    series: [{}],
    traces: ['series,run,meter,elapsed_s,reading_mW', ...trace(40, sensor(100))].join('\n'),
  });
  expect(oneKindOfReading(study, () => []).open.reference).not.toBeNull();
});
