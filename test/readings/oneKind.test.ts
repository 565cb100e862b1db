import { describe, expect, test } from 'vitest';
import { oneKindOfReading } from '../../src/readings/oneKind.js';
import type { SettingResult } from '../../src/vocabulary.js';
import { readingsToFactors } from '../../src/wavelengths/readingsToFactors.js';
import { QUARTER_MORE } from '../fullRecords.js';
import { jointStudy, TAU, tracesOf } from '../joints/bench.js';
import { near } from '../near.js';

const certificate = {
  by_wavelength: [
    {
      wavelength_nm: 520,
      correction_factor: 1.02,
      expanded_uncertainty_percent: 2,
      coverage_factor: 2,
    },
  ],
};
const noRatios = (): readonly SettingResult[] => [];

describe('read at 10 s with 2 s and 5 s, certificate of 1.02', () => {
  const study = jointStudy({
    series: [{ laps: 3, peak: () => 1.5 }],
    study: { protocol: { read_at_s: 10 } },
    reference: { time_constant_s: 2, certificate },
    candidate: { time_constant_s: 5 },
  });
  const { study: found, kind, settling } = oneKindOfReading(study, noRatios);
  const missing = { reference: Math.exp(-5), candidate: Math.exp(-2) };
  const correction = { reference: 1.02, candidate: 1 };

  test('every reading is multiplied by the certificate and divided by what was there of it', () => {
    found.series[0].runs.forEach((run, i) => {
      const factor = correction[run.meter] / (1 - missing[run.meter]);
      near(run.reading_mW, study.series[0].runs[i].reading_mW * factor, 1e-9);
      near(run.scale, factor, 1e-12);
    });
    expect(found.series[0].runs).toHaveLength(6);
    expect(kind.kind).toBe('settled');
    expect([...settling.keys()]).toEqual(['laser']);
  });

  test('a peak is corrected by the certificate, and not brought to a settled one', () => {
    found.series[0].runs.forEach((run, i) => {
      near(run.peak_mW, (study.series[0].runs[i].peak_mW ?? 0) * correction[run.meter], 1e-9);
    });
  });

  test('series of one lap are brought there like all others', () => {
    // K of each lap: reference·1.02/(1 − e^−5) over candidate/(1 − e^−2)
    const short = jointStudy({
      series: [1, 2, 3].map((seed) => ({ laps: 1, noise: 0.001, seed })),
      study: { protocol: { read_at_s: 10 } },
      reference: { time_constant_s: 2, certificate },
      candidate: { time_constant_s: 5 },
    });
    const logs = short.series.map(({ runs }) => {
      const of = (meter: string) => runs.find((run) => run.meter === meter)?.reading_mW ?? 0;
      return Math.log(
        (of('reference') * 1.02 * (1 - missing.candidate)) /
          ((1 - missing.reference) * of('candidate')),
      );
    });
    const [one] = readingsToFactors(short, []).wavelengths.results;
    near(Math.log(one.factor ?? 0), (logs[0] + logs[1] + logs[2]) / 3, 1e-9);
  });
});

test('zero, certificate, setting and settling all find their way into the reading', () => {
  const study = jointStudy({
    series: [
      {
        laps: 2,
        zero_mW: { candidate: 0.5, reference: 0 },
        cells: (meter) => ({ setting_nm: meter === 'candidate' ? 640 : '' }),
      },
      {
        id: 'setting',
        only: 'candidate',
        cells: (_, run) => ({ setting_nm: run % 2 ? 640 : 520 }),
      },
    ],
    study: { protocol: { read_at_s: 10 } },
    reference: { time_constant_s: 2 },
    candidate: { time_constant_s: 5, wavelength_setting: true },
  });
  const asked: string[] = [];
  const found = oneKindOfReading(study, (series) => {
    asked.push(series.id);
    return [QUARTER_MORE];
  });
  // Only the series under two settings is asked for its ratio.
  expect(asked).toEqual(['setting']);
  expect(found.settings).toEqual([QUARTER_MORE]);
  found.study.series[0].runs.forEach((run, i) => {
    const before = study.series[0].runs[i].reading_mW;
    const factor =
      run.meter === 'candidate' ? 1 / 1.25 / (1 - Math.exp(-2)) : 1 / (1 - Math.exp(-5));
    near(run.reading_mW, before * factor, 1e-9);
  });
  expect(found.warnings.map(({ code }) => code)).toEqual(
    expect.arrayContaining(['setting-brought', 'read-too-early']),
  );
});

test('where one time constant is missing, readings stay and what the other lacks is handed on', () => {
  const study = jointStudy({
    series: [{ laps: 2 }],
    study: { protocol: { read_at_s: 10 } },
    candidate: { time_constant_s: 5 },
  });
  const found = oneKindOfReading(study, noRatios);
  expect(found.study.series).toEqual(study.series);
  expect(found.constants).toMatchObject({ reference: null, candidate: { value_s: 5 } });
});

describe('zeros, certificate and traces on their way', () => {
  /** 1 mW of zero in every candidate run but the third, and traces of both meters that hold it. */
  const study = jointStudy({
    series: [
      {
        laps: 4,
        zero_mW: { candidate: 1, reference: 0 },
        zeroWritten: (_, run) => run !== 3,
        cells: (_, run) => ({ exclude: run === 4 ? 'the lamp was lit' : '' }),
      },
    ],
    study: { protocol: { read_at_s: 20 }, record: { date: '2026-03-14' } },
    reference: { certificate: { ...certificate, valid_until: '2026-03-13' } },
    traces: [
      tracesOf({ runs: [[2, 'candidate']], read_at_s: 20, zero_mW: 1 }),
      // No time constant is known from a run left out.
      tracesOf({ runs: [[4, 'reference']], read_at_s: 20 })
        .split('\n')
        .slice(1)
        .join('\n'),
    ].join('\n'),
  });
  const found = oneKindOfReading(study, noRatios);
  const runs = (meter: string) => found.study.series[0].runs.filter((run) => run.meter === meter);

  test('the traces count less their zero, for the time constant and for the peak', () => {
    const shown = study.traces[0].reading_mW;
    near(runs('candidate')[0].peak_mW, Math.max(...shown) - 1, 1e-9);
    near(found.kind.candidate_time_constant_s, TAU.candidate, 0.3);
    // Only that of the candidate is known, so its readings lack what they lack.
    near(found.constants.candidate?.value_s, TAU.candidate, 0.3);
    expect(found.constants.reference).toBeNull();
    expect(found.settling.get('laser')?.missing).toEqual([
      expect.stringContaining('the time constant of the reference is not known'),
    ]);
  });

  test('the peak in a trace of the reference is corrected by its certificate, left out or not', () => {
    const out = runs('reference').find(({ run }) => run === 4);
    near(out?.peak_mW, 1.02 * Math.max(...study.traces[1].reading_mW), 1e-9);
  });

  test('a run without a zero gets that of the others', () => {
    const [, third] = runs('candidate');
    expect(third.run).toBe(3);
    near(third.reading_mW, study.series[0].runs[2].reading_mW - 1, 1e-9);
    expect(found.zeros.get('s1')?.candidate).toEqual({ recorded: 0.75, open_mW: 0.25 });
    expect(found.settingStates.get('s1')?.candidate.status).toBe('right');
  });

  test('warnings come in the order of the steps', () => {
    expect(found.warnings.map(({ code }) => code)).toEqual([
      'certificate-out-of-date',
      'zero-in-some-rows',
      'read-too-early',
      'lag-bounded',
    ]);
  });
});
