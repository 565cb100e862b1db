import { describe, expect, test } from 'vitest';
import type { SettingState } from '../../src/readings/settings.js';
import {
  neighbours,
  openSlips,
  shortSeries,
  wrongSettings,
} from '../../src/wavelengths/withheld.js';
import { analysed, chapterOf, suspectIn } from '../analysed.js';
import { studyOf } from '../seriesStudy.js';

const study = studyOf([{ id: 'a', nm: 638, laps: [[110, 100]] }]);
const { readings } = chapterOf(study);

test('an open slip withholds the wavelength of its series, and no other', () => {
  const found = openSlips(
    638,
    [analysed({ id: 'a' })],
    [suspectIn('a'), suspectIn('b', { row: 9 })],
  );
  expect(found).toHaveLength(1);
  expect(found[0]).toMatchObject({ wavelength_nm: 638, warning: null });
  expect(found[0].reason).toMatch(/^Row 4 of runs/);
  expect(openSlips(638, [analysed({ id: 'a' })], [suspectIn('b')])).toEqual([]);
});

describe('a wrong setting', () => {
  const state = (status: SettingState['status']): SettingState => ({
    status,
    effective_nm: [],
    ratio: null,
  });
  const of = (reference: SettingState['status'], candidate: SettingState['status']) =>
    wrongSettings(638, [analysed({ id: 'a' }), analysed({ id: 'b' })], {
      ...readings,
      settingStates: new Map([
        ['a', { reference: state(reference), candidate: state(candidate) }],
        ['b', { reference: state('right'), candidate: state('right') }],
      ]),
    });

  test('of either meter withholds, and its series is named', () => {
    for (const found of [of('wrong', 'right'), of('right', 'wrong')]) {
      expect(found).toHaveLength(1);
      expect(found[0].reason).toContain('"a"');
      expect(found[0].reason).not.toContain('"b"');
    }
  });

  test('that is near, brought or not recorded does not', () => {
    expect(of('near', 'brought')).toEqual([]);
    expect(of('right', 'not-recorded')).toEqual([]);
  });
});

test('a series whose settings nobody kept withholds nothing', () => {
  expect(wrongSettings(638, [analysed({ id: 'c' })], readings)).toEqual([]);
});

describe('short series beside longer ones', () => {
  const short = (...K: number[]) =>
    chapterOf(studyOf(K.map((k, i) => ({ id: `s${i}`, nm: 638, laps: [[100 * k, 100]] as const }))))
      .series;
  const estimate = { wavelength_nm: 638, logFactor: 0, standardUncertainty: 0.001, dof: 10 };

  test('are named with what they would give: the geometric mean of K', () => {
    // √(1.02 · 1.04) = 1.02995, within the 5 % of the study
    const [found] = shortSeries(estimate, short(1.02, 1.04), study);
    expect(found.reason).toBeNull();
    expect(found.warning?.code).toBe('short-series-left-out');
    expect(found.warning?.message).toContain('"s0", "s1"');
    expect(found.warning?.message).toContain('would give 1.03.');
    expect(shortSeries(estimate, [], study)).toEqual([]);
  });

  test('contradict beyond the tolerance, above or below', () => {
    for (const [k, off] of [
      [1.06, '6 %'],
      [1 / 1.06, '6 %'],
    ] as const) {
      const [found] = shortSeries(estimate, short(k), study);
      expect(found.warning?.message).toContain(`${off} from the others`);
      expect(found.reason).not.toBeNull();
      expect(found.warning?.code).toBe('short-series-contradict');
    }
    expect(shortSeries(estimate, short(1.049), study)[0].reason).toBeNull();
  });

  test('one or two beyond the tolerance contradict, however far they lie from each other', () => {
    // ln 1 and ln 1.2: mean 0.0912, 9.5 % off
    expect(shortSeries(estimate, short(1, 1.2), study)).toEqual([
      {
        wavelength_nm: 638,
        reason: 'The series that it leaves out contradict it.',
        warning: {
          code: 'short-series-contradict',
          message: expect.stringContaining('9.5 % from the others'),
        },
      },
    ]);
  });

  test('three that repeat exactly beside a factor without doubt contradict', () => {
    const sure = { ...estimate, standardUncertainty: 0 };
    expect(shortSeries(sure, short(1.1, 1.1, 1.1), study)[0].reason).not.toBeNull();
  });

  test('the mean of the laps of a series counts', () => {
    // ln: (ln 1.2 + ln 1)/2, K = √1.2 = 1.095
    const two = chapterOf(
      studyOf([
        {
          id: 'a',
          nm: 638,
          laps: [
            [120, 100],
            [100, 100],
          ],
        },
      ]),
    ).series;
    expect(shortSeries(estimate, two, study)[0].warning?.message).toContain('would give 1.095,');
  });

  test('three of them that scatter as widely as they differ do not', () => {
    // ln: mean of ln 1, ln 1.1, ln 1.1 = 0.0635; s/√3 = 0.0318; t = 2.0 with 2 dof: p = 0.18
    expect(shortSeries(estimate, short(1, 1.1, 1.1), study)[0].reason).toBeNull();
    // ln 1.09, ln 1.10, ln 1.11: mean 0.0953, s/√3 = 0.0053, t = 18: p = 0.003
    expect(shortSeries(estimate, short(1.09, 1.1, 1.11), study)[0].reason).not.toBeNull();
    // The factor's own u counts: 0.0953 ÷ √(0.0053² + 0.05²) = 1.9 with 2 dof: p = 0.2
    const unsure = { ...estimate, standardUncertainty: 0.05 };
    expect(shortSeries(unsure, short(1.09, 1.1, 1.11), study)[0].reason).toBeNull();
  });

  test('just at the edge: t = 4.303 is the 95 % point of 2 degrees of freedom (table of Student’s t)', () => {
    // ln K = g − s, g, g + s with s = g·√3/t: t = g ÷ (s/√3); here u = 0
    const g = Math.log(1.1);
    const at = (t: number) => {
      const s = (g * Math.sqrt(3)) / t;
      const sure = { ...estimate, standardUncertainty: 0 };
      return shortSeries(sure, short(Math.exp(g - s), Math.exp(g), Math.exp(g + s)), study)[0]
        .reason;
    };
    expect(at(4.2)).toBeNull();
    expect(at(4.4)).not.toBeNull();
  });
});

describe('neighbours', () => {
  const at = (wavelength_nm: number, K: number, u = 0.01) => ({
    wavelength_nm,
    logFactor: Math.log(K),
    standardUncertainty: u,
    dof: 1e6,
  });

  test('within 2 nm exclude each other beyond 1.96·√(u² + u²), and both are withheld, said once', () => {
    // 1.96 · 0.01 · √2 = 0.0277
    expect(neighbours([at(520, 1), at(522, Math.exp(0.0275))], study)).toEqual([]);
    const found = neighbours([at(522, 1.1), at(520, 1)], study);
    expect(found.map(({ wavelength_nm, warning }) => [wavelength_nm, warning?.code])).toEqual([
      [522, undefined],
      [520, 'neighbours-contradict'],
    ]);
    expect(found.map(({ reason }) => reason)).toEqual([
      'It and the factor at 520 nm contradict each other.',
      'It and the factor at 522 nm contradict each other.',
    ]);
    expect(found[1].warning?.message).toMatch(/at 520 and 522 nm differ by 10 %.* Find out what/);
  });

  test('that differ by less than the tolerance are said and not withheld', () => {
    const found = neighbours([at(520, 1), at(522, Math.exp(0.0279))], study);
    expect(found.map(({ reason }) => reason)).toEqual([null, null]);
    expect(found[0].warning?.code).toBe('neighbours-contradict');
  });

  test('each with its own u and degrees of freedom', () => {
    // t(2) at 95 % is 4.303, and 1.96 of the other: √((4.303·0.01)² + (1.96·0.02)²) = 0.0582
    const one = { ...at(520, 1), dof: 2 };
    expect(neighbours([one, at(521, Math.exp(0.058), 0.02)], study)).toEqual([]);
    expect(neighbours([one, at(521, Math.exp(0.0584), 0.02)], study)).toHaveLength(2);
    // At 80 %: t(2) = 1.886 and 1.2816: 0.0318
    const less = { ...study, confidence: 0.8 };
    expect(neighbours([one, at(521, Math.exp(0.0316), 0.02)], less)).toEqual([]);
    expect(neighbours([one, at(521, Math.exp(-0.032), 0.02)], less)).toHaveLength(2);
  });

  test('further apart may differ', () => {
    expect(neighbours([at(520, 1), at(522.1, 1.5)], study)).toEqual([]);
  });
});
