import { describe, expect, test } from 'vitest';
import type { SettlingState } from '../../src/readings/settled.js';
import { combineSeries } from '../../src/series/combineSeries.js';
import { contributions, scatterOf } from '../../src/wavelengths/wavelengthBudget.js';
import { chapterOf } from '../analysed.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const STEPS = {
  reference: { resolution_mW: 0.1, expanded_uncertainty_percent: 4, coverage_factor: 2 },
  candidate: { resolution_mW: 1 },
};
const chapter = (powers: readonly number[], laps = 6, changes: object = STEPS) =>
  chapterOf(
    studyOf(
      powers.map((mW, i) => ({ id: `s${i}`, nm: 638, laps: steady(1.1 * mW, mW, laps) })),
      changes,
    ),
  );
const uOf = (found: ReturnType<typeof contributions>, name: string) =>
  found.inputs.find((one) => one.name === name)?.relative_standard_uncertainty;

describe('the scatter as lines of the budget', () => {
  const { members } = chapter([100, 100]);
  const estimates = members.map(({ estimate }) => ({ ...estimate, standardUncertainty: 0.004 }));
  const combined = combineSeries(estimates, { sd: 0.01, dof: 1e6, note: 'stated in the study' });

  test('two series of 0.4 % and a stated spread of 1 %: 0.4 %/√2 and 1 %/√2', () => {
    const [repeatability, between] = scatterOf(members, combined);
    expect(repeatability).toMatchObject({
      name: 'repeatability',
      kind: 'repeatability',
      type: 'A',
    });
    near(repeatability.relative_standard_uncertainty, 0.004 / Math.SQRT2, 1e-12);
    expect(between).toMatchObject({ kind: 'between-series', type: 'B', dof: 1e6 });
    near(between.relative_standard_uncertainty, 0.01 / Math.SQRT2, 1e-12);
  });

  test('no line of its own for a repeatability that the spread holds already', () => {
    const lines = scatterOf(members, { ...combined, repeatability: null });
    expect(lines.map(({ kind }) => kind)).toEqual(['between-series']);
  });
});

describe('displays', () => {
  const step = (found: ReturnType<typeof contributions>) =>
    uOf(found, "resolution of the candidate's display");

  test('one series that shows 100 mW in steps of 1: 1/√12 %', () => {
    const { members, input } = chapter([100]);
    near(step(contributions(638, members, [], input)), 0.01 / Math.sqrt(12), 1e-9);
    near(
      uOf(contributions(638, members, [], input), "resolution of the reference's display"),
      0.1 / 110 / Math.sqrt(12),
      1e-9,
    );
  });

  test('two series that show the same number are rounded alike; at 100 and 200 mW they are not', () => {
    const same = chapter([100, 100]);
    near(step(contributions(638, same.members, [], same.input)), 0.01 / Math.sqrt(12), 1e-9);
    const other = chapter([100, 200]);
    near(
      step(contributions(638, other.members, [], other.input)),
      Math.hypot(0.01, 0.005) / 2 / Math.sqrt(12),
      1e-9,
    );
  });

  test('a series of one lap keeps the whole step', () => {
    const { series, input } = chapter([100], 1);
    const estimate = { id: 's0', logFactor: 0.1, standardUncertainty: 0, dof: 1 };
    const found = contributions(638, [{ analysis: series[0], estimate }], [], input);
    near(step(found), 0.01 / Math.sqrt(12), 1e-12);
    expect(found.missing.map(({ kind }) => kind)).toContain('drift');
  });

  test('what was multiplied afterwards was shown as it was before', () => {
    const { members, input } = chapter([100]);
    const [{ analysis, estimate }] = members;
    const model = analysis.model && {
      ...analysis.model,
      runs: analysis.model.runs.map((run) => ({ ...run, scale: run.run === 2 ? 2 : 1 })),
    };
    // 100 mW at a scale of 2 were 50 on the display, the lowest of all; zero: half a step of 1 mW,
    // ÷ 50 ÷ √3
    const found = contributions(638, [{ analysis: { ...analysis, model }, estimate }], [], {
      ...input,
      readings: {
        ...input.readings,
        zeros: new Map([
          [
            's0',
            { reference: { recorded: 1, open_mW: 0 }, candidate: { recorded: 1, open_mW: 0 } },
          ],
        ]),
      },
    });
    near(uOf(found, 'zero of the candidate'), 0.5 / 50 / Math.sqrt(3), 1e-12);
  });

  test('a zero bears on the lowest of all indications, its gaps on those of each series', () => {
    const { members, input } = chapter([100, 50]);
    const open = { recorded: 0.5, open_mW: 0.3 };
    const all = { recorded: 1, open_mW: 0 };
    const found = contributions(638, members, [], {
      ...input,
      readings: {
        ...input.readings,
        zeros: new Map([
          ['s0', { reference: all, candidate: open }],
          ['s1', { reference: all, candidate: all }],
        ]),
      },
    });
    near(uOf(found, 'zero of the candidate'), 0.5 / 50 / Math.sqrt(3), 1e-12);
    // ± 0.3 mW of 100 in one of two series: mean 0.15 %, a rectangle
    near(uOf(found, 'zero of the candidate, where not recorded'), 0.0015 / Math.sqrt(3), 1e-12);
    near(uOf(found, 'zero of the reference'), 0.05 / 55 / Math.sqrt(3), 1e-9);
  });

  test('a step that is not known is lacking, for display and zero', () => {
    const { members, input } = chapter([100]);
    const found = contributions(638, members, [], {
      ...input,
      steps: { reference: 0.1, candidate: null },
    });
    expect(found.missing.map(({ text }) => text)).toEqual(
      expect.arrayContaining([
        'display step of the candidate: not stated',
        'zero of the candidate: the display step is not known',
      ]),
    );
  });
});

describe('all that a wavelength’s budget holds', () => {
  const changes = {
    reference: { ...STEPS.reference, linearity_percent: 1 },
    candidate: { ...STEPS.candidate, wavelength_setting: true },
  };
  const { members, input } = chapter([100, 100], 6, changes);
  const [first, second] = members;
  const scatter = scatterOf(
    members,
    combineSeries(
      members.map(({ estimate }) => estimate),
      { sd: 0.01, dof: 8, note: '' },
    ),
  );
  const right = { status: 'right', effective_nm: [638], ratio: null } as const;
  const wrong = { status: 'wrong', effective_nm: [520], ratio: null } as const;
  const found = contributions(638, members, scatter, {
    ...input,
    readings: {
      ...input.readings,
      settingStates: new Map([
        ['s0', { reference: right, candidate: right }],
        ['s1', { reference: right, candidate: wrong }],
      ]),
      settling: new Map(),
    },
  });

  test('stands in one order, from the scatter to the displays', () => {
    expect(found.inputs.map(({ name }) => name)).toEqual([
      'repeatability',
      'between series (placement, source)',
      'calibration of the reference',
      'linearity of the reference',
      "resolution of the reference's display",
      "resolution of the candidate's display",
    ]);
    expect(found.inputs.slice(0, 2)).toEqual(scatter);
    expect(found.missing.map(({ text }) => text)).toEqual([
      'drift of the reference since its calibration: not stated',
      expect.stringMatching(/^zero of the reference: never recorded; .* would be 0\.091 %$/),
      expect.stringMatching(/^zero of the candidate: never recorded; .* would be 1 %$/),
      expect.stringMatching(/^wavelength setting of the reference: .* was not measured \(/),
      expect.stringMatching(/^wavelength setting of the candidate: set to another wavelength/),
    ]);
  });

  test('lacks the drift as soon as one series is too short to show it', () => {
    const short = { ...second, analysis: { ...second.analysis, model: null } };
    const drifts = (of: typeof members) =>
      contributions(638, of, [], input).missing.filter(({ kind }) => kind === 'drift');
    expect(drifts([first, short])).toEqual([
      { kind: 'drift', text: expect.stringContaining('series of a lap or two cannot show it') },
    ]);
    expect(drifts(members)).toEqual([]);
  });
});

test('the calibration is U ÷ k', () => {
  const { members, input } = chapter([100]);
  near(uOf(contributions(638, members, [], input), 'calibration of the reference'), 0.02, 1e-12);
});

describe('settling, of several sources', () => {
  const study = studyOf(
    ['x', 'y', 'z'].map((source) => ({ id: source, nm: 638, source, laps: steady(110, 100) })),
    STEPS,
  );
  const { members, input } = chapterOf(study);
  const state = (
    lag: number | null,
    unsettled: number | null,
    missing: string[] = [],
  ): SettlingState => ({
    lag,
    unsettled,
    note: '',
    missing,
  });
  const found = (settling: ReadonlyMap<string, SettlingState>, of = members) =>
    contributions(638, of, [], { ...input, readings: { ...input.readings, settling } });

  test('takes the worst that is known, √(lag² + unsettled²), and one that is not', () => {
    const all = new Map([
      ['x', state(0.003, 0.004)],
      ['y', state(0.0045, null)],
      ['z', state(null, null, ['settling: not known'])],
    ]);
    const both = found(all);
    expect(uOf(both, 'lag of the sensors on a drooping source')).toBe(0.003);
    expect(uOf(both, 'settling of the sensors')).toBe(0.004);
    expect(both.missing.map(({ text }) => text)).toContain('settling: not known');
  });

  test.each([
    // √(lag² + unsettled²), whichever of the two is known, in any order of the sources
    [state(0.003, 0.004), state(null, 0.006), state(0.0055, null), [undefined, 0.006]],
    [state(null, 0.001), state(0.0055, null), state(0.003, 0.004), [0.0055, undefined]],
    [state(0.003, 0.004), state(null, 0.0049), state(0.0049, null), [0.003, 0.004]],
  ])('of three that are known: %#', (x, y, z, [lag, unsettled]) => {
    const both = found(
      new Map([
        ['x', x],
        ['y', y],
        ['z', z],
      ]),
    );
    expect(uOf(both, 'lag of the sensors on a drooping source')).toBe(lag);
    expect(uOf(both, 'settling of the sensors')).toBe(unsettled);
  });

  test('of two that are not known names one', () => {
    const unknown = (text: string) => state(null, null, [text]);
    const both = found(
      new Map([
        ['x', unknown('first')],
        ['y', unknown('second')],
        ['z', state(0, null, ['third'])],
      ]),
    );
    const texts = both.missing.filter(({ kind }) => kind === 'settling').map(({ text }) => text);
    expect(texts).toEqual(['third', 'first']);
    // A lag of 0 is known.
    expect(uOf(both, 'lag of the sensors on a drooping source')).toBe(0);
  });

  test('takes none of a source that is not at this wavelength', () => {
    const [x] = members;
    const only = found(
      new Map([
        ['y', state(0.1, 0.1)],
        ['x', state(0.001, null)],
      ]),
      [x],
    );
    expect(uOf(only, 'lag of the sensors on a drooping source')).toBe(0.001);
    expect(uOf(only, 'settling of the sensors')).toBeUndefined();
  });
});
