import { describe, expect, test } from 'vitest';
import { atOwnSetting, scaled } from '../../src/readings/settings.js';
import type { MeterRole, SettingResult, Study } from '../../src/vocabulary.js';
import { QUARTER_MORE } from '../fullRecords.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const plain = studyOf([{ id: 'a', nm: 520, laps: steady(100, 50, 2) }]);

/** The settings of a meter run by run; the other meter has none. */
function under(
  settings: readonly (number | null)[],
  meter: MeterRole = 'candidate',
  has: boolean | null = true,
): Study {
  const left = [...settings];
  return {
    ...plain,
    reference: { ...plain.reference, wavelength_setting: meter === 'reference' ? has : false },
    candidate: { ...plain.candidate, wavelength_setting: meter === 'candidate' ? has : false },
    series: plain.series.map((series) => ({
      ...series,
      runs: series.runs.map((run) => ({
        ...run,
        setting_nm: run.meter === meter ? (left.shift() ?? null) : null,
      })),
    })),
  };
}
/** Reading at 640 nm over that at 520 nm. */
const measured = QUARTER_MORE;
const candidate = (found: ReturnType<typeof atOwnSetting>) => ({
  state: found.states.get('a')?.candidate,
  readings: found.study.series[0].runs.flatMap((run) =>
    run.meter === 'candidate' ? [run.reading_mW] : [],
  ),
});
const status = (study: Study, ratios: readonly SettingResult[] = []) =>
  candidate(atOwnSetting(study, ratios)).state?.status;

describe('the status of a setting', () => {
  test('right to 5 nm, near to 10, wrong beyond', () => {
    expect(status(under([525, 515]))).toBe('right');
    expect(status(under([525.1, 520]))).toBe('near');
    expect(status(under([530, 510]))).toBe('near');
    expect(status(under([520, 530.1]))).toBe('wrong');
    expect(status(under([509.9, 520]))).toBe('wrong');
  });

  test('the worst run counts, whatever the order', () => {
    expect(status(under([540, 526]))).toBe('wrong');
    expect(status(under([526, 540]))).toBe('wrong');
    expect(status(under([640, 526]), [measured])).toBe('near');
  });

  test('not recorded only where no run has one; a meter without a setting is right', () => {
    expect(status(under([null, null]))).toBe('not-recorded');
    expect(status(under([null, 520]))).toBe('right');
    expect(status(under([null, null], 'candidate', false))).toBe('right');
    expect(status(under([640, 640], 'candidate', false))).toBe('right');
    // Where nobody says whether it has one, a setting that was written down counts.
    expect(status(under([640, 640], 'candidate', null))).toBe('wrong');
    expect(status(under([null, null], 'candidate', null))).toBe('not-recorded');
  });

  test('a meter without a run has nothing that was not recorded', () => {
    const study = under([520, 520]);
    const series = study.series.map((one) => ({
      ...one,
      runs: one.runs.filter((run) => run.meter === 'candidate'),
    }));
    const reference = { ...study.reference, wavelength_setting: true };
    const { states } = atOwnSetting({ ...study, reference, series }, []);
    expect(states.get('a')?.reference).toEqual({ status: 'right', effective_nm: [], ratio: null });
  });

  test('of each run, as it was set, is handed on', () => {
    expect(candidate(atOwnSetting(under([528, null]), [])).state).toEqual({
      status: 'near',
      effective_nm: [528, null],
      ratio: null,
    });
  });
});

describe('a measured ratio of 1.25', () => {
  test('from 640 to 520 nm: the reading divided by it', () => {
    const { study, states, warnings } = atOwnSetting(under([640, 520]), [measured]);
    const { readings, state } = candidate({ study, states, warnings });
    expect(readings).toEqual([40, 50]);
    expect(state).toEqual({
      status: 'brought',
      effective_nm: [520, 520],
      ratio: { standardUncertainty: 0.01, dof: 6 },
    });
    expect(warnings.map(({ code, series }) => [code, series])).toEqual([['setting-brought', 'a']]);
    expect(warnings[0].message).toContain(
      'the candidate was set to 640 nm in front of a source of 520 nm',
    );
  });

  test('is kept where the first run was at the right setting already', () => {
    expect(candidate(atOwnSetting(under([520, 640]), [measured])).state?.ratio).toEqual({
      standardUncertainty: 0.01,
      dof: 6,
    });
  });

  test('is taken from the series that has a number', () => {
    const none = { ...measured, series: 'too short', ratio: null };
    expect(candidate(atOwnSetting(under([640, 520]), [none, measured])).readings).toEqual([40, 50]);
  });

  test('told the other way round: multiplied by it', () => {
    const back = { ...measured, from_nm: 640, to_nm: 520 };
    expect(candidate(atOwnSetting(under([640, 520]), [back])).readings).toEqual([62.5, 50]);
  });

  test('is used as far as it fits: this meter, this source, this setting, with a number', () => {
    for (const other of [
      { ...measured, meter: 'reference' as const },
      { ...measured, wavelength_nm: 526 },
      { ...measured, to_nm: 650 },
      { ...measured, wavelength_nm: 514 },
      { ...measured, from_nm: 532 },
      { ...measured, from_nm: 526 },
      { ...measured, from_nm: 514 },
      { ...measured, from_nm: 450 },
      { ...measured, ratio: null },
    ]) {
      const found = candidate(atOwnSetting(under([640, 520]), [other]));
      expect([found.state?.status, found.readings]).toEqual(['wrong', [50, 50]]);
    }
    for (const near5 of [
      { wavelength_nm: 525 },
      { wavelength_nm: 515 },
      { from_nm: 525 },
      { from_nm: 515 },
    ]) {
      expect(status(under([640, 520]), [{ ...measured, ...near5 }])).toBe('brought');
    }
    // What it was brought to is the setting that was measured.
    expect(
      candidate(atOwnSetting(under([640, 520]), [{ ...measured, from_nm: 523 }])).state
        ?.effective_nm,
    ).toEqual([523, 520]);
  });

  test('without an uncertainty hands none on, and 1 degree of freedom where that is not told', () => {
    const of = (changes: Partial<SettingResult>) =>
      candidate(atOwnSetting(under([640, 520]), [{ ...measured, ...changes }])).state?.ratio;
    expect(of({ relative_standard_uncertainty: null })).toBeNull();
    expect(of({ dof: null })).toEqual({ standardUncertainty: 0.01, dof: 1 });
  });
});

describe('what the reader is told', () => {
  test('near and wrong settings, of the meter that has them; right ones not', () => {
    const [near_] = atOwnSetting(under([528, 520]), []).warnings;
    expect(near_.code).toBe('setting-wrong');
    expect(near_.message).toContain('is in no uncertainty');
    const [wrong] = atOwnSetting(under([640, 450], 'reference'), []).warnings;
    expect(wrong.message).toContain('the reference was set to 640 and 450 nm');
    expect(wrong.message).toContain('no factor of this wavelength can be relied on');
    expect(wrong).toMatchObject({ code: 'setting-wrong', series: 'a' });
    // Those within 5 nm are not named, nor one twice.
    const named = (...settings: readonly number[]) =>
      atOwnSetting(under(settings), [])
        .warnings.map(({ message }) => message)
        .join();
    expect(named(640, 525)).toContain('was set to 640 nm in front of a source of 520 nm.');
    expect(named(640, 640)).toContain('was set to 640 nm in');
    expect(named(510, 640)).toContain('was set to 510 and 640 nm in');
    expect(atOwnSetting(under([520, 521]), []).warnings).toEqual([]);
    expect(atOwnSetting(under([null, null]), []).warnings).toEqual([]);
  });

  test('settings are those of the meter in question', () => {
    const study = under([640, 640]);
    const series = study.series.map((one) => ({
      ...one,
      runs: one.runs.map((run) => (run.meter === 'reference' ? { ...run, setting_nm: 450 } : run)),
    }));
    const reference = { ...study.reference, wavelength_setting: true };
    expect(
      atOwnSetting({ ...study, reference, series }, []).warnings.map(({ message }) => message),
    ).toEqual([
      expect.stringContaining('the reference was set to 450 nm'),
      expect.stringContaining('the candidate was set to 640 nm'),
    ]);
  });

  test('a series that is there to measure settings is not blamed for them', () => {
    const study = under([640, 520]);
    const series = study.series.map((one) => ({ ...one, kind: 'setting' as const }));
    expect(atOwnSetting({ ...study, series }, []).warnings).toEqual([]);
  });
});

test('a run multiplied: reading and scale by one factor, the peak by its own', () => {
  const [run] = plain.series[0].runs;
  const found = scaled({ ...run, reading_mW: 10, peak_mW: 20, scale: 3 }, 2, 1);
  expect([found.reading_mW, found.peak_mW, found.scale]).toEqual([20, 20, 6]);
  const both = scaled({ ...run, reading_mW: 10, peak_mW: 20, scale: 3 }, 2);
  near(both.peak_mW, 40, 1e-12);
  expect(scaled({ ...run, peak_mW: null }, 2).peak_mW).toBeNull();
  expect(scaled(run, 1)).toBe(run);
  expect(scaled({ ...run, peak_mW: 20 }, 1, 2).peak_mW).toBe(40);
});

describe('a setting of a meter that has none by study.json', () => {
  const said = (settings: readonly (number | null)[], has: boolean | null) =>
    atOwnSetting(under(settings, 'candidate', has), []).warnings.filter(
      ({ code }) => code === 'setting-contradicted',
    );

  test('is said once, with every setting', () => {
    const [warning, ...more] = said([650, 520], false);
    expect(warning?.message).toMatch(/the candidate has no wavelength setting .* 650, 520 nm/);
    expect(more).toEqual([]);
  });

  test('contradicts nothing where it has one, where nobody says so, and where none is recorded', () => {
    expect(said([650, 520], true)).toEqual([]);
    expect(said([650, 520], null)).toEqual([]);
    expect(said([null, null], false)).toEqual([]);
  });
});
