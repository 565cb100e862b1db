import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combineContributions } from '../../src/budget/combine.js';
import { nextImprovement, nextStep } from '../../src/budget/nextImprovement.js';
import { type Contribution, type ContributionKind, KNOWN_EXACTLY } from '../../src/vocabulary.js';

const line = (
  kind: ContributionKind,
  u: number,
  dof: number = KNOWN_EXACTLY,
  name: string = kind,
): Contribution => ({
  name,
  kind,
  relative_standard_uncertainty: u,
  dof,
  type: 'B',
  share: 0,
  note: '',
});

const certificateRules = [
  line('calibration', 0.015),
  line('repeatability', 0.005, 18),
  line('resolution', 0.0029),
];

describe('nextImprovement', () => {
  it('says that laps do not help where the certificate dominates', () => {
    const { sentence, expanded, steps } = nextImprovement({
      budget: certificateRules,
      confidence: 0.95,
    });
    expect(steps[0]).toMatchObject({ name: 'calibration', kind: 'calibration' });
    // By hand: 1.5² / (1.5² + 0.5² + 0.29²) = 0.871; without laps 1.96·√(1.5² + 0.29²) = 2.99 %.
    expect(sentence).toMatch(/87 % of the variance/);
    expect(sentence).toMatch(/laps cannot bring U below 3\.0 %/);
    // Of the interval on the log scale the upper distance: e^0.0315 − 1.
    expect(Math.abs(expanded - Math.expm1(0.0315))).toBeLessThan(0.0003);
    // By hand: 1.96·√(0.75² + 0.5² + 0.29²) = 1.86 %, slightly more for the few degrees of freedom.
    expect(Math.abs(steps[0].after - 0.0189)).toBeLessThan(0.0005);
  });

  it('asks for laps where the scatter dominates, and says how many', () => {
    const { sentence, laps_needed } = nextImprovement({
      budget: [line('repeatability', 0.02, 18), line('calibration', 0.005)],
      confidence: 0.95,
      wanted: 0.03,
      laps: 10,
    });
    // By hand: u = 3 %/1.98 = 1.515 %, less 0.5 %: 1.43 % = 2 %·√(10/n), n = 19.6; t costs a lap.
    expect(laps_needed).toBeGreaterThanOrEqual(19);
    expect(laps_needed).toBeLessThanOrEqual(21);
    expect(sentence).toMatch(/More laps are what helps/);
    expect(sentence).toContain(`about ${laps_needed} laps in all`);
  });

  it('says when no number of laps reaches what is wanted', () => {
    const { sentence, laps_needed } = nextImprovement({
      budget: certificateRules,
      confidence: 0.95,
      wanted: 0.02,
      laps: 10,
    });
    expect(laps_needed).toBeNull();
    expect(sentence).toMatch(/No number of laps reaches the wanted 2\.0 %/);
  });

  it('says when nothing has to improve', () => {
    const { sentence } = nextImprovement({
      budget: certificateRules,
      confidence: 0.95,
      wanted: 0.05,
    });
    expect(sentence).toMatch(/nothing has to improve/);
    expect(sentence).not.toMatch(/would bring/);
  });

  it('names the usual step of each kind', () => {
    const step = (kind: ContributionKind, name: string = kind) =>
      nextImprovement({
        budget: [line(kind, 0.02, 5, name), line('repeatability', 0.001, 9, 'laps')],
        confidence: 0.95,
      }).sentence;
    expect(step('resolution')).toMatch(/finer steps/);
    expect(step('between-series')).toMatch(/seated again/);
    expect(step('zero')).toMatch(/finer steps for the zero/);
    expect(step('settling')).toMatch(/Waiting longer/);
    expect(step('drift')).toMatch(/ABBA BAAB/);
    expect(step('setting')).toMatch(/wavelength set/);
    expect(step('ageing')).toMatch(/Calibrating the reference anew/);
    expect(step('power')).toMatch(/factor of the level/);
    expect(step('other', 'humidity')).toMatch(/Halving "humidity"/);
  });

  // t95 of 5 and 10 degrees of freedom (SciPy: stats.t.ppf(0.975, ν)).
  const [T5, T10] = [2.5705818, 2.2281389];
  it.each([
    ['repeatability', Math.SQRT1_2, T10],
    ['between-series', Math.SQRT1_2, T10],
    ['calibration', 0.5, T5],
    ['settling', 0.5, T5],
    ['drift', 0.5, T5],
    ['setting', 0.5, T5],
    ['other', 0.5, T5],
    ['resolution', 0.1, T5],
    ['zero', 0.1, T5],
    ['ageing', 0.1, T5],
    ['power', 0, T5],
  ] as const)('the usual step of %s leaves %f of u = 2 %% with k = %f', (kind, scale, k) => {
    const { expanded, steps } = nextImprovement({
      budget: [line(kind, 0.02, 5, 'one')],
      confidence: 0.95,
    });
    expect(expanded).toBeCloseTo(Math.expm1(T5 * 0.02), 8);
    expect(steps).toEqual([
      {
        name: 'one',
        kind,
        share: 1,
        floor: 0,
        after: expect.closeTo(Math.expm1(k * scale * 0.02), 8),
        advice: expect.stringMatching(/^.+ would bring U from 5\.3 % to about [\d.]+ %\.$/),
      },
    ]);
    expect(steps[0].advice).not.toMatch(/undefined/);
  });

  it('asks the kind, not the name', () => {
    // A name that speaks of the zero, of a part that is none.
    const { steps } = nextImprovement({
      budget: [line('calibration', 0.02, 9, 'drift and zero since the calibration')],
      confidence: 0.95,
      missing: [{ kind: 'setting', text: 'zero of the dial: not recorded' }],
    });
    expect(steps[0].kind).toBe('calibration');
    expect(steps[0].advice).toMatch(/certificate/);
  });

  it('never passes over what is missing from the budget', () => {
    const missing = [
      { kind: 'zero' as const, text: 'zero of the candidate: not recorded for every run' },
    ];
    const { sentence } = nextImprovement({
      budget: certificateRules,
      confidence: 0.95,
      wanted: 0.05,
      missing,
    });
    expect(sentence).toMatch(
      /Not in the budget at all, so U may be too small: zero of the candidate/,
    );
    expect(sentence).toMatch(/Record the indication with the beam blocked before every reading/);
    const nothing = nextImprovement({ budget: [], confidence: 0.95, missing });
    expect(nothing.sentence).toMatch(/U may be too small/);
  });

  it('never promises less than the floor, nor a floor above the present U', () => {
    const lines = fc.array(fc.double({ min: 1e-5, max: 0.1, noNaN: true }), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(lines, (all) => {
        const kinds = [
          'repeatability',
          'calibration',
          'resolution',
          'between-series',
          'zero',
        ] as const;
        const budget = all.map((u, i) => line(kinds[i], u));
        const { steps, expanded } = nextImprovement({ budget, confidence: 0.95 });
        for (const step of steps) {
          expect(step.floor).toBeLessThanOrEqual(expanded);
          expect(step.after).toBeGreaterThanOrEqual(step.floor);
          expect(step.after).toBeLessThanOrEqual(expanded);
        }
      }),
      { seed: 2 },
    );
  });

  it('keeps its promise about laps', () => {
    const budget = [line('repeatability', 0.02, 18), line('calibration', 0.005)];
    const { laps_needed } = nextImprovement({ budget, confidence: 0.95, wanted: 0.02, laps: 10 });
    const at = (laps: number) =>
      Math.expm1(
        combineContributions(
          [line('repeatability', 0.02 * Math.sqrt(10 / laps), 1.8 * laps), budget[1]],
          { confidence: 0.95 },
        ).relative_expanded_uncertainty,
      );
    expect(at(laps_needed as number)).toBeLessThanOrEqual(0.02);
    expect(at((laps_needed as number) - 1)).toBeGreaterThan(0.02);
  });

  it('says in short what the whole sentence says, without what the budget lacks', () => {
    const budget = [line('repeatability', 0.02, 18), line('calibration', 0.005)];
    const { step, sentence, laps_needed } = nextImprovement({
      budget,
      confidence: 0.95,
      wanted: 0.02,
      laps: 10,
      missing: [{ kind: 'drift', text: 'drift: not stated' }],
    });
    expect(step).toContain(`about ${laps_needed} laps in all`);
    expect(step.length).toBeLessThan(sentence.length);
    expect(sentence).toContain('drift: not stated');
    expect(step).not.toContain('drift: not stated');
  });

  describe('says in full, by hand', () => {
    // 1.96·√(2² + 0.5²) = 4.04 %, e^0.0404 − 1 = 4.1 %; without scatter 0.98 %; with half its
    // variance 1.96·√(2 + 0.25) = 2.94 %, 3.0 % above. For 3 %, u = ln 1.03/1.96 = 1.508 %, of which
    // the scatter may have 1.423 %: 10·(2/1.423)² = 19.8 laps. Scatter is 4/4.25 = 94 %.
    const budget = [line('calibration', 0.005), line('repeatability', 0.02)];
    const ask = (more: object) => nextImprovement({ budget, confidence: 0.95, ...more });
    const scatter = 'Repeatability is 94 % of the variance.';
    const reach =
      'More laps are what helps: with all else as it is they can bring U from 4.1 % towards 0.98 %.';
    const advice = 'Twice the laps would bring U from 4.1 % to about 3.0 %.';

    it('that laps help, whatever the order of the budget', () => {
      const { sentence, step, laps_needed, steps } = ask({});
      expect(sentence).toBe(`${scatter} ${reach} ${advice}`);
      expect(step).toBe(`${scatter} ${advice}`);
      expect(laps_needed).toBeNull();
      expect(steps.map(({ kind }) => kind)).toEqual(['repeatability', 'calibration']);
    });

    it('how many laps a wish takes, and in short nothing beside', () => {
      const { sentence, step, expanded, laps_needed } = ask({ wanted: 0.03, laps: 10 });
      const laps =
        'The wanted 3.0 % would take about 20 laps in all (10 more), with all else as it is.';
      expect(sentence).toBe(`${scatter} ${reach} ${advice} ${laps}`);
      expect(step).toBe(`${scatter} ${laps}`);
      expect(laps_needed).toBe(20);
      const options = { budget, confidence: 0.95, wanted: 0.03, laps: 10 };
      expect(nextStep(options, expanded)).toEqual({ sentence, step });
    });

    it('that a wish is within reach where nobody says how many laps there are', () => {
      const { sentence, step, laps_needed } = ask({ wanted: 0.03 });
      expect(sentence).toBe(
        `${scatter} ${reach} ${advice} The wanted 3.0 % is within reach of more laps.`,
      );
      expect(step).toBe(`${scatter} ${advice} The wanted 3.0 % is within reach of more laps.`);
      expect(laps_needed).toBeNull();
    });

    it('no number of laps beyond ten thousand times those there are', () => {
      // Without scatter e^0.0098 − 1 = 0.98480 %; with 100 000 laps for 10 there are 0.98558 %.
      expect(ask({ wanted: 0.00985, laps: 10 }).laps_needed).toBeNull();
      // ln 1.00986/1.96 = 0.50061 %: √(0.50061² − 0.5²) = 0.0247 %, 10·(2/0.0247)² = 65 600.
      const far = ask({ wanted: 0.00986, laps: 10 }).laps_needed as number;
      expect(Math.abs(far - 65_600)).toBeLessThan(600);
      expect(ask({ wanted: 0.0097, laps: 10 }).sentence).toContain('No number of laps reaches');
    });

    it('that it is enough, at the very wish too', () => {
      const { expanded } = ask({});
      const found = ask({ wanted: expanded, laps: 10 });
      expect(found.sentence).toBe(
        `${scatter} U is 4.1 %, within the wanted 4.1 %: nothing has to improve.`,
      );
      expect(found.step).toBe(found.sentence);
      expect(found.laps_needed).toBeNull();
    });

    it('what is missing, and the free remedy where a zero is among it', () => {
      const missing = (...kinds: readonly ContributionKind[]) =>
        ask({ missing: kinds.map((kind) => ({ kind, text: `${kind} not recorded` })) }).sentence;
      const lacks = 'Not in the budget at all, so U may be too small:';
      expect(missing('drift')).toBe(`${scatter} ${reach} ${advice} ${lacks} drift not recorded.`);
      expect(missing('drift', 'zero')).toBe(
        `${scatter} ${reach} ${advice} ${lacks} drift not recorded; zero not recorded. Record the indication with the beam blocked before every reading: it costs nothing.`,
      );
    });
  });

  it('has nothing to say about a budget of zeros', () => {
    const answer = nextImprovement({ budget: [line('zero', 0)], confidence: 0.95, wanted: 0.1 });
    expect(answer.steps).toEqual([]);
    expect(answer.sentence).toMatch(/Nothing contributes/);
    expect(() => nextImprovement({ budget: [], confidence: 0.95, wanted: 0 })).toThrowError(
      /wanted must be a finite number above 0/,
    );
  });
});
