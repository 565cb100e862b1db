/** The upper bound of a source, by hand. Never too small: each part that could make it so has a row. */
import { describe, expect, test } from 'vitest';
import { hazardBound } from '../../src/hazard/hazardBound.js';
import type {
  HazardInput,
  HazardReading,
  MeasuredElsewhere,
} from '../../src/hazard/hazardInput.js';
import type { Meter, Source } from '../../src/vocabulary.js';
import { NOTHING_FURTHER } from '../fullRecords.js';

const REFERENCE: Meter = {
  ...NOTHING_FURTHER,
  role: 'reference',
  name: 'R',
  resolution_mW: 0.1,
  rated_max_mW: 5000,
  expanded_uncertainty_percent: 4,
};
const SOURCE: Source = {
  name: 'pen',
  wavelength_nm: 520,
  label_class: null,
  label_max_mW: null,
  emission: 'continuous',
  beam_diameter_mm: null,
};
const reading = (highest_mW: number, more: Partial<HazardReading> = {}): HazardReading => ({
  meter: 'reference',
  highest_mW,
  most_mW: highest_mW,
  shown_mW: highest_mW,
  step_mW: 0.1,
  peak: 'none',
  transmission: { value: 1, standardUncertainty: 0 },
  factor: null,
  unbounded: null,
  place: `run at ${highest_mW}`,
  excluded: false,
  ...more,
});
const byCandidate = (mW: number, value: number, high: number, more: Partial<HazardReading> = {}) =>
  reading(mW, { meter: 'candidate', factor: { value, high }, ...more });
const bound = (readings: readonly HazardReading[], more: Partial<HazardInput> = {}) => {
  const found = hazardBound({
    source: SOURCE,
    readings,
    reference: REFERENCE,
    confidence: 0.95,
    ...more,
  });
  if (found === null) throw new Error('No readings.');
  return found;
};

describe('readings', () => {
  test('of the reference: one step more, and U of its certificate', () => {
    // (50 + 0.1) × 1.04
    expect(bound([reading(50)]).upper_mW).toBeCloseTo(52.104, 9);
  });

  test('the largest bound counts, wherever it stands in the list, and the highest is named', () => {
    const list = [reading(20), reading(50), reading(30)];
    for (const readings of [list, [...list].reverse()]) {
      const found = bound(readings);
      expect(found.upper_mW).toBeCloseTo(52.104, 9);
      expect([found.highest_mW, found.seen]).toEqual([50, 'reference, run at 50']);
    }
  });

  test('of the candidate: the upper end of K, which holds the reference', () => {
    // (45 + 0.1) × 1.15
    const found = bound([byCandidate(45, 1.1, 1.15)]);
    expect(found.upper_mW).toBeCloseTo(51.865, 9);
    expect(found.highest_mW).toBeCloseTo(49.5, 9);
    expect(found.seen).toBe('candidate, 45 mW × 1.1, run at 45');
  });

  test('of the candidate beside a reference that states nothing: a tenth more', () => {
    const reference = { ...REFERENCE, expanded_uncertainty_percent: null };
    expect(bound([byCandidate(45, 1.1, 1.15)], { reference }).upper_mW).toBeCloseTo(57.0515, 9);
  });

  test('of the candidate without a factor: nothing bounds them, and it is said why', () => {
    const found = bound([reading(50), reading(45, { meter: 'candidate' })]);
    expect(found.upper_mW).toBeNull();
    expect(found.unbounded).toContain('no factor at this wavelength and power (run at 45)');
    expect(found.highest_mW).toBe(50);
  });

  test('behind a filter: divided by the least that it may let through', () => {
    // 0.5 − 2 × 0.05 = 0.4: (20 + 0.1) ÷ 0.4 × 1.04; the middle is 20 ÷ 0.5.
    const transmission = { value: 0.5, standardUncertainty: 0.05 };
    const found = bound([reading(20, { transmission })]);
    expect(found.upper_mW).toBeCloseTo(52.26, 9);
    expect(found.highest_mW).toBe(40);
    expect(found.seen).toBe('reference, 20 mW ÷ 0.5 of the filter, run at 20');
    const both = bound([byCandidate(20, 1.1, 1.15, { transmission })]);
    expect(both.seen).toBe('candidate, 20 mW × 1.1 ÷ 0.5 of the filter, run at 20');
  });

  test('behind a filter that may let nothing through: nothing bounds them, whichever meter', () => {
    // 0.1 − 2 × 0.06 is below zero.
    const transmission = { value: 0.1, standardUncertainty: 0.06 };
    for (const one of [
      reading(20, { transmission }),
      byCandidate(20, 1.1, 1.15, { transmission }),
    ]) {
      const found = bound([one]);
      expect(found.upper_mW).toBeNull();
      expect(found.unbounded).toContain('transmission of the filter (run at 20) is too uncertain');
    }
  });

  test('a peak and a run that was left out are named as such', () => {
    expect(bound([reading(50, { peak: 'highest', excluded: true })]).seen).toBe(
      'reference, peak, run at 50, a run that the factor leaves out',
    );
    expect(bound([reading(50, { peak: 'recorded' })]).seen).toBe('reference, run at 50');
  });

  test('no factor hides what the display itself showed, in front of its filter', () => {
    // K from 0.5 to 0.6 would make 60.1 mW behind a half at most 72; the display alone says 120.
    const transmission = { value: 0.5, standardUncertainty: 0 };
    const absurd = byCandidate(60, 0.5, 0.6, { transmission });
    for (const readings of [
      [reading(10), absurd],
      [absurd, reading(10)],
    ]) {
      const found = bound(readings);
      expect(found.upper_mW).toBe(120);
      // The text names the bound that the table has.
      expect(found.text).toBe(
        'Highest 60 mW (candidate, 60 mW × 0.5 ÷ 0.5 of the filter, run at 60), up to 120 mW by what the candidate itself showed, half a display step counted (run at 60), which no factor may hide.',
      );
    }
    expect(bound([reading(50)]).text).not.toContain('itself showed');
  });

  test('where nothing bounds them, it is not said that a display showed more', () => {
    const { text } = bound([reading(50, { unbounded: 'the filter is not known.' })]);
    expect(text).toBe('Highest 50 mW (reference, run at 50), and nothing bounds what it may be.');
  });

  test('all at zero or below leave a step open', () => {
    // (0 + 0.1) × 1.04
    const found = bound([reading(-0.2)]);
    expect(found.upper_mW).toBeCloseTo(0.104, 9);
    expect(found.text).toContain('up to 0.104 mW');
  });

  test('a bound is never rounded down where it is said', () => {
    // 52.104, which is 52.10 to four digits.
    expect(bound([reading(50)]).text).toContain('up to 52.2 mW');
  });
});

describe('measured by others', () => {
  const stated = (value_mW: number, u: number | null): MeasuredElsewhere => ({
    kind: 'third-meter',
    value_mW,
    standardUncertainty_mW: u,
  });

  test('the one that leaves most open counts, whichever comes first, and never lowers the bound', () => {
    // 55 + 2 × 1 = 57; 50 + 2 × 5 = 60; 40 × 1.1 = 44.
    const list = [stated(55, 1), stated(50, 5), stated(40, null)];
    for (const elsewhere of [list, [...list].reverse(), [list[1], list[0], list[2]]]) {
      const found = bound([reading(50)], { elsewhere: elsewhere as MeasuredElsewhere[] });
      expect(found.upper_mW).toBe(60);
      expect(found.elsewhere).toContain('says 50 mW, which leaves up to 60 mW open');
    }
    const low = bound([reading(50)], { elsewhere: [stated(40, null)] });
    expect(low.upper_mW).toBeCloseTo(52.104, 9);
    expect(low.elsewhere).toBeNull();
  });

  test('a confidence below 95 % makes no bound narrower, one above it wider', () => {
    const elsewhere = [stated(55, 1)];
    expect(bound([reading(50)], { elsewhere, confidence: 0.6 }).upper_mW).toBe(57);
    // z for 99 %: 2.575829
    expect(bound([reading(50)], { elsewhere, confidence: 0.99 }).upper_mW).toBeCloseTo(
      57.575829,
      5,
    );
  });
});
