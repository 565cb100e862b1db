import { describe, expect, test } from 'vitest';
import {
  calibrated,
  calibrationAt,
  meterAt,
  statedRelative,
  yearsSince,
} from '../../src/readings/certificate.js';
import type { Certificate, Meter } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const [at500, at600] = [
  {
    wavelength_nm: 500,
    correction_factor: 1.02,
    expanded_uncertainty_percent: 3,
    coverage_factor: 2,
  },
  {
    wavelength_nm: 600,
    correction_factor: 1.1,
    expanded_uncertainty_percent: 4,
    coverage_factor: 4,
  },
];
const certificate = (changes: Partial<Certificate> = {}): Certificate => ({
  number: null,
  laboratory: null,
  issued: null,
  valid_until: null,
  by_wavelength: [at500, at600],
  ...changes,
});
const study = studyOf(
  [
    { id: 'a', nm: 500, laps: steady(110, 100, 2) },
    { id: 'b', nm: 900, laps: steady(110, 100, 2) },
  ],
  { reference: { expanded_uncertainty_percent: 5, coverage_factor: 2 } },
);
const meter: Meter = { ...study.reference, certificate: certificate() };

describe('what a certificate says', () => {
  test('at one of its wavelengths, and 2 nm beside it: the entry', () => {
    for (const nm of [500, 502, 498]) {
      expect(calibrationAt(meter, nm)).toEqual({
        correction: 1.02,
        expanded_uncertainty_percent: 3,
        coverage_factor: 2,
        between: 0,
        silent: false,
      });
    }
  });

  test('no further: 2.1 nm beside it the entry counts no longer', () => {
    // Below the first the certificate is silent; above it the line to the next has begun.
    expect(calibrationAt(meter, 497.9)).toMatchObject({ correction: 1, silent: true });
    const found = calibrationAt(meter, 502.1);
    near(found.correction, 1.02 + 0.08 * 0.021, 1e-12);
    expect(found.between).toBeGreaterThan(0);
  });

  test('of three the two beside it', () => {
    const by_wavelength = [at500, at600, { ...at600, wavelength_nm: 700, correction_factor: 1.3 }];
    const three = { ...meter, certificate: certificate({ by_wavelength }) };
    near(calibrationAt(three, 550).correction, 1.06, 1e-12);
    near(calibrationAt(three, 650).correction, 1.2, 1e-12);
    near(calibrationAt(three, 650).between, (1.3 / 1.1 - 1) / 2, 1e-12);
  });

  test.each([
    // U, k of the lower and of the upper entry, and what counts between them
    [
      [3, 2],
      [6, 4],
      [3, 2],
    ],
    [
      [3, 2],
      [6.1, 4],
      [6.1, 4],
    ],
    [
      [3, 2],
      [null, 4],
      [3, 2],
    ],
    [
      [null, 2],
      [3, 4],
      [3, 4],
    ],
    [
      [null, 2],
      [null, 4],
      [null, 2],
    ],
  ] as const)('of %j and %j it is %j', (lower, upper, expected) => {
    const by_wavelength = [
      { ...at500, expanded_uncertainty_percent: lower[0], coverage_factor: lower[1] },
      { ...at600, expanded_uncertainty_percent: upper[0], coverage_factor: upper[1] },
    ] as unknown as Certificate['by_wavelength'];
    const found = calibrationAt({ ...meter, certificate: certificate({ by_wavelength }) }, 550);
    expect([found.expanded_uncertainty_percent, found.coverage_factor]).toEqual(expected);
  });

  test('near two entries: the nearer', () => {
    const by_wavelength = [at500, { ...at600, wavelength_nm: 503 }];
    const close = { ...meter, certificate: certificate({ by_wavelength }) };
    expect(calibrationAt(close, 501).correction).toBe(1.02);
    expect(calibrationAt(close, 502).correction).toBe(1.1);
  });

  test('between two: a straight line, the larger u = U/k, and half of what they differ by', () => {
    // A quarter of the way: 1.02 + 0.08/4; u: 3 %/2 against 4 %/4; (1.10/1.02 − 1)/2
    const found = calibrationAt(meter, 525);
    near(found.correction, 1.04, 1e-12);
    expect([found.expanded_uncertainty_percent, found.coverage_factor]).toEqual([3, 2]);
    near(found.between, (1.1 / 1.02 - 1) / 2, 1e-12);
    expect(found.silent).toBe(false);
    // A fall counts like a rise.
    const by_wavelength = [
      { ...at500, correction_factor: 1.1, coverage_factor: 8 },
      { ...at600, correction_factor: 1.02 },
    ];
    const falling = calibrationAt({ ...meter, certificate: certificate({ by_wavelength }) }, 525);
    near(falling.between, (1 - 1.02 / 1.1) / 2, 1e-12);
    near(falling.correction, 1.08, 1e-12);
    expect(falling.coverage_factor).toBe(4);
  });

  test('outside of them: nothing; what is stated of the meter counts', () => {
    for (const nm of [490, 603]) {
      expect(calibrationAt(meter, nm)).toEqual({
        correction: 1,
        expanded_uncertainty_percent: 5,
        coverage_factor: 2,
        between: 0,
        silent: true,
      });
    }
    // One that states no wavelength has nothing to be silent of.
    for (const one of [null, certificate({ by_wavelength: [] })]) {
      expect(calibrationAt({ ...meter, certificate: one }, 500)).toEqual({
        correction: 1,
        expanded_uncertainty_percent: 5,
        coverage_factor: 2,
        between: 0,
        silent: false,
      });
    }
  });

  test('makes a meter of its own at each wavelength', () => {
    expect(meterAt(meter, 600)).toEqual({
      ...meter,
      expanded_uncertainty_percent: 4,
      coverage_factor: 4,
    });
  });
});

test('u is U ÷ k as a fraction, and none where none is stated', () => {
  near(statedRelative({ expanded_uncertainty_percent: 3, coverage_factor: 2 }), 0.015, 1e-15);
  expect(statedRelative({ expanded_uncertainty_percent: null, coverage_factor: 2 })).toBeNull();
});

describe('readings corrected by the certificate', () => {
  const trace = (series: string, role: 'reference' | 'candidate') => ({
    series,
    run: 1,
    meter: role,
    elapsed_s: [0, 1],
    reading_mW: [0, 100],
  });
  const peaked = {
    ...study,
    reference: meter,
    series: study.series.map((one) => ({
      ...one,
      runs: one.runs.map((run, i) => ({ ...run, peak_mW: i < 2 ? 120 : null, scale: 2 })),
    })),
    traces: [
      trace('a', 'reference'),
      trace('a', 'candidate'),
      trace('b', 'reference'),
      trace('elsewhere', 'reference'),
    ],
  };
  const found = calibrated(peaked);

  test('those of the reference times its correction, peak and scale with them', () => {
    const [reference, candidate] = found.series[0].runs;
    near(reference.reading_mW, 110 * 1.02, 1e-12);
    near(reference.peak_mW, 120 * 1.02, 1e-12);
    near(reference.scale, 2.04, 1e-12);
    expect(candidate).toBe(peaked.series[0].runs[1]);
    expect(
      found.series[0].runs.find((run) => run.meter === 'reference' && run.run > 2)?.peak_mW,
    ).toBeNull();
    expect(found.series[1].runs[0].reading_mW).toBe(110);
  });

  test('traces likewise, each by the wavelength of its series', () => {
    expect(found.traces.map(({ reading_mW }) => reading_mW[1])).toEqual([102, 100, 100, 100]);
  });

  test('without a correction the study stays as it is', () => {
    expect(calibrated(study)).toEqual(study);
  });
});

test('years since the certificate: from its day to that of the study, never below 0', () => {
  const issued = certificate({ issued: '2024-01-31' });
  // 731 days
  near(yearsSince(issued, { date: '2026-01-31' }), 731 / 365.25, 1e-12);
  expect(yearsSince(issued, { date: '2023-01-31' })).toBe(0);
  expect(yearsSince(issued, { date: null })).toBeNull();
  expect(yearsSince(certificate(), { date: '2026-01-31' })).toBeNull();
  expect(yearsSince(null, { date: '2026-01-31' })).toBeNull();
});
