import { describe, expect, test } from 'vitest';
import { settlingFindings } from '../../src/findings/settlingFindings.js';
import type { Study } from '../../src/vocabulary.js';
import { type JointStudy, jointStudy, tracesOf } from '../joints/bench.js';
import { only } from './only.js';

const RUNS = [
  [1, 'reference'],
  [2, 'candidate'],
  [3, 'candidate'],
  [4, 'reference'],
] as const;
const WISHES = { mayLack: 0.01, within: 0.02, over_s: null };
const said = (changes: Partial<JointStudy> = {}, wishes: object = {}) =>
  settlingFindings(
    jointStudy({
      series: [{}, { source: 'second' }],
      traces: tracesOf({ runs: RUNS, read_at_s: 20 }),
      study: { protocol: { read_at_s: 20 } },
      ...changes,
    }),
    { ...WISHES, ...wishes },
  );
const numberIn = (text: string, pattern: RegExp) => Number(pattern.exec(text)?.[1]);

describe('two sensors of 1.8 and 6.5 s on 40 mW, K = 1.1, a minute long', () => {
  const [sensors, laser, ...others] = said();
  const [reference = '', candidate = '', together = ''] = sensors!.sentences;

  test('only a source with a trace has a paragraph', () => {
    expect([sensors!.title, laser!.title, others]).toEqual(['The sensors', 'laser', []]);
  });

  test('the time constants, how long to wait, and what is missing at the reading time', () => {
    expect(numberIn(reference, /time constant \(([\d.]+) ±/)).toBeCloseTo(1.8, 1);
    expect(numberIn(candidate, /time constant \(([\d.]+) ±/)).toBeCloseTo(6.5, 1);
    expect(reference).toContain('from 2 traces');
    // τ ln 100 = 8.3 and 29.9 s, a little more at the upper end of τ; e^(−20/6.5) = 4.6 %
    const wait = (text: string) =>
      numberIn(text, /; (\d+) s after switch-on at most 1 % is missing/);
    expect(wait(reference)).toBe(9);
    expect(wait(candidate)).toBeGreaterThan(29);
    expect(candidate).toMatch(/At the 20 s of the protocol up to 4\.\d % is missing\.$/);
    expect(together).toMatch(/no earlier than (29|30|31) s after switch-on/);
    const [first] = said({ study: {} });
    expect(first!.sentences[0]).toContain('not stated (protocol.read_at_s)');
  });

  test('the source once both have settled, as each meter shows it', () => {
    expect(laser!.sentences).toHaveLength(2);
    const means = laser!.sentences.map((one) => numberIn(one, /mean ([\d.]+) mW over/));
    expect(means[0]).toBeCloseTo(40, 0);
    expect(means[1]).toBeCloseTo(40 / 1.1, 0);
    expect(laser!.sentences[0]).toMatch(/^Series "s1", run [14] \(reference\): highest 4\d/);
    expect(laser!.sentences[0]).toMatch(/over (29|30|31) to 60 s; .* within 2 % of that mean from/);
  });

  test('a mean over less time, or over more than is left', () => {
    const [, ten] = said({}, { over_s: 10 });
    expect(ten!.sentences[0]).toContain('over 50 to 60 s;');
    const [, forty] = said({}, { over_s: 40 });
    expect(forty!.sentences[0]).toMatch(/too short to say how steady .*: (29|30)[.\d]* s are left/);
  });

  test('a value averaged over a time is held against a trace as long', () => {
    const opinion = { source: 'laser', kind: 'maker', value_mW: 39 };
    const [, both] = said({ opinions: [{ ...opinion, averaged_over_s: 30 }] });
    // 40 · (1 − 1.8/30) and 40/1.1 · (1 − 6.5/30 · (1 − e^(−30/6.5)))
    const [, first = '', , second = ''] = both!.sentences;
    expect(first).toContain('39.00 mW as an average over 30 s (maker); this reference shows');
    expect(numberIn(first, /shows ([\d.]+) mW/)).toBeCloseTo(37.6, 0);
    expect(numberIn(second, /candidate shows ([\d.]+) mW/)).toBeCloseTo(28.6, 0);
    const [, long] = said({ opinions: [{ ...opinion, averaged_over_s: 90 }] });
    expect(long!.sentences[1]).toContain('this trace is only 60 s long');
    const [, other] = said({
      opinions: [{ ...opinion, source: 'second', averaged_over_s: 30 }],
    });
    expect(other!.sentences).toHaveLength(2);
  });
});

test('waiting times hold at the upper end of a time constant', () => {
  // Traces of 2 and 9 s: 5.5 s ± 12.7 · 3.5 s, so up to 50 s; ln 100 · 50 = 230 s
  const lines = [2, 9].flatMap((tau, i) =>
    Array.from(
      { length: 61 },
      (_, s) => `s1,${[1, 4][i]},reference,${s},${(40 * (1 - Math.exp(-s / tau))).toFixed(4)}`,
    ),
  );
  const candidate = tracesOf({ runs: [RUNS[1]], read_at_s: 20 })
    .split('\n')
    .slice(1);
  const traces = ['series,run,meter,elapsed_s,reading_mW', ...lines, ...candidate].join('\n');
  const [sensors] = said({ traces });
  const upper = 5.5 + 12.7062 * 3.5;
  const wait = Math.ceil(upper * Math.log(100));
  expect(sensors!.sentences[0]).toContain(`; ${wait} s after switch-on at most 1 % is missing.`);
  expect(numberIn(sensors!.sentences[0]!, /up to ([\d.]+) % is missing/)).toBeCloseTo(
    100 * Math.exp(-20 / upper),
    -1,
  );
  expect(sensors!.sentences[2]).toBe(`Read both meters no earlier than ${wait} s after switch-on.`);
});

test('where a meter is not known, no time for both is named', () => {
  const cannot =
    'From when on both meters may be read cannot be said: the time constant of the candidate is not known.';
  for (const traces of [
    tracesOf({ runs: [RUNS[0]], read_at_s: 20 }),
    // Its only traces are refused.
    tracesOf({ runs: RUNS, read_at_s: 20, spoil: (run) => (run === 2 || run === 3 ? 0.0001 : 1) }),
  ]) {
    const text = said({ traces })[0]!.sentences.join(' ');
    expect(text).toContain(cannot);
    expect(text).not.toContain('Read both meters');
  }
});

test('a meter without a trace that tells is said to be that, and so is the trace', () => {
  const [sensors] = said({ traces: tracesOf({ runs: [RUNS[0]], read_at_s: 20 }) });
  expect(sensors!.sentences[1]).toMatch(/^The candidate: its time constant is not known\. ./);
  const [flat] = said({
    traces: tracesOf({ runs: RUNS, read_at_s: 20, spoil: (run) => (run === 3 ? 0.0001 : 1) }),
  });
  expect(flat!.sentences.at(-2)).toMatch(/^Series "s1", run 3 \(candidate\) gave no time constant/);
  expect(flat!.sentences.at(-1)).toContain('goes up to 0 mW, and runs.csv has');
});

test('a study without a trace is refused', () => {
  const { traces: _, ...none } = { series: [{}], traces: '' };
  expect(() => settlingFindings(jointStudy(none), WISHES)).toThrow('has no trace');
});

describe('traces that show no rise: they have settled from the start', () => {
  const trace = (
    run: number,
    meter: string,
    times: readonly number[],
    reading: (time: number) => number,
  ) => ({ series: 'a', run, meter, elapsed_s: times, reading_mW: times.map(reading) });
  const seconds = (to: number) => Array.from({ length: to + 1 }, (_, i) => i);
  /** Ten milliwatts, then twenty from second 15 on. */
  const step = (time: number) => (time < 15 ? 10 : 20);
  const flat = () => 10;
  const source = (
    traces: readonly object[],
    wishes: object = {},
    opinions: readonly object[] = [],
  ) => {
    const run = (n: number) => ({ run: n, zero_mW: null, exclude: null, lap: n });
    const study = only<Study>({
      confidence: 0.95,
      traces,
      series: [{ id: 'a', source: 'laser', runs: [1, 2, 3].map(run) }],
      sources: [{ name: 'laser' }, { name: 'other' }],
      protocol: { read_at_s: null, discard_first_laps: 0 },
      opinions,
      warnings: [],
    });
    const [, found] = settlingFindings(study, { ...WISHES, ...wishes });
    return found?.sentences;
  };
  const long = trace(2, 'reference', seconds(20), flat);

  test('of each meter the longest speaks, the first of equals', () => {
    const short = trace(1, 'reference', seconds(15), flat);
    const other = trace(3, 'reference', seconds(20), flat);
    const of = (...traces: object[]) => source(traces)?.map((one) => one.slice(0, 34));
    const second = ['Series "a", run 2 (reference): hig'];
    expect(of(short, long)).toEqual(second);
    expect(of(long, short)).toEqual(second);
    expect(of(long, other)).toEqual(second);
    expect(of(trace(1, 'candidate', seconds(15), flat), long)).toEqual([
      ...second,
      'Series "a", run 1 (candidate): hig',
    ]);
  });

  test('of the sensors nothing is known, so no time is named from which on to read', () => {
    const study = only<Study>({
      confidence: 0.95,
      traces: [long],
      series: [],
      sources: [],
      protocol: { read_at_s: null, discard_first_laps: 0 },
      opinions: [],
      warnings: [],
    });
    expect(settlingFindings(study, WISHES)).toEqual([
      {
        title: 'The sensors',
        sentences: [
          expect.stringMatching(/^The reference: its time constant is not known\. ./),
          expect.stringMatching(/^The candidate: its time constant is not known\. ./),
          'From when on both meters may be read cannot be said: the time constant of the reference and of the candidate is not known.',
          expect.stringMatching(/^Series "a", run 2 \(reference\) gave no time constant: ./),
        ],
      },
    ]);
  });

  test('the whole sentence, warm from the start or not at all', () => {
    expect(source([long])).toEqual([
      'Series "a", run 2 (reference): highest 10.00 mW at 0 s; mean 10.00 mW over 0 to 20 s; relative fluctuation 2 s/P̄ = 0 %; within 2 % of that mean from 0 s on.',
    ]);
    // 15 · 10 + 0.5 · 10 less, and 5 · 20 over 20 s
    expect(source([trace(2, 'reference', seconds(20), step)])?.[0]).toMatch(
      /^Series "a", run 2 \(reference\): highest 20\.00 mW at 15 s; mean 12\.75 mW over 0 to 20 s; .* it does not stay within 2 % of that mean\.$/,
    );
  });

  test('a mean over as long as the trace is, and no longer; of ten readings, and no fewer', () => {
    const said = (over_s: number) => source([long], { over_s })?.[0];
    expect(said(20)).toContain('over 0 to 20 s;');
    expect(said(20.5)).toBe(
      'Series "a", run 2 (reference) is too short to say how steady the source is: 20 s are left once the sensor has settled.',
    );
    expect(said(9)).toContain('over 11 to 20 s;');
    expect(said(8)).toContain('is too short to say');
    expect(source([trace(2, 'reference', seconds(8), flat)])?.[0]).toContain('8 s are left');
  });

  test('an average from elsewhere over part of the trace, all of it, and more', () => {
    const stepped = trace(2, 'reference', seconds(20), step);
    const said = (averaged_over_s?: number, from = 'laser') =>
      source([stepped], {}, [
        {
          source: from,
          kind: 'certificate',
          value_mW: 11,
          ...(averaged_over_s === undefined ? {} : { averaged_over_s }),
        },
      ])?.slice(1);
    const stated = (s: number) =>
      `Stated elsewhere: 11.00 mW as an average over ${s} s (certificate)`;
    const shown = (s: number, mean: string) => [
      `${stated(s)}; this reference shows ${mean} mW over as long from switch-on, not corrected.`,
    ];
    expect(said(14)).toEqual(shown(14, '10.00'));
    // The reading at 15 s counts: half a second of the rise, 5 more over 15 s
    expect(said(15)).toEqual(shown(15, '10.33'));
    expect(said(20)).toEqual(shown(20, '12.75'));
    expect(said(20.5)).toEqual([`${stated(20.5)}; this trace is only 20 s long.`]);
    expect(said(9)).toEqual(shown(9, '10.00'));
    expect(said(8)).toEqual([`${stated(8)}; this trace has too few readings in that time.`]);
    expect(said(14, 'other')).toEqual([]);
    expect(said()).toEqual([]);
  });
});
