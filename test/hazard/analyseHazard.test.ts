import { describe, expect, test } from 'vitest';
import { analyseHazard } from '../../src/hazard/analyseHazard.js';
import type { Source } from '../../src/vocabulary.js';
import { chapterOf } from '../analysed.js';
import { certificateAt } from '../fullRecords.js';
import { near } from '../near.js';
import { type PlannedSeries, type StudyChanges, steady, studyOf } from '../seriesStudy.js';

const REFERENCE = { expanded_uncertainty_percent: 4, coverage_factor: 2 };

/** One source called "pen", run at the wavelengths of its series. */
function pen(
  series: readonly PlannedSeries[],
  source: Partial<Source> = {},
  changes: StudyChanges = {},
) {
  const study = studyOf(series, { reference: REFERENCE, ...changes });
  const [first] = study.sources;
  return chapterOf({
    ...study,
    sources: [
      { ...first, name: 'pen', emission: 'continuous', ...source, wavelength_nm: series[0].nm },
    ],
    series: study.series.map((one) => ({ ...one, source: 'pen' })),
  });
}
/** Both meters alike: the power, six laps, at a wavelength. */
const at = (nm: number, mW: number): PlannedSeries => ({ id: `s${nm}`, nm, laps: steady(mW, mW) });

describe('a source run at two wavelengths', () => {
  // Visible light: class 2 up to 1 mW, 3R up to 5 mW, 3B up to 500 mW (IEC 60825-1).
  test.each([
    ['the first', [at(450, 100), at(638, 0.7)], 450, 638],
    ['the last', [at(450, 0.7), at(638, 100)], 638, 450],
  ] as const)('the most hazardous counts: %s', (_, series, worst, other) => {
    const { results } = analyseHazard(pen(series));
    expect(results).toHaveLength(1);
    expect([results[0].wavelength_nm, results[0].class]).toEqual([worst, '3B']);
    near(results[0].highest_mW, 100, 1e-9);
    expect(results[0].why).toMatch(/^Run at 450 and 638 nm; the most hazardous counts/);
    expect(results[0].why).toContain(`(at ${other} nm class 2)`);
  });

  test('of one class: the one whose reading alone is in it comes first', () => {
    // 4.95 mW of red are 3R, and with U = 4 % may be 3B. 4 mW at 808 nm are beyond 3R, which ends
    // there at 5 · 0.39 · 10^(0.002 · 108) = 3.2 mW: 3B, although they leave less open.
    const { results } = analyseHazard(pen([at(638, 4.95), at(808, 4)]));
    expect([results[0].wavelength_nm, results[0].class, results[0].reading_class]).toEqual([
      808,
      '3B',
      '3B',
    ]);
  });

  test('of one class and one reading: the one that leaves more open', () => {
    for (const [a, b, worst] of [
      [100, 90, 450],
      [90, 100, 638],
    ] as const) {
      expect(analyseHazard(pen([at(450, a), at(638, b)])).results[0].wavelength_nm).toBe(worst);
    }
  });

  test('is decided when it is at each of them', () => {
    expect(analyseHazard(pen([at(450, 100), at(638, 50)])).results[0].decided).toBe(true);
    // 4.95 mW may be 3R or 3B
    expect(analyseHazard(pen([at(450, 100), at(638, 4.95)])).results[0].decided).toBe(false);
  });

  test('its label understates it if it does at one of them, and does not if at none', () => {
    const label = (series: readonly PlannedSeries[], label_class: string) =>
      analyseHazard(pen(series, { label_class })).results[0].label_understates;
    const both = [at(450, 100), at(638, 0.2)] as const;
    expect(label(both, '2')).toBe(true);
    expect(label(both, '3B')).toBe(false);
    // At 800 nm without a class that can be compared nothing is known, and none is shown to be safe.
    expect(label(both, 'none')).toBeNull();
  });

  test('its label is upheld only where it is at each of them: a doubled green leaves it open', () => {
    // 4.5 mW of red are the more hazardous, and class 3R as labelled. In 4 mW at 532 nm there may be
    // infrared, of which nobody knows.
    const [one] = analyseHazard(pen([at(638, 4.5), at(532, 4)], { label_class: '3R' })).results;
    expect([one.wavelength_nm, one.class, one.label_understates]).toEqual([638, '3R', null]);
    const [red] = analyseHazard(pen([at(638, 4.5)], { label_class: '3R' })).results;
    expect(red.label_understates).toBe(false);
  });

  test('they are named in ascending order, whatever the order of the series', () => {
    const [one] = analyseHazard(pen([at(638, 100), at(450, 50)])).results;
    expect(one.why).toMatch(/^Run at 450 and 638 nm/);
  });

  test('its maximum is held against each of them, whichever is judged first', () => {
    // Class 3B both: 100 mW exceed 60 mW, 50 mW do not; the first of the two is no matter.
    const of = (a: number, b: number) =>
      analyseHazard(pen([at(450, a), at(638, b)], { label_class: '3B', label_max_mW: 60 }))
        .results[0].label_understates;
    expect(of(100, 50)).toBe(true);
    expect(of(50, 100)).toBe(true);
    expect(of(50, 40)).toBe(false);
  });
});

describe('an entry that looks like a slip', () => {
  const typed = pen([at(638, 0.2)]);
  const mended = pen([at(638, 200)]);

  test('put right counts where it is the more hazardous, and decides nothing', () => {
    const [one] = analyseHazard(typed, [mended]).results;
    expect([one.class, one.decided]).toEqual(['3B', false]);
    expect(one.why).toMatch(/^Judged with an entry that looks like a slip of the pen put right/);
  });

  test('as typed counts where that is more hazardous', () => {
    const [one] = analyseHazard(mended, [typed]).results;
    expect([one.class, one.decided]).toEqual(['3B', true]);
    expect(one).toEqual(analyseHazard(mended).results[0]);
  });
});

describe('a source about a thousandth as strong as its label says', () => {
  const of = (mW: number, label_max_mW: number | null, label_class = '3B') => {
    const { results, warnings } = analyseHazard(pen([at(638, mW)], { label_class, label_max_mW }));
    return { hazard: results[0], asked: warnings.filter(({ code }) => code === 'hazard-unit') };
  };

  test('is asked for its unit, and judged as in W, where the milliwatts would pass', () => {
    const { hazard, asked } = of(0.046, 60);
    expect(asked.map(({ message }) => message)).toEqual([
      'pen: all that was read of it is about a thousandth of the 60 mW of its label. Were the readings in W? Name the unit in the headings of runs.csv; if they were in mW, the source, its label or the aim of the beam is another.',
    ]);
    expect(hazard).toMatchObject({ class: '3B', decided: false });
    near(hazard.highest_mW, 46, 1e-9);
    expect(hazard.why).toMatch(/^Judged as if readings were in W, which is more hazardous\. /);
    expect(hazard.why).toContain('Were the readings in W?');
  });

  test('whose label does not hold in W is not upheld, and shown wrong where they exceed it', () => {
    expect(of(0.046, 60).hazard.label_understates).toBe(false);
    expect(of(0.15, 60).hazard.label_understates).toBe(true);
  });

  test('from 300 to 3000 times below, by its upper bound, and only with a label', () => {
    // 0.1 mW: (0.1 + 0.001) times the upper end of K, about 1.046
    const upper = of(0.1, null).hazard.upper_mW as number;
    expect(of(0.1, null).asked).toEqual([]);
    for (const [times, asked] of [
      [299, 0],
      [301, 1],
      [2999, 1],
      [3001, 0],
    ] as const) {
      expect(of(0.1, times * upper).asked).toHaveLength(asked);
    }
  });

  test('at one wavelength only is what it seems', () => {
    const { warnings } = analyseHazard(pen([at(638, 0.046), at(450, 46)], { label_max_mW: 60 }));
    expect(warnings.map(({ code }) => code)).not.toContain('hazard-unit');
  });
});

describe('what is handed to the judgement', () => {
  test('the bound of 100 mW: (100 + one step) · 1.04 by the reference, more by the candidate', () => {
    // K = 1: u = √(2² + 1²) %; k is that of 200 degrees of freedom, as the wavelength has
    const chapter = pen([at(638, 100)]);
    const [{ high, dof }] = chapter.wavelengths.results;
    near(dof, 200, 1);
    const [one] = analyseHazard(chapter).results;
    expect(one.upper_mW).toBeGreaterThanOrEqual(100.001 * (high ?? 0) - 1e-9);
    near(one.upper_mW, 100.001 * Math.exp(2 * Math.hypot(0.02, 0.01)), 0.02);
  });

  test('a confidence below 95 % narrows nothing, one above widens', () => {
    const upper = (confidence: number) => {
      const chapter = pen([at(638, 100)], {}, { study: { confidence } });
      return analyseHazard(chapter).results[0].upper_mW as number;
    };
    expect(upper(0.6)).toBeGreaterThanOrEqual(100.001 * 1.04);
    expect(upper(0.999)).toBeGreaterThan(upper(0.95));
  });

  test('a certificate of the reference at the wavelength', () => {
    const one = pen([at(638, 100)]);
    const certificate = certificateAt(638, 40, 2);
    const reference = { ...one.study.reference, certificate };
    const [found] = analyseHazard({ ...one, study: { ...one.study, reference } }).results;
    near(found.upper_mW, 100.001 * 1.4, 1e-6);
  });

  test('what others measured of this source, and no claim of its maker', () => {
    const chapter = pen([at(638, 100)]);
    const opinion = (kind: 'maker' | 'certificate' | 'third-meter', source: string) => ({
      ...chapter,
      study: {
        ...chapter.study,
        opinions: [
          {
            source,
            kind,
            value_mW: 600,
            expanded_uncertainty_mW: 60,
            coverage_factor: 2,
            date: null,
            note: null,
          },
        ],
      },
    });
    const upper = (...args: Parameters<typeof opinion>) =>
      analyseHazard(opinion(...args)).results[0].upper_mW as number;
    // 600 + 2 · 60/2
    near(upper('certificate', 'pen'), 660, 1e-9);
    near(upper('third-meter', 'pen'), 660, 1e-9);
    // Above 95 % with the normal quantile, 3.2905 for 99.9 %; below as at 95 %, with 2.
    const at999 = opinion('certificate', 'pen');
    for (const [confidence, bound] of [
      [0.999, 600 + 3.2905 * 30],
      [0.6, 660],
    ] as const) {
      const judged = analyseHazard({ ...at999, study: { ...at999.study, confidence } });
      near(judged.results[0].upper_mW as number, bound, 1e-2);
    }
    expect(upper('maker', 'pen')).toBeLessThan(110);
    expect(upper('certificate', 'other')).toBeLessThan(110);
  });

  test('the infrared that a filter told of: f + 2u, from 0 to 1', () => {
    const chapter = pen([at(532, 4)], { label_class: '3R' });
    const judged = (fraction: number | null, u: number | null, source = 'pen') =>
      analyseHazard({
        ...chapter,
        infrared: [
          {
            source,
            filter: 'short-pass',
            wavelength_nm: 532,
            wanted_mW: 1,
            infrared_mW: 1,
            infrared_fraction: fraction,
            infrared_fraction_standard_uncertainty: u,
            why: 'Found by a filter.',
          },
        ],
      });
    expect(
      judged(0.2, 0.01)
        .warnings.map(({ message }) => message)
        .join(),
    ).toContain('Found by a filter.');
    // Nothing of it may be infrared: the label of 3R for 4 mW holds. All of it may: it is not upheld.
    const none = judged(-0.5, 0.01).results[0].label_understates;
    const all = judged(0.2, 0.4).results[0].label_understates;
    expect([none, all]).toEqual([false, null]);
    // What was told of another source, or could not be told, counts as nothing told.
    const untold = analyseHazard({ ...chapter, infrared: [] });
    expect(judged(-0.5, 0.01, 'other')).toEqual(untold);
    expect(judged(null, null)).toEqual(untold);
  });

  test('scatter: the largest of the series of this wavelength', () => {
    const chapter = pen([at(638, 480), { ...at(638, 481), id: 'second' }]);
    const noisy = (candidate: number, of: string) => ({
      ...chapter,
      series: chapter.series.map((one) =>
        one.result.id === of
          ? { ...one, result: { ...one.result, repeatability: { reference: 0, candidate } } }
          : one,
      ),
    });
    const codes = (chapterWith: typeof chapter) =>
      analyseHazard(chapterWith).warnings.map(({ code }) => code);
    // 481 mW lie 3.8 % below 500 mW: noise of 2 % hides the limit, of 1 % does not.
    expect(codes(noisy(0.02, 's638'))).toContain('hazard-noise');
    expect(codes(noisy(0.02, 'second'))).toContain('hazard-noise');
    expect(codes(noisy(0.01, 'second'))).not.toContain('hazard-noise');
  });

  test('scatter at another wavelength hides no limit here, and each wavelength warns', () => {
    // 100 mW of blue are far from any limit; 481 mW of red are not.
    const chapter = pen([at(450, 100), at(638, 481)]);
    const noisy = (of: string) => ({
      ...chapter,
      series: chapter.series.map((one) =>
        one.result.id === of
          ? { ...one, result: { ...one.result, repeatability: { reference: 0, candidate: 0.02 } } }
          : { ...one, result: { ...one.result, repeatability: { reference: 0, candidate: 0 } } },
      ),
    });
    const codes = (of: string) => analyseHazard(noisy(of)).warnings.map(({ code }) => code);
    expect(codes('s450')).not.toContain('hazard-noise');
    expect(codes('s638')).toContain('hazard-noise');
  });

  test('a source run at one wavelength is not said to have others', () => {
    expect(analyseHazard(pen([at(638, 100)])).results[0].why).not.toContain('Run at');
  });
});

describe('a source that does not say how it emits', () => {
  test('is named, also where it says that nobody knows', () => {
    for (const emission of [null, 'unknown'] as const) {
      const { warnings } = analyseHazard(pen([at(638, 1)], { emission }));
      expect(warnings[0].code).toBe('emission-not-stated');
      expect(warnings[0].message).toContain('Whether pen emits continuously');
    }
    const { warnings } = analyseHazard(pen([at(638, 1)]));
    expect(warnings.map(({ code }) => code)).not.toContain('emission-not-stated');
    expect(warnings.filter((one) => typeof one !== 'object')).toEqual([]);
  });

  test('several are named together', () => {
    const chapter = pen([at(638, 1)], { emission: null });
    const [source] = chapter.study.sources;
    const sources = [source, { ...source, name: 'spare' }];
    const { warnings } = analyseHazard({ ...chapter, study: { ...chapter.study, sources } });
    expect(warnings[0].message).toContain('Whether pen, spare emit continuously');
  });
});

test('a source without a run is judged by nothing, at the wavelength that it states', () => {
  const chapter = pen([at(638, 1)]);
  const [source] = chapter.study.sources;
  const study = {
    ...chapter.study,
    sources: [source, { ...source, name: 'spare', wavelength_nm: 450 }],
  };
  const [, spare] = analyseHazard({ ...chapter, study }).results;
  expect([spare.source, spare.wavelength_nm, spare.highest_mW, spare.class]).toEqual([
    'spare',
    450,
    null,
    null,
  ]);
});
