import { describe, expect, test } from 'vitest';
import { settling } from '../../src/readings/settled.js';
import { jointStudy, shownAt, TAU, tracesOf } from '../joints/bench.js';
import { near } from '../near.js';

const RUNS = [
  [1, 'reference'],
  [2, 'candidate'],
  [3, 'candidate'],
  [4, 'reference'],
] as const;
const stated = (read_at_s: number | null, reference: number | null, candidate: number | null) =>
  jointStudy({
    series: [{}, { source: 'second' }],
    study: read_at_s === null ? {} : { protocol: { read_at_s } },
    reference: reference === null ? {} : { time_constant_s: reference },
    candidate: candidate === null ? {} : { time_constant_s: candidate },
  });

describe('reading time and both time constants stated: 10 s, 2 s and 5 s', () => {
  const found = settling(stated(10, 2, 5));
  const source = found.bySource.get('laser');

  test('a reading is 1 − e^(−t/τ) of the power', () => {
    near(source?.gain.reference, 1 - Math.exp(-5), 1e-9);
    near(source?.gain.candidate, 1 - Math.exp(-2), 1e-9);
    near(found.missing.reference, Math.exp(-5), 1e-12);
    near(found.missing.candidate, Math.exp(-2), 1e-12);
    expect(found.bySource.get('second')?.gain).toEqual(source?.gain);
  });

  test('its uncertainty is that of the reading time, ± 1 s: m/τ · 1/√3 ÷ (1 − m), of both meters', () => {
    const part = (m: number, tau: number) => m / tau / Math.sqrt(3) / (1 - m);
    near(source?.state.unsettled, Math.hypot(part(Math.exp(-5), 2), part(Math.exp(-2), 5)), 1e-12);
  });

  test('the factors hold for settled readings, and how long the candidate takes: 5·ln 100 = 23 s', () => {
    expect(found.kind).toMatchObject({
      kind: 'settled',
      read_at_s: 10,
      candidate_time_constant_s: 5,
      candidate_time_constant_standard_uncertainty_s: 0,
    });
    expect(found.kind.why).toContain('needs 23 s to within 1 %');
  });

  test('only the meter that lacks more than 1 % was read too early', () => {
    // e^−5 = 0.67 %, e^−2 = 14 %
    const early = found.warnings.filter(({ code }) => code === 'read-too-early');
    expect(early).toHaveLength(1);
    expect(early[0].message).toMatch(/^The candidate \(time constant 5 s\) still lacks 14 % /);
    expect(early[0].message).toContain('wait 24 s for 1 %');
    expect(early[0].message).toContain('All readings are brought to settled ones');
  });

  test('without a trace the lag on a falling source is lacking: 0.1 % per s over 3 s', () => {
    expect(source?.state.lag).toBeNull();
    expect(source?.state.missing.join()).toContain('each 0.1 % per s would be 0.3 %');
  });
});

describe('one time constant alone', () => {
  test.each([
    ['reference', 2, null],
    ['candidate', null, 5],
  ] as const)(
    'that of the %s brings nothing, and what its own readings lack is told',
    (meter, r, c) => {
      const found = settling(stated(10, r, c));
      const other = meter === 'reference' ? 'candidate' : 'reference';
      expect(found.bySource.get('laser')?.gain).toEqual({ reference: 1, candidate: 1 });
      expect(found.kind.kind).toBe('as-read');
      expect(found.kind.why).toMatch(/taken 10 s after switch-on/);
      near(found.missing[meter], Math.exp(-10 / (r ?? c ?? 1)), 1e-12);
      expect(found.missing[other]).toBe(0);
      const { state } = found.bySource.get('laser') ?? {};
      expect(state?.unsettled).toBeNull();
      expect(state?.missing).toEqual([
        `settling and lag of the sensors: the time constant of the ${other} is not known (a trace would tell)`,
      ]);
      const early = found.warnings.filter(({ code }) => code === 'read-too-early');
      expect(early.map(({ message }) => message).join()).not.toContain('All readings are brought');
    },
  );
});

describe('no reading time', () => {
  test('and no trace: nothing is known, and nothing lacks by number', () => {
    const found = settling(stated(null, 2, 5));
    expect(found.kind).toMatchObject({ kind: 'as-read', read_at_s: null });
    expect(found.missing).toEqual({ reference: 0, candidate: 0 });
    expect(found.bySource.get('laser')?.state.missing.join()).toContain(
      'the reading time is not stated',
    );
    expect(found.warnings).toEqual([]);
  });

  test('and traces of both meters of one source: they stand for all sources', () => {
    const gain = shownAt(20);
    const study = jointStudy({
      series: [{ gain }, { source: 'second', gain }],
      traces: tracesOf({ runs: RUNS, read_at_s: 20 }),
    });
    const found = settling(study);
    expect(found.kind.kind).toBe('settled');
    const [own, borrowed] = ['laser', 'second'].map((name) => found.bySource.get(name)?.gain);
    // e^(−20/τ) of the reading is missing; noise of 0.3 % and of the fits
    near(own?.candidate, 1 - Math.exp(-20 / TAU.candidate), 0.01);
    near(own?.reference, 1, 0.01);
    expect(borrowed).toEqual(own);
    expect(found.warnings.map(({ code }) => code)).toContain('reading-time-not-stated');
    expect(found.bySource.get('laser')?.state.unsettled).toBeGreaterThan(0);
    expect(found.bySource.get('laser')?.state.missing).toEqual([]);
  });
});

describe('a falling source with traces, 0.2 % per s', () => {
  const fall = 0.002;
  const gain = shownAt(20, fall);
  const found = settling(
    jointStudy({
      series: [{ gain }, { source: 'second', gain: shownAt(20) }],
      traces: tracesOf({ runs: RUNS, read_at_s: 20, fall_per_s: fall }),
      study: { protocol: { read_at_s: 20 } },
    }),
  );

  test('the gain holds the lag of each sensor behind the fall: about fall · τ more', () => {
    const own = found.bySource.get('laser');
    near(own?.gain.candidate, gain('candidate'), 0.004);
    near(own?.gain.reference, gain('reference'), 0.004);
    expect((own?.gain.reference ?? 0) - 1).toBeGreaterThan(0.001);
    expect(own?.state.lag).not.toBeNull();
    expect(own?.state.missing).toEqual([]);
  });

  test('a source without a trace is brought to settled readings, its fall not being known', () => {
    const other = found.bySource.get('second');
    // Within what the fitted time constant of 6.5 s is known to
    near(other?.gain.candidate, 1 - Math.exp(-20 / TAU.candidate), 0.003);
    expect(other?.state.lag).toBeNull();
    expect(other?.state.missing.join()).toContain('no trace shows how the source changes');
  });
});

test.each([
  // 0.8 % per s over 60 s is 48 % of the power, 1 % per s is 60 %
  [0.008, shownAt(60, 0.008)('candidate')],
  [0.01, 1 - Math.exp(-60 / TAU.candidate)],
])(
  'a fall of %f per s counts unless it takes half of the power before the reading',
  (fall, gain) => {
    const found = settling(
      jointStudy({
        series: [{}],
        traces: tracesOf({ runs: RUNS, read_at_s: 60, fall_per_s: fall }),
        study: { protocol: { read_at_s: 60 } },
      }),
    );
    near(found.bySource.get('laser')?.gain.candidate, gain, 0.01);
  },
);
