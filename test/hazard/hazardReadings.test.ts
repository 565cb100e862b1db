import { describe, expect, test } from 'vitest';
import { hazardFactor, hazardReadings as readingsWith } from '../../src/hazard/hazardReadings.js';
import { curveOfLevels } from '../../src/power/curveOfLevels.js';
import { factorAtPower } from '../../src/power/factorAtPower.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import type { Run, Series } from '../../src/vocabulary.js';
import { chapterOf } from '../analysed.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

type Chapter = ReturnType<typeof chapterOf>;
const hazardReadings = (of: Chapter, one: Series) =>
  readingsWith(of, one, hazardFactor(of, one.wavelength_nm));

const sureTo = (confidence: number) =>
  chapterOf(
    studyOf([{ id: 'a', nm: 638, laps: steady(110, 100) }], {
      reference: { resolution_mW: 0.1, expanded_uncertainty_percent: 4, coverage_factor: 2 },
      candidate: { resolution_mW: 1 },
      study: { confidence },
    }),
  );
const chapter = sureTo(0.95);
const [series] = chapter.study.series;
/** The series with its first runs, reference and candidate, changed. */
const changed = (run: Partial<Run>, more: Partial<Series> = {}): Series => ({
  ...series,
  ...more,
  runs: series.runs.map((one) => ({ ...one, ...run })),
});
const [reference, candidate] = hazardReadings(chapter, series);

test('every run counts, those left out too, and each says where it stands', () => {
  expect(hazardReadings(chapter, series)).toHaveLength(12);
  expect([reference.meter, candidate.meter]).toEqual(['reference', 'candidate']);
  expect(candidate.place).toBe('series "a", run 2');
  const out = { run: 2, meter: 'candidate', kind: 'declared', reason: 'tried' } as const;
  const without = {
    ...chapter,
    series: chapter.series.map((one) => ({ ...one, result: { ...one.result, excluded: [out] } })),
  };
  expect(hazardReadings(without, series).map(({ excluded }) => excluded)).toEqual(
    Array.from({ length: 12 }, (_, i) => i === 1),
  );
});

test('plain readings are as shown, with the step of their own display', () => {
  expect(reference).toMatchObject({
    highest_mW: 110,
    // Half a step of 0.1 mW may stand behind what the display shows.
    shown_mW: 110.05,
    step_mW: 0.1,
    peak: 'none',
    factor: null,
    unbounded: null,
    transmission: { value: 1, standardUncertainty: 0 },
  });
  expect([candidate.highest_mW, candidate.step_mW]).toEqual([100, 1]);
});

describe('what the reading was multiplied by', () => {
  test('is taken off what was shown, and multiplies the step', () => {
    // 100 mW at a scale of 1.25 were 80 on the display; its step of 1 mW is worth 1.25
    const [, one] = hazardReadings(chapter, changed({ scale: 1.25 }));
    near(one.shown_mW, one.highest_mW / 1.25 + 0.5, 1e-12);
    near(one.step_mW, 1.25, 1e-12);
  });

  const exactly = (value_s: number) => ({ value_s, standard_uncertainty_s: 0, dof: 1e6 });
  const readAt = (read_at_s: number | null, more: Partial<Chapter['readings']>): Chapter => ({
    ...chapter,
    readings: { ...chapter.readings, kind: { ...chapter.readings.kind, read_at_s }, ...more },
  });
  const settled = (read_at_s: number | null) =>
    ({ kind: { ...chapter.readings.kind, kind: 'settled', read_at_s } }) as const;

  test('a reading that lacks a fifth of the settled one stands for 1.25 times as much', () => {
    // e^(−10/τ) = 0.2
    const constants = { reference: null, candidate: exactly(10 / Math.log(5)) };
    const [r, c] = hazardReadings(readAt(10, { constants }), series);
    near(r.highest_mW, 110, 1e-12);
    near(c.highest_mW, 125, 1e-12);
    near(c.most_mW, 125, 1e-12);
    near(c.step_mW, 1.25, 1e-12);
    expect(hazardReadings(readAt(10, { constants, ...settled(10) }), series)[1].most_mW).toBe(100);
  });

  test('what shows less than a hundredth of the power is not multiplied up', () => {
    const constants = { reference: null, candidate: exactly(1e6) };
    const [, c] = hazardReadings(readAt(10, { constants }), series);
    expect([c.highest_mW, c.most_mW]).toEqual([100, 100]);
  });

  test('a time constant counts at its upper end, k·u above it, also where readings were brought', () => {
    // τ = 5 s, u = 1 s of many readings: k = 2. Read at 10 s: e^−2 is missing, and up to e^(−10/7).
    const constants = {
      reference: { value_s: 5, standard_uncertainty_s: 1, dof: 1e6 },
      candidate: exactly(5),
    };
    const most = (1 - Math.exp(-2)) / (1 - Math.exp(-10 / 7));
    const [r, c] = hazardReadings(readAt(10, { constants, ...settled(10) }), series);
    near(r.highest_mW, 110, 1e-12);
    near(r.most_mW, 110 * most, 1e-9);
    // What the reference lacks is in the factor of the candidate.
    near(c.most_mW, 100 * most, 1e-9);
    const [alone] = hazardReadings(
      readAt(10, { constants: { ...constants, candidate: null } }),
      series,
    );
    near(alone.highest_mW, 110 / (1 - Math.exp(-2)), 1e-9);
    near(alone.most_mW, 110 / (1 - Math.exp(-10 / 7)), 1e-9);
  });

  test('of two traces alone the upper end lies 12.7 standard uncertainties above the mean', () => {
    const constants = {
      reference: { value_s: 5, standard_uncertainty_s: 1, dof: 1 },
      candidate: exactly(5),
    };
    const [r] = hazardReadings(readAt(10, { constants, ...settled(10) }), series);
    // Student's t for 95 % at one degree of freedom: 12.706
    const least = 1 - Math.exp(-10 / (5 + 12.7062));
    near(r.most_mW, (110 * (1 - Math.exp(-2))) / least, 1e-3);
  });

  test('without a reading time, what the traces of a meter tell raises its readings, up to k·u', () => {
    const traced = {
      reference: { value: 0.5, standardUncertainty: 0.1, dof: 1e6 },
      candidate: null,
    };
    const bySource = new Map([[series.source, traced]]);
    const [r] = hazardReadings(readAt(null, { traced: bySource }), series);
    near(r.highest_mW, 220, 1e-9);
    near(r.most_mW, 220 * Math.exp(0.2), 1e-6);
    const [brought] = hazardReadings(readAt(null, { traced: bySource, ...settled(null) }), series);
    near(brought.highest_mW, 110, 1e-9);
    near(brought.most_mW, 110 * Math.exp(0.2), 1e-6);
  });

  test('a peak counts as seen, whatever the reading may lack', () => {
    const constants = { reference: exactly(10 / Math.log(5)), candidate: null };
    const [r] = hazardReadings(readAt(10, { constants }), changed({ peak_mW: 150 }));
    expect([r.highest_mW, r.most_mW]).toEqual([150, 150]);
  });

  test('a meter whose trace still rose at its end has no bound, and neither has a factor by it', () => {
    const open = { reference: 'its trace still rose.', candidate: null };
    for (const one of hazardReadings(readAt(10, { open }), series).slice(0, 2)) {
      expect(one.unbounded).toBe('its trace still rose.');
    }
    const other = { reference: null, candidate: 'its trace still rose.' };
    const [r, c] = hazardReadings(readAt(10, { open: other }), series);
    expect([r.unbounded, c.unbounded]).toEqual([null, 'its trace still rose.']);
  });
});

describe('a peak', () => {
  test('above the reading is the highest, and was shown', () => {
    const [, one] = hazardReadings(chapter, changed({ peak_mW: 130 }));
    expect([one.highest_mW, one.shown_mW, one.peak]).toEqual([130, 130.5, 'highest']);
  });

  test('below it is recorded, and no matter', () => {
    const [, one] = hazardReadings(chapter, changed({ peak_mW: 90 }));
    expect([one.highest_mW, one.shown_mW, one.peak]).toEqual([100, 100.5, 'recorded']);
  });
});

describe('the factor of a candidate reading', () => {
  test('is that of the wavelength, up to k·u with k at least 2', () => {
    // K = 1.1; u = √(2² + 1²) %: the reference’s 4 % at k = 2 and the usual placement
    const u = Math.hypot(0.02, 0.01);
    near(candidate.factor?.value, 1.1, 1e-6);
    expect(candidate.factor?.high).toBeGreaterThanOrEqual(1.1 * Math.exp(2 * u) * (1 - 1e-4));
    near(candidate.factor?.high, 1.1 * Math.exp(2 * u), 2e-3);
  });

  test('reaches further at a higher confidence, and no less far at a lower one', () => {
    const high = (confidence: number) =>
      hazardReadings(sureTo(confidence), series)[1].factor?.high as number;
    // The normal distribution's k at 99.9 % is 3.29.
    expect(high(0.999)).toBeGreaterThan(1.1 * Math.exp(3.29 * Math.hypot(0.02, 0.01)));
    expect(high(0.6)).toBeGreaterThanOrEqual(high(0.95) * (1 - 1e-3));
  });

  test('of a display at or below zero is that of the lowest level, by its interval at least', () => {
    const [, one] = hazardReadings(chapter, changed({ reading_mW: 0 }));
    const [level] = chapter.wavelengths.results[0].levels;
    near(one.factor?.value, level.factor, 1e-12);
    // Student’s t at 200 degrees of freedom is 1.97, so k = 2: above the interval’s own end
    near(
      one.factor?.high,
      Math.max(level.high, level.factor * Math.exp(2 * level.relative_standard_uncertainty)),
      1e-9,
    );
  });

  test('is none where the wavelength has none', () => {
    expect(hazardReadings(chapter, { ...series, wavelength_nm: 450 })[1].factor).toBeNull();
    const [at] = chapter.wavelengths.results;
    const wavelengths = { ...chapter.wavelengths, results: [{ ...at, levels: [] }] };
    expect(hazardReadings({ ...chapter, wavelengths }, series)[1].factor).toBeNull();
  });
});

describe('two levels that were drawn together', () => {
  const two = chapterOf(
    studyOf([
      { id: 'low', nm: 638, laps: steady(10, 10) },
      { id: 'high', nm: 638, laps: steady(102, 100) },
    ]),
  );
  const [low, high] = two.wavelengths.results[0].levels;
  const of = (id: string) => {
    const found = two.study.series.find((one) => one.id === id);
    return found === undefined
      ? undefined
      : hazardReadings(two, found).find((r) => r.meter === 'candidate');
  };

  test('count with whichever is more, the level as drawn or by its own series', () => {
    // K = 1 and 1.02 alone, 1 % each: drawn together they lie closer, and are surer.
    expect(low.factor).toBeGreaterThan(low.own.factor);
    expect(high.factor).toBeLessThan(high.own.factor);
    const alone = (level: typeof low) =>
      level.own.factor *
      Math.exp(Math.max(2, level.own.coverage_factor) * level.own.relative_standard_uncertainty);
    for (const [id, level] of [
      ['low', low],
      ['high', high],
    ] as const) {
      const found = of(id)?.factor;
      near(found?.value, level.factor, 1e-6);
      expect(found?.high).toBeGreaterThanOrEqual(alone(level) * (1 - 5e-3));
      expect(found?.high).toBeGreaterThanOrEqual(level.high * (1 - 1e-9));
    }
    expect(of('high')?.factor?.high).toBeGreaterThan(high.high);
  });
});

test('K of a run is that of its peak, where that is the highest', () => {
  const two = chapterOf(
    studyOf([
      { id: 'low', nm: 638, laps: steady(10, 10) },
      { id: 'high', nm: 638, laps: steady(130, 100) },
    ]),
  );
  const series = two.study.series.find((one) => one.id === 'low') ?? two.study.series[0];
  const runs = series.runs.map((run) => ({ ...run, peak_mW: 100 }));
  const [, found] = hazardReadings(two, { ...series, runs });
  expect([found.meter, found.highest_mW]).toEqual(['candidate', 100]);
  // K = 1 at the reading of 10 mW, and 1.3 at the peak of 100
  near(found.factor?.value, two.wavelengths.results[0].levels[1].factor, 1e-6);
});

test('between two levels what is open there is added to k·u, not joined in quadrature', () => {
  const two = chapterOf(
    studyOf([
      { id: 'low', nm: 638, laps: steady(10, 10) },
      { id: 'high', nm: 638, laps: steady(130, 100) },
    ]),
  );
  const [{ levels, by_power }] = two.wavelengths.results;
  // Neighbours as if off together, as drawn and by their own series: whichever reaches further.
  const ends = [levels, levels.map((level) => ({ ...level, ...level.own }))].map((list) => {
    const together = list.map((level) => ({ ...level, placement_correlation_with_next: 1 }));
    const curve = curveOfLevels({ levels: together, offset_mW: by_power.offset_mW }, 0.95);
    const at = factorAtPower(curve, 30);
    const k = Math.max(2, coverageFactor(0.95, at?.dof ?? 1));
    const open = (at?.between ?? 0) + (at?.outside ?? 0);
    expect(open).toBeGreaterThan(0.01);
    return (at?.logFactor ?? 0) + k * (at?.standardUncertainty ?? 0) + open;
  });
  const series = two.study.series[0];
  const runs = series.runs.map((run) => ({ ...run, reading_mW: 30 }));
  const found = hazardReadings(two, { ...series, runs }).find((one) => one.meter === 'candidate');
  near(found?.factor?.high, Math.exp(Math.max(...ends)), 1e-9);
});

describe('nothing bounds the power', () => {
  test('behind a filter that nobody stated, at either meter', () => {
    for (const one of hazardReadings(chapter, changed({}, { filter: 'grey' })).slice(0, 2)) {
      expect(one.unbounded).toMatch(/^what the filter "grey" lets through at 638 nm is not stated/);
    }
  });

  test('of the meter that stood at a wrong setting', () => {
    const state = (status: 'right' | 'wrong') => ({ status, effective_nm: [], ratio: null });
    const wrong = {
      ...chapter,
      readings: {
        ...chapter.readings,
        settingStates: new Map([['a', { reference: state('right'), candidate: state('wrong') }]]),
      },
    };
    const [r, c] = hazardReadings(wrong, series);
    expect(r.unbounded).toBeNull();
    expect(c.unbounded).toContain('the candidate was set to a wrong wavelength');
  });

  test('but behind a filter that is stated, with its uncertainty', () => {
    const filters = [
      {
        name: 'grey',
        transmissions: [{ wavelength_nm: 638, transmission: 0.5, standard_uncertainty: 0.02 }],
      },
    ];
    const study = { ...chapter.study, filters };
    const [one] = hazardReadings({ ...chapter, study }, changed({}, { filter: 'grey' }));
    expect([one.unbounded, one.transmission]).toEqual([
      null,
      { value: 0.5, standardUncertainty: 0.02 },
    ]);
  });
});
