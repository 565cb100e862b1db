import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { HAZARD_CAUTION, judgeHazard } from '../../src/hazard/hazard.js';
import type { HazardInput, HazardReading } from '../../src/hazard/hazardInput.js';
import { classRank } from '../../src/hazard/labelClass.js';
import type { Meter, Source } from '../../src/vocabulary.js';
import { NOTHING_FURTHER } from '../fullRecords.js';
import { uniform } from '../uniform.js';

const meter = (role: Meter['role'], more: Partial<Meter> = {}): Meter => ({
  ...NOTHING_FURTHER,
  role,
  name: `invented ${role}`,
  resolution_mW: 0.01,
  rated_max_mW: 5000,
  expanded_uncertainty_percent: role === 'reference' ? 3 : null,
  ...more,
});

const laser = (wavelength_nm: number, more: Partial<Source> = {}): Source => ({
  name: 'invented laser',
  wavelength_nm,
  label_class: null,
  label_max_mW: null,
  emission: 'continuous',
  beam_diameter_mm: null,
  ...more,
});

interface Shown {
  readonly meter: Meter['role'];
  readonly reading_mW: number;
  readonly peak_mW: number | null;
  readonly excluded: boolean;
  readonly transmission: HazardReading['transmission'];
  readonly unbounded: string | null;
  readonly shown_mW?: number;
}

const reading = (reading_mW: number, more: Partial<Shown> = {}): Shown => ({
  meter: 'reference',
  reading_mW,
  peak_mW: null,
  excluded: false,
  transmission: { value: 1, standardUncertainty: 0 },
  unbounded: null,
  ...more,
});

interface Judged extends Partial<Omit<HazardInput, 'readings'>> {
  readonly readings?: readonly Shown[];
  readonly candidate?: Meter;
  readonly factor?: { readonly value: number; readonly high: number };
}

const judge = ({ readings = [reading(3)], candidate, factor, ...more }: Judged) => {
  const meters = {
    reference: more.reference ?? meter('reference'),
    candidate: candidate ?? meter('candidate'),
  };
  return judgeHazard({
    source: laser(520),
    readings: readings.map(({ reading_mW, peak_mW, ...one }) => {
      const highest_mW = peak_mW === null ? reading_mW : Math.max(reading_mW, peak_mW);
      return {
        ...one,
        highest_mW,
        most_mW: highest_mW,
        shown_mW: one.shown_mW ?? highest_mW,
        step_mW: meters[one.meter].resolution_mW ?? 0,
        peak: peak_mW === null ? 'none' : peak_mW > reading_mW ? 'highest' : 'recorded',
        factor: one.meter === 'candidate' ? (factor ?? null) : null,
        place: 'run 1',
      };
    }),
    reference: meters.reference,
    confidence: 0.95,
    ...more,
  });
};

describe('published cases', () => {
  // NIST survey of 122 pointers (Hadler et al. 2013, J. Laser Appl. 25:032007): labels promise at
  // most 5 mW, the worst unit gave 66.5 mW, accuracy 5 %.
  it('the worst pointer of a survey is class 3B, and its label understates it', () => {
    const { hazard } = judge({
      source: laser(650, { label_class: 'IIIa', label_max_mW: 5 }),
      readings: [reading(66.5)],
      reference: meter('reference', { expanded_uncertainty_percent: 5 }),
    });
    expect(hazard).toMatchObject({ class: '3B', reading_class: '3B', decided: true });
    expect(hazard.label_understates).toBe(true);
    expect(hazard.upper_mW).toBeCloseTo((66.5 + 0.01) * 1.05, 6);
  });

  // Class limits as in accessibleEmissionLimits.test.ts.
  it.each([
    [520, 0.3, '1'],
    [520, 0.7, '2'],
    [520, 3, '3R'],
    [520, 46, '3B'],
    [520, 620, '4'],
    [808, 0.5, '1'],
    [808, 2, '3R'],
    [808, 4, '3B'],
    [1064, 1.7, '1'],
    [1064, 12, '3B'],
    [445, 0.1, '2'],
  ])('at %d nm a reading of %d mW lies in class %s with uncertainty to spare', (nm, mW, name) => {
    const { hazard } = judge({ source: laser(nm), readings: [reading(mW)] });
    expect(hazard).toMatchObject({ class: name, reading_class: name, decided: true });
    expect(hazard.why.includes(`below the class ${name} limit`)).toBe(name !== '4');
  });

  it('between a limit and its guard band the higher class cannot be excluded', () => {
    const { hazard } = judge({ readings: [reading(4.9)] });
    expect(hazard).toMatchObject({ class: '3B', reading_class: '3R', decided: false });
    expect(hazard.why).toMatch(
      /class 3R limit of 5 mW may be exceeded.*class 3B cannot be excluded/,
    );
  });
});

describe('everything counts that the calibration may leave out', () => {
  it('a peak decides over the settled reading', () => {
    const { hazard } = judge({ readings: [reading(4, { peak_mW: 5.6 }), reading(4)] });
    expect(hazard).toMatchObject({ highest_mW: 5.6, class: '3B', reading_class: '3B' });
  });

  it('that no peak was recorded is said, and only then', () => {
    const codes = (readings: Shown[]) => judge({ readings }).warnings.map((one) => one.code);
    expect(codes([reading(4), reading(4)])).toEqual(['hazard-no-peak']);
    expect(codes([reading(4, { peak_mW: 4.2 })])).toEqual([]);
    expect(codes([reading(4, { peak_mW: 4.2 }), reading(4)])).toEqual([]);
  });

  it('a run that the factor leaves out counts, and is named', () => {
    const { hazard } = judge({ readings: [reading(4), reading(7, { excluded: true })] });
    expect(hazard).toMatchObject({ highest_mW: 7, class: '3B' });
    expect(hazard.why).toMatch(/a run that the factor leaves out/);
  });

  it('a candidate reading counts multiplied by K, its bound by the upper end of K', () => {
    const { hazard } = judge({
      readings: [reading(4.4), reading(4, { meter: 'candidate' })],
      factor: { value: 1.2, high: 1.3 },
    });
    expect(hazard.highest_mW).toBeCloseTo(4.8, 12);
    expect(hazard.upper_mW).toBeCloseTo(4.01 * 1.3, 12);
  });

  it('without K nothing bounds a candidate reading: class 4 is not excluded', () => {
    const { hazard, warnings } = judge({
      source: laser(520, { label_class: '3R' }),
      readings: [reading(4, { meter: 'candidate' }), reading(4)],
    });
    expect(hazard).toMatchObject({
      highest_mW: 4,
      upper_mW: null,
      class: '4',
      reading_class: '3R',
      decided: false,
      // The reading alone keeps the label.
      label_understates: null,
    });
    expect(warnings.map((one) => one.code)).toContain('hazard-unbounded');
    expect(hazard.why).toMatch(/Compare it with the reference/);
  });

  it('without K the label is understated where the raw reading alone exceeds it', () => {
    const { hazard } = judge({
      source: laser(520, { label_class: '3R' }),
      readings: [reading(40, { meter: 'candidate' })],
    });
    expect(hazard).toMatchObject({ class: '4', decided: false, label_understates: true });
  });

  it('behind a filter the power in front of it counts, at the least that it may let through', () => {
    const transmission = { value: 0.5, standardUncertainty: 0.01 };
    const { hazard } = judge({ readings: [reading(250, { transmission })] });
    expect(hazard.highest_mW).toBeCloseTo(500, 9);
    expect(hazard.upper_mW).toBeCloseTo((250.01 / 0.48) * 1.03, 9);
    expect(hazard).toMatchObject({ class: '4', reading_class: '3B', decided: false });
  });

  it('a filter whose transmission may be nothing bounds nothing', () => {
    const transmission = { value: 0.02, standardUncertainty: 0.01 };
    const { hazard } = judge({ readings: [reading(1, { transmission })] });
    expect(hazard).toMatchObject({ class: '4', upper_mW: null, decided: false });
    expect(hazard.why).toMatch(/too uncertain to bound anything/);
  });

  it('a reading of which nobody knows what it stands for excludes no class', () => {
    const { hazard } = judge({
      readings: [reading(0.1, { unbounded: 'the filter is not known.' })],
    });
    expect(hazard).toMatchObject({ class: '4', upper_mW: null, decided: false });
    expect(hazard.why).toMatch(/The filter is not known/);
  });

  it('an absurd K hides nothing: what a display showed bounds the class from below', () => {
    // Watts typed as milliwatts on the reference: K = 0.0011.
    const { hazard } = judge({
      source: laser(450, { label_class: '1' }),
      readings: [reading(1.1), reading(1000, { meter: 'candidate' })],
      factor: { value: 0.0011, high: 0.00112 },
    });
    expect(hazard).toMatchObject({ class: '4', upper_mW: 1000, label_understates: true });
    expect(hazard.why).toMatch(/which no factor may hide/);
  });

  it('there is uncertainty to spare only below the limit as it is printed', () => {
    const at = (shown_mW: number) =>
      judge({ readings: [reading(4.7, { shown_mW })], source: laser(520, { label_class: '3R' }) })
        .hazard;
    // (4.7 + 0.01) × 1.03 = 4.8513; a display that may stand for 5 mW, and one that is printed so
    expect(at(4.7)).toMatchObject({ class: '3R', decided: true, label_understates: false });
    expect(at(4.7).why).toContain('up to 4.86 mW');
    expect(at(4.99).why).toContain('with uncertainty to spare');
    for (const shown_mW of [4.9951, 5]) {
      const hazard = at(shown_mW);
      expect(hazard).toMatchObject({ class: '3B', reading_class: '3R', decided: false });
      expect(hazard.why).toContain('up to 5 mW');
      expect(hazard.why).not.toContain('to spare');
      expect(hazard.label_understates).toBe(true);
    }
  });

  it('pulsed light gets no class', () => {
    const { hazard, warnings } = judge({
      source: laser(520, { emission: 'pulsed', label_class: '2', label_max_mW: 1 }),
      readings: [reading(3)],
    });
    expect(hazard).toMatchObject({
      class: null,
      reading_class: null,
      decided: false,
      label_understates: true,
    });
    expect(warnings.map((one) => one.code)).toEqual(['hazard-pulsed']);
  });

  it('an upper bound in words is rounded up', () => {
    // (199.5 + 0.01) × 1.03 = 205.4953; (4.4 + 0.01) × 1.03 = 4.5423
    expect(judge({ readings: [reading(199.5)] }).hazard.why).toContain('up to 206 mW');
    expect(judge({ readings: [reading(4.4)] }).hazard.why).toContain('up to 4.55 mW');
  });

  it('a certificate that leaves more open raises the bound, one that leaves less does not lower it', () => {
    const certified = (value_mW: number, u: number | null) =>
      judge({
        readings: [reading(4.4)],
        elsewhere: [{ kind: 'certificate', value_mW, standardUncertainty_mW: u }],
      });
    const more = certified(4.9, 0.1);
    expect(more.hazard.highest_mW).toBe(4.4);
    // 4.9 + 2·0.1 mW: above the 5 mW of class 3R, which the reading alone keeps
    expect(more.hazard.upper_mW).toBeCloseTo(5.1, 12);
    expect(more.hazard).toMatchObject({ class: '3B', reading_class: '3R', decided: false });
    expect(more.warnings.map((one) => one.code)).toContain('hazard-higher-elsewhere');
    expect(more.hazard.why).toMatch(/certificate says 4\.9 mW, which leaves up to 5\.1 mW open/);
    const less = certified(3, 0.01);
    expect(less.hazard).toEqual(judge({ readings: [reading(4.4)] }).hazard);
    // Without a stated uncertainty: 10 %
    expect(certified(4.9, null).hazard.upper_mW).toBeCloseTo(5.39, 12);
    expect(() => certified(Number.NaN, 0.1)).toThrow('finite');
  });

  it('a reference without a stated uncertainty gets 10 %, and the judgement says so', () => {
    const { hazard, warnings } = judge({
      reference: meter('reference', { expanded_uncertainty_percent: null }),
      readings: [reading(4)],
    });
    expect(hazard.upper_mW).toBeCloseTo(4.01 * 1.1, 12);
    expect(warnings.map((one) => one.code)).toContain('hazard-reference-not-stated');
    expect(hazard.why).toMatch(/10 % stand in/);
  });

  it('without a stated reference uncertainty the interval of K is widened by the same 10 %', () => {
    const { hazard } = judge({
      reference: meter('reference', { expanded_uncertainty_percent: null }),
      readings: [reading(4, { meter: 'candidate' })],
      factor: { value: 1.2, high: 1.3 },
    });
    expect(hazard.upper_mW).toBeCloseTo(4.01 * 1.3 * 1.1, 12);
  });

  // Standard normal table: 2.576 for 99 % two-sided.
  it('a higher confidence widens the reference’s uncertainty, a lower one does not narrow it', () => {
    const at = (confidence: number) => judge({ confidence }).hazard.upper_mW as number;
    expect(at(0.99)).toBeCloseTo(3.01 * (1 + 0.015 * 2.576), 4);
    expect(at(0.5)).toBe(at(0.95));
  });

  it('an expanded uncertainty at k = 1 is taken to two standard uncertainties', () => {
    const reference = meter('reference', { expanded_uncertainty_percent: 3, coverage_factor: 1 });
    expect(judge({ reference }).hazard.upper_mW).toBeCloseTo(3.01 * 1.06, 12);
  });
});

describe('the label', () => {
  const label = (label_class: string | null, mW: number, label_max_mW: number | null = null) =>
    judge({ source: laser(520, { label_class, label_max_mW }), readings: [reading(mW)] }).hazard
      .label_understates;

  it('is contradicted by a class above it, in either numbering', () => {
    expect(label('2', 8)).toBe(true);
    expect(label('Class II', 8)).toBe(true);
    expect(label('IIIa', 8)).toBe(true);
    expect(label('3R', 8)).toBe(true);
  });

  it('is contradicted on the safe side when the higher class cannot be excluded', () => {
    expect(label('3R', 4.9)).toBe(true);
  });

  it('tells what is shown from what merely cannot be excluded', () => {
    const why = (mW: number) =>
      judge({ source: laser(520, { label_class: '3R' }), readings: [reading(mW)] }).hazard.why;
    expect(why(46)).toMatch(/class 3R: it understates class 3B/);
    expect(why(4.9)).toMatch(/class 3B cannot be excluded: on the safe side the label counts/);
  });

  it('is contradicted by a reading above its stated maximum within the same class', () => {
    expect(label('3B', 46, 20)).toBe(true);
  });

  it('is upheld only when class and maximum hold with the uncertainty counted', () => {
    expect(label('3B', 46, 100)).toBe(false);
    expect(label('IIIb', 46)).toBe(false);
    expect(label('3B', 46, 46.5)).toBeNull();
    expect(label(null, 46, 100)).toBe(false);
  });

  it('of an M class is judged only from class 4 down to where it cannot be told', () => {
    expect(label('2M', 46)).toBeNull();
    expect(label('1M', 620)).toBe(true);
    expect(label('2M', 0.5)).toBe(false);
  });

  it('is not judged where the light has no class by power, but its maximum is', () => {
    const at = (label_max_mW: number | null) =>
      judge({ source: laser(10600, { label_class: '1', label_max_mW }), readings: [reading(3)] })
        .hazard.label_understates;
    expect(at(null)).toBeNull();
    expect(at(2)).toBe(true);
    expect(at(10)).toBeNull();
  });

  it('that is missing or no known class is not judged', () => {
    expect(label(null, 46)).toBeNull();
    expect(label('', 46)).toBeNull();
    expect(label('harmless', 46)).toBeNull();
    expect(label('1C', 46)).toBeNull();
  });

  it('of a doubled green is not upheld while infrared could put it in a higher class', () => {
    // 4 mW at 532 nm is class 3R; 4 mW at 808 nm exceed the 3.3 mW of class 3R there.
    const green = (mostFraction?: number) =>
      judge({
        source: laser(532, { label_class: '3R', label_max_mW: 5 }),
        readings: [reading(4)],
        ...(mostFraction === undefined ? {} : { infrared: { mostFraction, why: 'By a filter.' } }),
      });
    expect(green().hazard).toMatchObject({ class: '3R', label_understates: null });
    expect(green().warnings.map((one) => one.code)).toContain('infrared-not-separated');
    expect(green().hazard.why).toMatch(/infrared of 808 or 1064 nm, class 3B would follow/);
    expect(judge({ source: laser(532), readings: [reading(46)] }).hazard.why).not.toMatch(
      /would follow/,
    );
    // A tenth of 4.13 mW is far below the 3.3 mW of class 3R at 808 nm, and above class 1 there.
    expect(green(0.1).hazard).toMatchObject({ class: '3R', label_understates: false });
    expect(green(0.1).warnings.map((one) => one.code)).toContain('infrared-measured');
    // Nine tenths of it are not.
    expect(green(0.9).hazard).toMatchObject({ class: '3R', label_understates: null });
  });
});

describe('properties', () => {
  const wavelength = fc.oneof(
    fc.constantFrom(405, 445, 520, 532, 650, 700, 808, 1064, 1550),
    fc.double({ min: 330, max: 3900, noNaN: true }),
  );
  const power = fc.double({ min: 0.01, max: 2000, noNaN: true });
  const rank = (name: string | null) => classRank(name as '1');

  it('more power never gives a lower class', () => {
    fc.assert(
      fc.property(
        wavelength,
        power,
        fc.double({ min: 1, max: 50, noNaN: true }),
        (nm, mW, times) => {
          const at = (value: number) =>
            judge({ source: laser(nm), readings: [reading(value)] }).hazard;
          expect(rank(at(mW * times).class)).toBeGreaterThanOrEqual(rank(at(mW).class));
          expect(rank(at(mW * times).reading_class)).toBeGreaterThanOrEqual(
            rank(at(mW).reading_class),
          );
        },
      ),
      { seed: 3 },
    );
  });

  it('a larger uncertainty, a coarser display or a further reading never gives a lower class', () => {
    fc.assert(
      fc.property(
        wavelength,
        power,
        uniform(0, 20),
        uniform(0, 5),
        power,
        (nm, mW, percent, coarser, other) => {
          const at = (U: number, step: number, readings: Shown[]) =>
            judge({
              source: laser(nm),
              readings,
              reference: meter('reference', {
                expanded_uncertainty_percent: U,
                resolution_mW: step,
              }),
            }).hazard;
          const plain = rank(at(1, 0.01, [reading(mW)]).class);
          expect(rank(at(1 + percent, 0.01, [reading(mW)]).class)).toBeGreaterThanOrEqual(plain);
          expect(rank(at(1, 0.01 + coarser, [reading(mW)]).class)).toBeGreaterThanOrEqual(plain);
          expect(rank(at(1, 0.01, [reading(mW), reading(other)]).class)).toBeGreaterThanOrEqual(
            plain,
          );
        },
      ),
      { seed: 4 },
    );
  });

  it('the bound is never below the reading, the class never below that of the reading', () => {
    fc.assert(
      fc.property(
        wavelength,
        power,
        power,
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        (nm, a, b, k) => {
          const { hazard } = judge({
            source: laser(nm),
            readings: [reading(a, { peak_mW: b }), reading(b, { meter: 'candidate' })],
            factor: { value: k, high: k * 1.01 },
          });
          expect(hazard.upper_mW as number).toBeGreaterThanOrEqual(hazard.highest_mW as number);
          expect(rank(hazard.class)).toBeGreaterThanOrEqual(rank(hazard.reading_class));
          expect(hazard.decided).toBe(hazard.class === hazard.reading_class);
          expect(hazard.why).toContain(HAZARD_CAUTION);
        },
      ),
      { seed: 5 },
    );
  });
});

describe('awkward sources', () => {
  it('without a reading nothing is judged', () => {
    const { hazard } = judge({ readings: [], source: laser(520, { label_class: '2' }) });
    expect(hazard).toMatchObject({ highest_mW: null, upper_mW: null, class: null, decided: false });
    expect(hazard.label_understates).toBeNull();
    expect(hazard.why).toMatch(/No reading of this source/);
  });

  it('a display that shows nothing excludes no class', () => {
    const { hazard, warnings } = judge({ readings: [reading(0), reading(-0.02)] });
    expect(hazard).toMatchObject({ highest_mW: 0, class: null, label_understates: null });
    expect(warnings[0].code).toBe('hazard-nothing-seen');
  });

  it('a coarse display says which limits it cannot resolve', () => {
    const { hazard, warnings } = judge({
      readings: [reading(1)],
      reference: meter('reference', { resolution_mW: 1 }),
    });
    expect(hazard).toMatchObject({ class: '3R', reading_class: '2', decided: false });
    expect(warnings.find((one) => one.code === 'hazard-resolution')?.message).toMatch(
      /class 1 \(0.39 mW\) and of class 2 \(1 mW\)/,
    );
  });

  it('the finer of two displays decides what can be resolved', () => {
    const codes = judge({
      readings: [reading(1), reading(1, { meter: 'candidate' })],
      reference: meter('reference', { resolution_mW: 0.01 }),
      candidate: meter('candidate', { resolution_mW: 1 }),
    }).warnings.map((one) => one.code);
    expect(codes).not.toContain('hazard-resolution');
  });

  it('a limit far below the reading is no matter, however coarse the display', () => {
    const { warnings } = judge({
      readings: [reading(46)],
      reference: meter('reference', { resolution_mW: 1 }),
    });
    expect(warnings.map((one) => one.code)).not.toContain('hazard-resolution');
    const close = judge({
      readings: [reading(2.4)],
      reference: meter('reference', { resolution_mW: 0.8 }),
    });
    // Limits below 2·0.8 = 1.6 mW; 2.4 is within 1.6 of 1 mW, and beyond 1.6 of 0.39 mW.
    expect(close.warnings.find((one) => one.code === 'hazard-resolution')?.message).toMatch(
      /limit of class 2 \(1 mW\)\.$/,
    );
  });

  it('scatter as large as the distance to a limit is said', () => {
    const { warnings } = judge({
      readings: [reading(4.5)],
      repeatability: { reference: 0.08, candidate: null },
    });
    expect(warnings.map((one) => one.code)).toContain('hazard-noise');
  });

  it('near 700 nm the stricter side is taken, and the wavelength is named', () => {
    const { hazard, warnings } = judge({ source: laser(698), readings: [reading(0.8)] });
    expect(hazard).toMatchObject({ class: '3R', reading_class: '2', decided: false });
    expect(hazard.why).toMatch(
      /class 1 limit of 0.39 mW may be exceeded with the wavelength this close/,
    );
    expect(warnings.map((one) => one.code)).toContain('hazard-wavelength-edge');
  });

  it('where the standard limits no power, only class 4 is certain', () => {
    const at = (nm: number, mW: number) =>
      judge({ source: laser(nm), readings: [reading(mW)] }).hazard;
    expect(at(310, 0.1)).toMatchObject({ class: null, reading_class: null, decided: false });
    expect(at(10600, 40)).toMatchObject({ class: null, reading_class: null });
    expect(at(10600, 600)).toMatchObject({ class: '4', reading_class: '4', decided: true });
    expect(at(250, 600).class).toBe('4');
    expect(at(100, 600).class).toBeNull();
    expect(at(310, 0.1).why).toMatch(/limited in energy/);
    expect(at(182, 600).class).toBe('4');
    // Within 5 nm of 315 nm the true wavelength may have no limit in power.
    expect(at(318, 0.05)).toMatchObject({ class: null, reading_class: '3B', decided: false });
    expect(at(318, 0.05).why).toMatch(/No class by power at 318 nm ± 5 nm/);
  });

  it('where the standard limits no power, a warning says to treat it as hazardous, once', () => {
    for (const [mW, begins] of [
      [40, 'invented laser: no class can be given. No class by power at 10600 nm: '],
      [490, 'invented laser: class 4 cannot be excluded. No class by power at 10600 nm: '],
    ] as const) {
      const { hazard, warnings } = judge({ source: laser(10600), readings: [reading(mW)] });
      const [found, ...more] = warnings.filter(({ code }) => code === 'hazard-no-class');
      expect(more).toEqual([]);
      expect(found?.message.startsWith(begins)).toBe(true);
      expect(found?.message).toMatch(/Treat the source as hazardous until somebody/);
      expect(hazard.why.split('Treat the source as hazardous')).toHaveLength(2);
    }
    const codes = judge({ source: laser(520), readings: [reading(3)] }).warnings.map((w) => w.code);
    expect(codes).not.toContain('hazard-no-class');
  });

  it('refuses readings and factors that are no numbers', () => {
    expect(() => judge({ readings: [reading(Number.NaN)] })).toThrow(/finite/);
    expect(() => judge({ readings: [reading(1, { peak_mW: Infinity })] })).toThrow(/finite/);
    const candidate = [reading(1, { meter: 'candidate' })];
    expect(() => judge({ readings: candidate, factor: { value: 0, high: 1 } })).toThrow(/factor/);
    expect(() => judge({ readings: candidate, factor: { value: 2, high: 1.1 } })).toThrow(/factor/);
    const dark = [reading(1, { transmission: { value: 0, standardUncertainty: 0 } })];
    expect(() => judge({ readings: dark })).toThrow(/transmission/);
    expect(() => judge({ confidence: 1 })).toThrow(/confidence/);
  });
});
