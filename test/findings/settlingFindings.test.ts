import { describe, expect, test } from 'vitest';
import { settlingFindings } from '../../src/findings/settlingFindings.js';
import { type JointStudy, jointStudy, tracesOf } from '../joints/bench.js';

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
    // τ ln 100 = 8.3 and 29.9 s; e^(−20/6.5) = 4.6 %
    expect(numberIn(reference, /; (\d+) s after switch-on 1 % is missing/)).toBe(9);
    expect(numberIn(candidate, /; (\d+) s after switch-on 1 % is missing/)).toBeGreaterThan(28);
    expect(candidate).toMatch(/At the 20 s of the protocol 4\.\d % is missing\.$/);
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

test('a meter without a trace that tells is said to be that, and so is the trace', () => {
  const [sensors] = said({ traces: tracesOf({ runs: [RUNS[0]], read_at_s: 20 }) });
  expect(sensors!.sentences[1]).toMatch(/^The candidate: its time constant is not known\. ./);
  const [flat] = said({
    traces: tracesOf({ runs: RUNS, read_at_s: 20, spoil: (run) => (run === 3 ? 0.0001 : 1) }),
  });
  expect(flat!.sentences.at(-1)).toMatch(/^Series "s1", run 3 \(candidate\) gave no time constant/);
});

test('a study without a trace is refused', () => {
  const { traces: _, ...none } = { series: [{}], traces: '' };
  expect(() => settlingFindings(jointStudy(none), WISHES)).toThrow('has no trace');
});
