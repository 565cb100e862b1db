import { describe, expect, test } from 'vitest';
import { planStudy, type StudyWishes } from '../../src/plan/planStudy.js';

/** Nothing scatters and no step is said, so that U is that of certificate and placement: 3.5 %. */
const WISHES: StudyWishes = {
  title: 'Invented plan',
  meters: {
    reference: { name: 'R', resolution_mW: null, rated_max_mW: null, noise: 0 },
    candidate: { name: 'C', resolution_mW: null, rated_max_mW: null, noise: 0 },
  },
  sources: [{ name: 'red', wavelength_nm: 638, power_mW: 50, beam_diameter_mm: null }],
  certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
  tolerance: 0.07,
  wanted: 0.04,
  confidence: 0.95,
  source_noise: 0,
  placement: 0.01,
  order: 'ABBA-BAAB',
  most_series: 1,
  most_laps: 8,
  slower_time_constant_s: 2.1,
  read_at_s: null,
  on_time_s: null,
  rest_s: 19,
};
const planned = (changed: Partial<StudyWishes> = {}) => planStudy({ ...WISHES, ...changed });
const source = (changed: Partial<StudyWishes['sources'][number]>) => ({
  sources: [{ ...WISHES.sources[0]!, ...changed }],
});
const meters = (reference: object, candidate: object) => ({
  meters: {
    reference: { ...WISHES.meters.reference, ...reference },
    candidate: { ...WISHES.meters.candidate, ...candidate },
  },
});
/** What is said after U, its shares and what was assumed. */
const besides = (changed: Partial<StudyWishes>) =>
  planned(changed).sentences.filter(
    (one) =>
      !/^(red: (1|±)|No certificate|How the heads|1\.0 % from|The display steps|No power)/.test(
        one,
      ),
  );

describe('what a plan is made of', () => {
  test('wishes of each source, size, study, and its sentences in their order', () => {
    const plan = planned();
    expect(plan.comparisons).toEqual([
      {
        wanted: 0.04,
        confidence: 0.95,
        noise: { reference: 0, candidate: 0 },
        source_noise: 0,
        order: 'ABBA-BAAB',
        most_series: 1,
        most_laps: 8,
        certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
        placement: 0.01,
        display: { level_mW: 50, step_mW: { reference: null, candidate: null } },
      },
    ]);
    expect(plan.size).toEqual({ series: 1, laps: 8 });
    expect(plan.study).toEqual({
      title: 'Invented plan',
      reference: { name: 'R', expanded_uncertainty_percent: 2, coverage_factor: 2 },
      candidate: { name: 'C' },
      sources: [{ name: 'red', wavelength_nm: 638 }],
      protocol: { order: 'ABBA-BAAB', read_at_s: 11 },
      tolerance_percent: 7,
      confidence: 0.95,
      between_series_percent: 1,
    });
    // 16 runs of 11 + 19 s are 8 minutes.
    expect(plan.sentences).toEqual([
      expect.stringMatching(
        /^red: 1 series of 8 laps: .* The variance of such a reading is made of placement 67 %, calibration of the reference 33 %\.$/,
      ),
      expect.stringMatching(/^1\.0 % from series to series/),
      expect.stringMatching(/^The display steps are not said/),
      'Read 11 s after switch-on. Each head is lit for 11 s and rests for 19 s or more.',
      '16 runs of 30 s take about 8 minutes, warming up and putting up heads aside.',
    ]);
    expect(plan.sheet).toContain('slower one: 11 s');
    expect(plan.runs.split('\n')).toHaveLength(1 + 16 + 1);
  });

  test('what is not said is left out', () => {
    const plan = planned({ certificate: null, placement: null, slower_time_constant_s: null });
    const [comparison] = plan.comparisons;
    expect(comparison).not.toHaveProperty('certificate');
    expect(comparison).not.toHaveProperty('placement');
    expect(plan.study).toMatchObject({
      reference: { name: 'R' },
      protocol: { order: 'ABBA-BAAB' },
    });
    expect(plan.study.protocol).toEqual({ order: 'ABBA-BAAB' });
    expect(plan.study.reference).toEqual({ name: 'R' });
    expect(plan.study).not.toHaveProperty('between_series_percent');
    expect(plan.sheet).toContain('time constant: ______ s');
  });

  test('what is said stands in the study', () => {
    const plan = planned({
      ...meters({ resolution_mW: 0.001, rated_max_mW: 3000 }, { resolution_mW: 0.002 }),
      ...source({ beam_diameter_mm: 3 }),
      read_at_s: 4,
    });
    expect(plan.study).toMatchObject({
      reference: { name: 'R', resolution_mW: 0.001, rated_max_mW: 3000 },
      candidate: { name: 'C', resolution_mW: 0.002 },
      sources: [{ name: 'red', wavelength_nm: 638, beam_diameter_mm: 3 }],
      protocol: { read_at_s: 4 },
    });
    expect(plan.comparisons[0]?.display).toEqual({
      level_mW: 50,
      step_mW: { reference: 0.001, candidate: 0.002 },
    });
  });

  test('a step that is said counts alone, and what is not said is named', () => {
    // Steps of a tenth of the power: no plan for 4 % survives one, whichever meter has it.
    const coarse = { resolution_mW: 5 };
    for (const [changed, unsaid] of [
      [meters(coarse, {}), 'candidate'],
      [meters({}, coarse), 'reference'],
    ] as const) {
      const plan = planned(changed);
      expect(plan.plans[0]?.design).toBeNull();
      expect(plan.sentences).toContain(
        `The display step of the ${unsaid} is not said: taken as too fine to count.`,
      );
    }
    const both = planned(meters(coarse, coarse));
    expect(both.sentences.join(' ')).not.toContain('not said');
    const none = planned();
    expect(none.plans[0]?.design).not.toBeNull();
    expect(none.sentences).toContain('The display steps are not said: taken as too fine to count.');
  });

  test('steps without a power are not denied', () => {
    const plan = planned({
      ...meters({ resolution_mW: 5 }, { resolution_mW: 5 }),
      ...source({ power_mW: null }),
    });
    expect(plan.comparisons[0]).not.toHaveProperty('display');
    expect(plan.sentences).toContain(
      'No power is said to hold display steps against: they are taken as too fine to count.',
    );
    expect(plan.sentences.join(' ')).not.toContain('steps are not said');
  });

  test('100 % and more is nothing to be content with', () => {
    // Half a step of zero on both meters is half of the power.
    const coarse = { resolution_mW: 50 };
    expect(planned({ ...meters(coarse, coarse), wanted: 0.06 }).sentences[0]).toMatch(
      /cannot be promised.* What would help: a power of/,
    );
    const wild = { ...meters({ noise: 0.9 }, { noise: 0.9 }), placement: 0.9 };
    expect(planned(wild).sentences[0]).toMatch(/promised.* No single change makes it reachable\./);
    expect(planned({ wanted: 0.03 }).sentences[0]).toContain('to be content with');
  });

  test('a power below a step is refused, not one at it', () => {
    const at = (power_mW: number) => () =>
      planned({ ...meters({}, { resolution_mW: 1 }), ...source({ power_mW }) });
    expect(at(0.999)).toThrow(/candidate cannot measure a power below its step/);
    expect(at(1)().plans[0]?.design).toBeNull();
  });

  test('all get the largest design that one needs', () => {
    // A step of 0.2 mW is 2 % of 10 mW and nothing of 1000 mW.
    const sources = [
      { ...WISHES.sources[0]!, name: 'strong', power_mW: 1000 },
      { ...WISHES.sources[0]!, name: 'weak', power_mW: 10 },
    ];
    const plan = planned({
      ...meters({ resolution_mW: 0.001 }, { resolution_mW: 0.2, noise: 0.008 }),
      sources,
      wanted: 0.045,
      most_series: 2,
      most_laps: 12,
    });
    expect(plan.plans.map(({ design }) => design?.series)).toEqual([1, 2]);
    expect(plan.size).toEqual({ series: 2, laps: 8 });
    expect(plan.sentences).toContain(
      'The sheet has 2 series of 8 laps for each source: the most that one of them needs.',
    );
    expect(planned().sentences.join(' ')).not.toContain('The sheet has');
  });
});

test('as many laps as a source needs, beyond the eight that any has', () => {
  // 1 % a reading, 0.5 % a placement: 3.3 % of eight laps, 3.0 % of twelve
  const { size } = planned({
    ...meters({ noise: 0.01 }, { noise: 0.01 }),
    certificate: null,
    placement: 0.005,
    wanted: 0.0315,
    most_laps: 12,
  });
  expect(size).toEqual({ series: 1, laps: 12 });
});

describe('times', () => {
  const untold = /^When to read is not said/;
  test('a reading time, else five time constants rounded up, else none', () => {
    const first = (changed: Partial<StudyWishes>) => besides(changed)[0];
    expect(first({ slower_time_constant_s: 2 })).toMatch(/^Read 10 s after/);
    expect(first({ read_at_s: 4 })).toMatch(/^Read 4 s after/);
    expect(first({ read_at_s: 4, slower_time_constant_s: null })).toMatch(/^Read 4 s after/);
    expect(first({ slower_time_constant_s: null })).toMatch(untold);
    expect(besides({ slower_time_constant_s: null })).toHaveLength(1);
  });

  test.each([
    [10.9, 'A head may be lit for 10.9 s only'],
    [11, 'Each head is lit for 11 s'],
    [null, 'Each head is lit for 11 s'],
  ])('heads that may be lit for %s s', (on_time_s, text) => {
    expect(besides({ on_time_s })[0]).toContain(text);
  });

  test('runs of all laps, series and sources; minutes rounded up', () => {
    const two = [WISHES.sources[0]!, { ...WISHES.sources[0]!, name: 'other' }];
    expect(besides({ rest_s: 19.1 })[1]).toBe(
      '16 runs of 30.1 s take about 9 minutes, warming up and putting up heads aside.',
    );
    // Two sources of 3.4 %: two series of eight laps each
    const both = planned({ sources: two, wanted: 0.034, most_series: 2 });
    expect(both.size).toEqual({ series: 2, laps: 8 });
    expect(both.sentences).toContain(
      '64 runs of 30 s take about 32 minutes, warming up and putting up heads aside.',
    );
  });
});

describe('what to mind at a source', () => {
  test('its power against the ratings', () => {
    const rated = (reference: number | null, candidate: number | null) =>
      besides(meters({ rated_max_mW: reference }, { rated_max_mW: candidate })).slice(2);
    expect(rated(50, null)).toEqual([]);
    expect(rated(49.9, 49)).toEqual([
      'red: 50 mW is above the 50 mW that the reference is rated for. Do not measure it there.',
      'red: 50 mW is above the 49 mW that the candidate is rated for. Do not measure it there.',
    ]);
    expect(rated(null, 40)).toHaveLength(1);
  });

  test('its density: 50 mW on π·(0.05 cm)²', () => {
    expect(besides(source({ beam_diameter_mm: 1 })).slice(2)).toEqual([
      'red: 50 mW in 1 mm is 6.4 W/cm² on average, and twice that in the middle of a Gaussian beam: hold it against what the coating of each head stands.',
    ]);
    expect(besides(source({ power_mW: null, beam_diameter_mm: 1 })).slice(2)).toEqual([
      'red: its power is not said, so neither displays nor ratings were looked at.',
    ]);
  });

  // A step s takes a fifth of 7 % at 2·√2·s/√12/0.014 = 58.32·s mW.
  const steps = (reference: number | null, candidate: number | null, power_mW = 50) =>
    besides({
      ...meters({ resolution_mW: reference }, { resolution_mW: candidate }),
      ...source({ power_mW }),
      wanted: 0.5,
    }).filter((one) => one.startsWith('red: at ') || one.startsWith('red: if '));
  const three = /take a series each at about/;

  test('the coarser display decides from which power on', () => {
    const [said] = steps(0.001, 1);
    expect(said).toBe(
      'red: at 50 mW the display steps take up more than a fifth of the tolerance; from 58 mW on they do not.',
    );
    expect(steps(1, 0.001)).toEqual([said]);
    expect(steps(null, 1)).toEqual([said]);
    expect(steps(null, null)).toEqual([]);
  });

  test('three powers from six times the least on', () => {
    // 58.32 · 0.1 = 5.832 mW; six times that are 34.99 mW.
    expect(steps(0.1, null, 34.9)).toEqual([]);
    expect(steps(0.1, null, 35.1)).toEqual([
      // √(5.832 · 35.1) = 14.3
      'red: if its power can be turned down, take a series each at about 5.8 mW, 14 mW and 35 mW (at least 5 laps each): K may change with the power, and holds only about the powers that were measured.',
    ]);
    expect(steps(0.1, null, 6)).toEqual([]);
    expect(steps(0.1, null, 5.8)[0]).toContain('more than a fifth of the tolerance');
    expect(steps(0.1, null, 50)[0]).toMatch(three);
  });
});

describe('what cannot be planned', () => {
  test.each([
    [{ tolerance: 0 }, false],
    [{ tolerance: 0.001 }, true],
    [{ tolerance: 0.999 }, true],
    [{ tolerance: 1 }, false],
    [{ sources: [] }, false],
    [source({ wavelength_nm: 100 }), false],
    [{ source_noise: -0.1 }, false],
    [{ rest_s: -1 }, false],
    [{ rest_s: 0 }, true],
    [meters({ noise: -0.1 }, {}), false],
    [meters({}, { noise: -0.1 }), false],
    [{ order: 'AB' as 'ABBA' }, false],
    [{ title: 3 as unknown as string }, false],
    [{ confidence: '0.95' as unknown as number }, false],
    [{ wanted: null as unknown as number }, false],
    [{ slower_time_constant_s: 'a' as unknown as number }, false],
    [{ read_at_s: 'a' as unknown as number }, false],
    [{ on_time_s: 'a' as unknown as number }, false],
    [source({ power_mW: 'a' as unknown as number }), false],
    [source({ beam_diameter_mm: 'a' as unknown as number }), false],
    [source({ name: 3 as unknown as string }), false],
    [meters({ resolution_mW: 'a' }, {}), false],
    [meters({}, { rated_max_mW: 'a' }), false],
    [meters({ name: 3 }, {}), false],
    [
      { certificate: { expanded_uncertainty: 'a' as unknown as number, coverage_factor: 2 } },
      false,
    ],
    [
      { certificate: { expanded_uncertainty: 0.02, coverage_factor: 'a' as unknown as number } },
      false,
    ],
  ])('%j taken: %s', (changed, taken) => {
    const call = () => planned(changed as Partial<StudyWishes>);
    if (taken) expect(call().size).toEqual({ series: 1, laps: 8 });
    else expect(call).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
  });
});
