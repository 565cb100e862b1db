import { describe, expect, test } from 'vitest';
import { settling } from '../../src/readings/settled.js';
import { laggedResponse } from '../../src/settle/laggedResponse.js';
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
    expect([found.constants.reference?.value_s, found.constants.candidate?.value_s]).toEqual([
      2, 5,
    ]);
    expect(found.bySource.get('second')?.gain).toEqual(source?.gain);
  });

  test('its uncertainty is that of the reading time, ± 1 s: m/τ · 1/√3 ÷ (1 − m), of both meters', () => {
    const part = (m: number, tau: number) => m / tau / Math.sqrt(3) / (1 - m);
    near(source?.state.unsettled, Math.hypot(part(Math.exp(-5), 2), part(Math.exp(-2), 5)), 1e-12);
  });

  test('the factors hold for settled readings, and how long the candidate takes: 5·ln 100 = 23.03 s', () => {
    expect(found.kind).toMatchObject({
      kind: 'settled',
      read_at_s: 10,
      candidate_time_constant_s: 5,
      candidate_time_constant_standard_uncertainty_s: 0,
    });
    expect(found.kind.why).toContain('needs 24 s to within 1 %');
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
      expect(found.constants[meter]?.value_s).toBe(r ?? c);
      expect(found.constants[other]).toBeNull();
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

describe('a meter that has shown next to nothing', () => {
  // After 0.01 τ a reading is 0.995 % of the power, after 0.0101 τ 1.005 %.
  test.each([
    [1, 100, true],
    [1.01, 100, false],
    [1e-3, 1e6, true],
  ] as const)('at %d s with τ = %d s: told from nothing %s', (readAt, tau, early) => {
    const found = settling(stated(readAt, 1e-6, tau));
    const { gain, state } = found.bySource.get('laser') ?? {};
    expect(gain?.candidate).toBe(early ? 1 : 1 - Math.exp(-readAt / tau));
    expect(found.kind.kind).toBe(early ? 'as-read' : 'settled');
    expect(found.open.candidate === null).toBe(!early);
    expect(found.open.reference).toBeNull();
    const [warning] = found.warnings.filter(({ message }) => message.startsWith('The candidate'));
    expect(warning.message.includes('not corrected for that')).toBe(early);
    if (!early) return;
    expect(state?.missing.join()).toContain('the candidate had shown less than 1 % of the power');
    expect(found.open.candidate).toMatch(
      /^at .* the candidate shows less than 1 % .* Read later\.$/,
    );
  });
});

describe('no reading time', () => {
  test('and no trace: how fast the sensors settle is stated, and that it serves nothing is said', () => {
    const found = settling(stated(null, 2, 5));
    expect(found.kind).toMatchObject({ kind: 'as-read', read_at_s: null });
    expect(found.kind.why).toBe(
      'For readings as they were taken; when after switch-on is not stated, so what they lack is not known.',
    );
    expect(found.bySource.get('laser')?.state.missing.join()).toContain(
      'the reading time is not stated',
    );
    expect(found.warnings).toEqual([
      {
        code: 'reading-time-not-stated',
        message: expect.stringMatching(/^study\.json says how fast .* of the reference and/),
      },
    ]);
    expect(settling(stated(null, null, 5)).warnings[0]?.message).toContain(
      'sensor of the candidate',
    );
    expect(settling(stated(null, null, null)).warnings).toEqual([]);
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
  // One that rises as fast is no slow one either.
  [-0.01, 1 - Math.exp(-60 / TAU.candidate)],
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

type Traced = {
  readonly series?: string;
  readonly fall_per_s?: number;
  readonly time_constant_s?: number;
};
/** Traces without scatter, digit for digit, of runs of any series. */
const exactTraces = (
  runs: readonly (readonly [run: number, meter: 'reference' | 'candidate', traced?: Traced])[],
) =>
  [
    'series,run,meter,elapsed_s,reading_mW',
    ...runs.flatMap(([run, meter, traced = {}]) => {
      const { series = 's1', fall_per_s = 0, time_constant_s = TAU[meter] } = traced;
      return Array.from({ length: 61 }, (_, time_s) => {
        const shown = laggedResponse({ time_s, time_constant_s, fall_per_s });
        return [series, run, meter, time_s, (40 * shown).toFixed(6)].join(',');
      });
    }),
  ].join('\n');

describe('a trace of the candidate alone, falling by 0.2 % per s, read at 20 s', () => {
  const found = settling(
    jointStudy({
      series: [{}, { source: 'second' }],
      traces: exactTraces([[2, 'candidate', { fall_per_s: 0.002 }]]),
      study: { protocol: { read_at_s: 20 } },
    }),
  );
  const state = found.bySource.get('laser')?.state;

  test('the lag has bounds: 0.002 · (6.5 − 10) to 0.002 · 6.5', () => {
    // Centre 0.3 %, half 1 %, rectangular
    near(state?.lag, Math.hypot(0.003, 0.01 / Math.sqrt(3)), 1e-5);
    expect(state?.note).toContain("The reference's time constant is not known");
    expect(found.warnings.map(({ code }) => code)).toEqual(['read-too-early', 'lag-bounded']);
    expect(found.warnings[1]?.message).toBe(`laser: ${state?.note}`);
  });

  test('nothing is brought to settled readings', () => {
    expect(found.kind).toEqual({
      kind: 'as-read',
      read_at_s: 20,
      candidate_time_constant_s: expect.closeTo(6.5, 3),
      candidate_time_constant_standard_uncertainty_s: expect.closeTo(0, 3),
      why: 'For readings taken 20 s after switch-on; how far the sensors had settled by then is not known.',
    });
    expect(found.bySource.get('laser')?.gain).toEqual({ reference: 1, candidate: 1 });
    expect(state?.unsettled).toBeNull();
    const lacks =
      'settling and lag of the sensors: the time constant of the reference is not known (a trace would tell)';
    expect(state?.missing).toEqual([lacks]);
    // The other source has no trace, and no lag.
    expect(found.bySource.get('second')?.state).toEqual({
      lag: null,
      unsettled: null,
      note: '',
      missing: [lacks],
    });
  });
});

test('a meter whose trace ends too soon may be as slow as that trace allows, and lag as much', () => {
  // A minute of a sensor of 200 s: its upper end is open, its lower one far above the usual 10 s.
  const found = settling(
    jointStudy({
      series: [{}],
      traces: exactTraces([
        [1, 'reference', { fall_per_s: 0.002 }],
        [2, 'candidate', { time_constant_s: 200 }],
      ]),
      study: { protocol: { read_at_s: 20 } },
    }),
  );
  const state = found.bySource.get('laser')?.state;
  const assumed = Number(/\(0 to ([\d.]+) s assumed\)/.exec(state?.note ?? '')?.[1]);
  expect(assumed).toBeGreaterThan(100);
  expect(state?.lag).toBeGreaterThan((0.002 * assumed) / 2);
});

describe('both meters traced, read at 20 s: lag by the fall times 6.5 s − 1.8 s', () => {
  const of = (traced: (run: number) => Traced) =>
    settling(
      jointStudy({
        series: [{}],
        traces: exactTraces(RUNS.map(([run, meter]) => [run, meter, traced(run)] as const)),
        study: { protocol: { read_at_s: 20 } },
      }),
    );

  test('without scatter it is known as it is, and is in the gain', () => {
    const found = of(() => ({ fall_per_s: 0.002 }));
    const { gain, state } = found.bySource.get('laser') ?? {};
    near(state?.lag, 0, 1e-5);
    near(gain?.candidate, shownAt(20, 0.002)('candidate'), 1e-5);
    near(gain?.reference, shownAt(20, 0.002)('reference'), 1e-5);
    expect(state?.missing).toEqual([]);
    expect(state?.note).toContain('4.7 s');
    expect(found.warnings.map(({ code }) => code)).toEqual(['read-too-early']);
  });

  test('as far as the falls differ, it is open: two of 0.2 and two of 0.4 % per s', () => {
    // Mean 0.3 %, s/√4 = 0.2 %/√12
    const { state } = of((run) => ({ fall_per_s: run < 3 ? 0.002 : 0.004 })).bySource.get('laser')!;
    near(state.lag, (4.7 * 0.002) / Math.sqrt(12), 1e-5);
  });

  test('so it is as far as time constants differ: 6 s and 7 s are 6.5 s ± 0.5 s', () => {
    const time_constant_s = (run: number) => [1.8, 6, 7, 1.8][run - 1]!;
    const found = of((run) => ({ fall_per_s: 0.002, time_constant_s: time_constant_s(run) }));
    const { state } = found.bySource.get('laser')!;
    near(state.lag, 0.002 * 0.5, 1e-5);
    near(found.kind.candidate_time_constant_standard_uncertainty_s, 0.5, 1e-3);
    // e^(−20/6.5)·20/6.5²·0.5 and e^(−20/6.5)/6.5·1/√3, over 1 − e^(−20/6.5); the reference has e^−11.
    const m = Math.exp(-20 / 6.5);
    const open = Math.hypot(((m * 20) / 6.5 ** 2) * 0.5, m / 6.5 / Math.sqrt(3)) / (1 - m);
    near(state.unsettled, open, 1e-5);
  });

  test('references that differ count as well', () => {
    const time_constant_s = (run: number) => [1.5, 6.5, 6.5, 2.1][run - 1]!;
    const found = of((run) => ({ fall_per_s: 0.002, time_constant_s: time_constant_s(run) }));
    near(found.bySource.get('laser')?.state.lag, 0.002 * 0.3, 1e-5);
  });
});

test('no time constant and a reading time: both are not known', () => {
  const found = settling(stated(10, null, null));
  expect(found.bySource.get('laser')?.state.missing).toEqual([
    'settling and lag of the sensors: the time constant of the reference and of the candidate is not known (a trace would tell)',
  ]);
  expect(found.kind).toMatchObject({
    candidate_time_constant_s: null,
    candidate_time_constant_standard_uncertainty_s: null,
  });
  expect(found.constants).toEqual({ reference: null, candidate: null });
  expect(found.open).toEqual({ reference: null, candidate: null });
  expect(found.warnings).toEqual([]);
});

test('both meters read too early are both named, those that lack less than 1 % not', () => {
  // e^(−10/2.1) = 0.85 % and e^(−10/2.2) = 1.06 %
  const of = (reference: number, candidate: number) =>
    settling(stated(10, reference, candidate)).warnings.map(({ message }) => message.slice(0, 13));
  expect(of(2.2, 5)).toEqual(['The reference', 'The candidate']);
  expect(of(2.2, 2.1)).toEqual(['The reference']);
  expect(of(2.1, 2.1)).toEqual([]);
});

test('a study without a source has nothing that is settled', () => {
  const study = { ...stated(10, 2, 5), sources: [] };
  expect(settling(study).kind.kind).toBe('as-read');
});

describe('no reading time, and traces', () => {
  const traced = (runs: Parameters<typeof exactTraces>[0]) =>
    settling(
      jointStudy({
        series: [
          { gain: shownAt(20), noise: 0 },
          { source: 'second', gain: shownAt(10), noise: 0 },
        ],
        traces: exactTraces(runs),
      }),
    );
  const at = (time: number) => 1 - Math.exp(-time / TAU.candidate);
  const gains = (found: ReturnType<typeof settling>) =>
    ['laser', 'second'].map((name) => found.bySource.get(name)?.gain.candidate);
  const [both1, both2] = ['s1', 's2'].map((series) =>
    RUNS.map(([run, meter]) => [run, meter, { series }] as const),
  );

  test('of both meters of both sources: each has its own', () => {
    const found = traced([...both1, ...both2]);
    // The traces lead to 40 mW, the candidate's readings to 40/1.1.
    const [first, second] = gains(found);
    near(first, at(20) / 1.1, 3e-4);
    near(second, at(10) / 1.1, 3e-4);
    expect(found.kind.kind).toBe('settled');
  });

  test('of one meter only of the second source: both of its gains are those of all', () => {
    for (const one of [both2[0], both2[1]]) {
      const found = traced([...both1, one]);
      const all = found.bySource.get('second')?.gain;
      near(found.bySource.get('laser')?.gain.candidate, at(20) / 1.1, 3e-4);
      expect(found.kind.kind).toBe('settled');
      // A third reading of the second source is in the mean of all.
      const logs = one === both2[1] ? [at(20), at(20), at(10)] : [at(20), at(20)];
      const mean = Math.exp(logs.reduce((sum, value) => sum + Math.log(value), 0) / logs.length);
      near(all?.candidate, mean / 1.1, 3e-4);
    }
  });

  test('of one meter alone tell nothing', () => {
    const found = traced([both1[1]]);
    expect(found.bySource.get('laser')).toEqual({
      gain: { reference: 1, candidate: 1 },
      // The candidate's own trace tells what its readings lack all the same.
      traced: {
        reference: null,
        candidate: {
          value: expect.closeTo(at(20) / 1.1, 3),
          standardUncertainty: expect.any(Number),
          // 61 readings, and level, time constant and fall; the onset went to 0
          dof: 58,
        },
      },
      state: {
        lag: null,
        unsettled: null,
        note: '',
        missing: [expect.stringContaining('no trace of both meters')],
      },
    });
    expect(found.kind).toMatchObject({
      kind: 'as-read',
      why: 'For readings as they were taken; when after switch-on is not stated, so what they lack is not known.',
    });
    expect(found.warnings).toEqual([
      { code: 'reading-time-not-stated', message: expect.stringMatching(/do not tell for both/) },
    ]);
  });
});
