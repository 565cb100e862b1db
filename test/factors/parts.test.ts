/** The small parts of a corrected reading and of a chart, each bound from both sides. */
import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import { chartFactors } from '../../src/factors/analyseReChecks.js';
import { compareFactors } from '../../src/factors/analyseThenAndNow.js';
import { classLimitWithin } from '../../src/factors/classLimitWithin.js';
import { controlChart } from '../../src/factors/controlChart.js';
import { correct } from '../../src/factors/correct.js';
import { correctionCautions } from '../../src/factors/correctionCautions.js';
import { correctTable } from '../../src/factors/correctTable.js';
import { factorFor } from '../../src/factors/factorFor.js';
import { factorsToCompare, otherKind, sameData } from '../../src/factors/factorsToCompare.js';
import { type NewReading, readingOf } from '../../src/factors/newReading.js';
import { parseFactors } from '../../src/factors/parseFactors.js';
import { readingParts } from '../../src/factors/readingParts.js';
import { readingsTable } from '../../src/factors/readingsTable.js';
import { recheckDue } from '../../src/factors/recheckDue.js';
import { settledReading } from '../../src/factors/settledReading.js';
import { severalUnits } from '../../src/factors/severalUnits.js';
import { thenAndNow } from '../../src/factors/thenAndNow.js';
import type { FactorEntry, Factors, ReadingKind } from '../../src/vocabulary.js';
import { entry, madeFactors } from '../madeFactors.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

const FACTORS = madeFactors(1, { date: '2026-03-14' });
const codes = (list: readonly { readonly code: string }[]) => list.map(({ code }) => code);

describe('when a comparison should be made again', () => {
  test.each([
    ['2026-03-14', undefined, '2027-03-14', false],
    ['2026-03-14', undefined, '2027-03-15', true],
    ['2026-03-14', 6, '2026-09-14', false],
    ['2026-03-14', 6, '2026-09-15', true],
  ])('of %s, %s months: on %s it is due: %s', (date, months, day, due) => {
    const found = recheckDue(
      madeFactors(1, { date, ...(months === undefined ? {} : { recheck_after_months: months }) }),
      day,
    );
    expect(codes(found)).toEqual(due ? ['recheck-due'] : []);
  });

  test('cannot be told without their day, nor before the comparison', () => {
    expect(codes(recheckDue(madeFactors(1, { date: null }), '2099-01-01'))).toEqual([
      'factors-undated',
    ]);
    const [early] = recheckDue(FACTORS, '2026-03-13');
    expect(early).toMatchObject({ code: 'reading-before-comparison' });
    expect(early.message).toMatch(/of 2026-03-13, before the comparison of 2026-03-14/);
  });
});

describe('a limit of a class', () => {
  // 5 mW ends class 3R at 520 nm
  test.each([
    [5, 6, true],
    [4, 5, true],
    [5.001, 6, false],
    [4, 4.999, false],
  ])('lies between %d and %d mW: %s', (low, high, within) => {
    expect(codes(classLimitWithin(520, { low, high }))).toEqual(
      within ? ['class-limit-within'] : [],
    );
  });
});

describe('what every user of a factor is told', () => {
  const of = (changes: Partial<FactorEntry>, more: Partial<Factors> = {}) =>
    codes(
      correctionCautions(madeFactors(1, more), {
        ...entry(520, 1.1, 0.025),
        next_series_relative_sd: 0.01,
        next_series_dof: 3,
        ...changes,
      }),
    );

  test.each<[string, Partial<FactorEntry>, Partial<Factors>, readonly string[]]>([
    ['nothing', {}, {}, []],
    ['an inconclusive factor', { verdict: 'inconclusive' }, {}, ['factor-inconclusive']],
    ['a factor not shown to be needed', { verdict: 'not-shown' }, {}, []],
    ['placements known from 2', { next_series_dof: 2.9 }, {}, ['placement-little-known']],
    ['nobody against the reference', { reference_contradicted_by: [] }, {}, []],
    ['one', { reference_contradicted_by: ['maker'] }, {}, ['reference-contradicted']],
    [
      'a reference without uncertainty',
      {},
      { reference: { name: 'R', uncertainty_stated: false } },
      ['relative-to-reference'],
    ],
    [
      'a display whose step nobody stated',
      {},
      { candidate: { name: 'C', resolution_mW: null, rated_max_mW: null } },
      ['resolution-not-stated'],
    ],
  ])('%s', (_, changes, more, expected) => {
    expect(of(changes, more)).toEqual(expected);
  });

  test('placements that nobody knows are told apart from few', () => {
    const { next_series_relative_sd: _, next_series_dof: __, ...bare } = entry(520, 1.1, 0.025);
    expect(codes(correctionCautions(FACTORS, bare))).toEqual(['placement-not-stated']);
  });
});

describe('a new reading', () => {
  const of = (reading: Partial<NewReading>, factors = FACTORS) =>
    readingOf(factors, { reading_mW: 50, wavelength_nm: 520, date: '2026-03-20', ...reading });

  test('alone, as a whole record', () => {
    expect(of({})).toEqual({
      wavelength_nm: 520,
      indication_mW: 50,
      reading_mW: 50,
      readings: 1,
      seatings: 1,
      scatter: null,
      settling: 0,
      cautions: [expect.objectContaining({ code: 'reading-kind-not-stated' })],
    });
  });

  test('in lists: the zero off each, a seating counts once, the scatter is pooled within', () => {
    // 50, 52 and 54 have s = 2 (ν 2), 40 and 42 √2 (ν 1), 48 alone tells none: √((2·4 + 2)/3)
    const found = of({ reading_mW: [[51, 53, 55], [41, 43], [49]], zero_mW: 1 });
    expect([found.readings, found.seatings]).toEqual([6, 3]);
    near(found.indication_mW, (52 + 41 + 48) / 3, 1e-12);
    expect(found.scatter?.dof).toBe(3);
    near(found.scatter?.sd, Math.sqrt(10 / 3) / 47, 1e-12);
    expect(of({ reading_mW: [50, 52] })).toMatchObject({ readings: 2, seatings: 1 });
    expect(of({ reading_mW: [[50], [52]] })).toMatchObject({ seatings: 2, scatter: null });
  });

  test.each([
    [525, []],
    [515, []],
    [525.1, ['setting-wrong']],
    [514.9, ['setting-wrong']],
  ])('under a setting of %d nm for 520 nm: %j', (setting_nm, expected) => {
    expect(codes(of({ setting_nm }).cautions).filter((one) => one === 'setting-wrong')).toEqual(
      expected,
    );
  });

  test.each<[Partial<Record<keyof NewReading, unknown>>, string]>([
    [{ reading_mW: undefined }, 'argument-wrong'],
    [{ reading_mW: [] }, 'argument-wrong'],
    [{ reading_mW: [[]] }, 'argument-wrong'],
    [{ reading_mW: [[50], []] }, 'argument-wrong'],
    [{ reading_mW: [50, [51]] }, 'argument-wrong'],
    [{ reading_mW: [50, '51'] }, 'argument-wrong'],
    [{ reading_mW: Number.NaN }, 'argument-wrong'],
    [{ reading_mW: [50, Number.POSITIVE_INFINITY] }, 'argument-wrong'],
    [{ reading_mW: 0 }, 'reading-not-positive'],
    [{ reading_mW: [50, -1] }, 'reading-not-positive'],
    [{ reading_mW: 50, zero_mW: 50 }, 'reading-not-positive'],
    [{ zero_mW: Number.NaN }, 'argument-wrong'],
    [{ wavelength_nm: '520' }, 'wavelength-out-of-range'],
    [{ wavelength_nm: Number.NaN }, 'wavelength-out-of-range'],
    [{ setting_nm: '520' }, 'argument-wrong'],
    [{ date: 'soon' }, 'argument-wrong'],
    [{ date: 20260320 }, 'argument-wrong'],
  ])('%j is refused: %s', (wrong, code) => {
    expect(errorOf(() => of(wrong as Partial<NewReading>)).code).toBe(code);
  });

  test('just above zero is one', () => {
    expect(of({ reading_mW: 50.1, zero_mW: 50 }).indication_mW).toBeCloseTo(0.1, 9);
  });

  test.each([
    ['50,5', "the text '50,5'; a number has a point and no quotation marks: 50.5"],
    ['-4,9 ', "the text '-4,9 '; a number has a point and no quotation marks: -4.9"],
    ['50.5', "the text '50.5'"],
    ['1,2,3', "the text '1,2,3'"],
    [undefined, 'nothing'],
    [null, 'null'],
    [{ a: 1 }, '{"a":1}'],
  ])('%j is called what it is', (given, found) => {
    expect(errorOf(() => of({ reading_mW: given as unknown as number })).found).toBe(found);
  });
});

describe('a reading brought to a settled one', () => {
  const kind = (changes: Partial<ReadingKind>): ReadingKind => ({
    kind: 'settled',
    read_at_s: null,
    candidate_time_constant_s: 6,
    candidate_time_constant_standard_uncertainty_s: null,
    why: '',
    ...changes,
  });
  const of = (changes: Partial<ReadingKind>, read_at_s?: number) => {
    const { cautions, ...rest } = settledReading({ reading: kind(changes) }, 50, read_at_s);
    return { ...rest, codes: codes(cautions) };
  };
  const asItIs = { reading_mW: 50, standardUncertainty: 0 };

  test('is left as it is where nothing is known or nothing is to be done', () => {
    expect(settledReading({}, 50, 3)).toMatchObject({
      ...asItIs,
      cautions: [{ code: 'reading-kind-not-stated' }],
    });
    const early = { kind: 'as-read' as const };
    expect(of({ ...early, read_at_s: 12 }, 12)).toEqual({ ...asItIs, codes: [] });
    expect(of({ ...early, read_at_s: 12 }, 13)).toEqual({
      ...asItIs,
      codes: ['read-at-another-time'],
    });
    expect(of({ ...early, read_at_s: null }, 13)).toEqual({ ...asItIs, codes: [] });
    expect(of({ ...early, read_at_s: 12 })).toEqual({ ...asItIs, codes: [] });
    expect(of({ candidate_time_constant_s: null }, 13)).toEqual({
      ...asItIs,
      codes: ['reading-may-be-early'],
    });
  });

  test('without its time, is as good as the time of the comparison: 1 % may be missing', () => {
    // e^(−t/6) is 0.01 at 27.63 s
    expect(of({ read_at_s: 27.7 }).codes).toEqual([]);
    expect(of({ read_at_s: 27.6 }).codes).toEqual(['settled-readings-only']);
    expect(of({ read_at_s: 27.7, candidate_time_constant_s: null }).codes).toEqual([
      'settled-readings-only',
    ]);
    const said = (changes: Partial<ReadingKind>) =>
      settledReading({ reading: kind(changes) }, 50, undefined).cautions[0]?.message;
    expect(said({})).toContain('settled readings: wait 28 s for 1 %, or say when it was read.');
    expect(said({ candidate_time_constant_s: null })).toContain('settled readings. A reading');
  });

  test('with its time, is divided, and from 1 % missing it says so; from a half on, on what it rests', () => {
    const at = (read_at_s: number) =>
      settledReading({ reading: kind({}) }, 50, read_at_s).cautions.map(({ message }) =>
        message.includes('More than half'),
      );
    near(of({}, 12).reading_mW, 50 / (1 - Math.exp(-2)), 1e-9);
    expect([at(27.7), at(27.6)]).toEqual([[], [false]]);
    // e^(−t/6) is 0.5 at 4.159 s
    expect([at(4.17), at(4.15)]).toEqual([[false], [true]]);
  });
});

describe('the factor of a wavelength and a power', () => {
  const two = madeFactors(1, {
    factors: [entry(638, 1.3, 0.02), entry(520, 1.1, 0.025)],
  });

  test('within 2 nm is that of the wavelength, and 5 nm of the slope to its neighbour', () => {
    for (const nm of [518, 520, 522]) near(factorFor(two, nm, 50).factor, 1.1, 1e-12);
    near(factorFor(two, 520, 50).colour, (5 * Math.log(1.3 / 1.1)) / 118, 1e-12);
    near(factorFor(FACTORS, 520, 50).colour, 0, 1e-15);
    expect(factorFor(two, 520, 50).cautions).toEqual([]);
  });

  test('between two is the geometric middle, with half their distance', () => {
    const found = factorFor(two, 600, 50);
    near(found.factor, Math.sqrt(1.1 * 1.3), 1e-12);
    near(found.colour, Math.log(1.3 / 1.1) / 2, 1e-12);
    // k u = 2 · 2.5 % is the farther reach of both
    near(found.reach, Math.log(1.3 / 1.1) / 2 + 0.05, 1e-8);
    near(found.rest.standardUncertainty, 0.025, 1e-12);
    expect(found.cautions).toHaveLength(1);
    expect(found.cautions[0]?.message).toMatch(/^600 nm was not measured: .* at 520 and 638 nm,/);
  });

  test('that counts as that of two is their middle as well', () => {
    const close = madeFactors(1, { factors: [entry(520, 1.1, 0.02), entry(523, 1.3, 0.02)] });
    near(factorFor(close, 521.5, 50).factor, Math.sqrt(1.1 * 1.3), 1e-12);
    expect(factorFor(close, 521.5, 50).cautions[0]?.message).toMatch(
      /^521\.5 nm counts as both of 520 and 523 nm:/,
    );
    near(factorFor(close, 519, 50).factor, 1.1, 1e-12);
  });

  test.each([
    [517.9, 50, 'wavelength-out-of-range'],
    [640.1, 50, 'wavelength-out-of-range'],
    [520, 19.9, 'power-out-of-range'],
    [520, 120.1, 'power-out-of-range'],
  ])('at %d nm and %d mW is none: %s', (nm, mW, code) => {
    const error = errorOf(() => factorFor(two, nm, mW));
    expect(error.code).toBe(code);
    expect(error.expected).toBe(
      code === 'power-out-of-range'
        ? '20 to 120 mW (measured: 40 to 60 mW)'
        : 'a wavelength from 520 to 638 nm (measured: 520, 638)',
    );
  });

  test('outside the measured powers, 40 to 60 mW, has a caution with both', () => {
    expect(factorFor(two, 520, 40).cautions).toEqual([]);
    expect(factorFor(two, 520, 60).cautions).toEqual([]);
    expect(codes(factorFor(two, 520, 39).cautions)).toEqual(['power-outside-range']);
    // One of each kind is enough for both neighbours
    expect(codes(factorFor(two, 600, 61).cautions)).toEqual([
      'between-wavelengths',
      'power-outside-range',
    ]);
  });
});

describe('parts of a corrected reading', () => {
  const known = {
    rest: { standardUncertainty: 0.01, dof: 9 },
    placement: 0,
    nextPlacement: null,
    scatter: { sd: 0.01, dof: 0 },
    between: 0.03,
    outside: 0,
    colour: 0.06,
  };
  const taken = { indication_mW: 50, readings: 1, seatings: 1, scatter: null, settling: 0 };
  const of = (changes: object = {}) =>
    readingParts({ candidate: { resolution_mW: 1 } }, known, { ...taken, ...changes });

  test('are rectangles only where they are more than nothing', () => {
    expect(of().map(({ name }) => name)).toEqual([
      'factor K',
      'placement',
      'scatter of the reading',
      'display step',
      'zero',
      'power between the levels',
      'wavelength of the source',
    ]);
    near(of().at(-1)?.standardUncertainty, 0.06 / Math.sqrt(3), 1e-15);
  });

  test('a placement that nobody knows counts as 0 and says so; scatter has one degree at least', () => {
    expect(of()[1]).toMatchObject({ standardUncertainty: 0, dof: 1e6, stated: false });
    expect(of()[2]).toMatchObject({ standardUncertainty: 0.01, dof: 1 });
    // As large as the known one is not more than it
    expect(of({ scatter: { sd: 0.01, dof: 5 } })[2]).toMatchObject({ dof: 1 });
    expect(of({ scatter: { sd: 0.011, dof: 5 } })[2]).toMatchObject({ dof: 5 });
  });
});

describe('a corrected reading', () => {
  test('says from which tolerance on it is not known', () => {
    const { U, value } = correct(FACTORS, { reading_mW: 50, wavelength_nm: 520 });
    const percent = (100 * U) / value;
    const at = (tolerance_percent: number) =>
      codes(
        correct({ ...FACTORS, tolerance_percent }, { reading_mW: 50, wavelength_nm: 520 }).cautions,
      ).includes('beyond-tolerance');
    expect([at(percent * 1.0001), at(percent * 0.9999)]).toEqual([false, true]);
  });

  test('is refused above the rating of the candidate, not at it', () => {
    const rated = (rated_max_mW: number) => () =>
      correct(
        { ...FACTORS, candidate: { ...FACTORS.candidate, rated_max_mW } },
        { reading_mW: 50, wavelength_nm: 520 },
      );
    expect(rated(50)().value).toBeCloseTo(55, 9);
    expect(errorOf(rated(49.9))).toMatchObject({
      code: 'power-out-of-range',
      found: '50 mW',
      expected: 'at most 49.9 mW',
    });
  });
});

describe('a table of readings', () => {
  const read = (text: string) => {
    const faults: ErrorParts[] = [];
    const table = readingsTable(text, 'r.csv', faults);
    return { table, faults, rows: table?.rows.map(({ reading, problem }) => reading ?? problem) };
  };
  const ALONE = {
    wavelength_nm: 520,
    reading_mW: 50,
    zero_mW: 0,
    read_at_s: null,
    setting_nm: null,
    date: null,
    group: '',
    seating: '',
  };

  test('gives each row as a whole record, or why not', () => {
    expect(
      read(
        'wavelength_nm,reading_mW,zero_mW,read_at_s,setting_nm,date,group,seating,note\n520,50,,,,,,,\n520,50,-0.5,12,532,2026-03-14,a,1,x\n',
      ).rows,
    ).toEqual([
      ALONE,
      {
        ...ALONE,
        zero_mW: -0.5,
        read_at_s: 12,
        setting_nm: 532,
        date: '2026-03-14',
        group: 'a',
        seating: '1',
      },
    ]);
    expect(read('wavelength_nm,reading_mW,zero_mW\n520,,\n,50,\n520,50,x\n').rows).toEqual([
      'reading_mW: The cell is empty.',
      'wavelength_nm: The cell is empty.',
      'zero_mW: This is not a number. ("x")',
    ]);
    expect(read('wavelength_nm,reading,unit\n520,0.05,W\n520,50,V\n520,50,\n').rows).toEqual([
      ALONE,
      'unit: this is no unit that is read here ("V").',
      'unit: this is no unit that is read here (empty).',
    ]);
  });

  test('needs its columns: wavelength, reading, and a unit where a heading has none', () => {
    const missing = (text: string) => read(text).faults.map(({ column }) => column);
    expect(missing('wavelength_nm,reading_mW\n520,50\n')).toEqual([]);
    expect(missing('reading_W\n0.05\n')).toEqual(['wavelength_nm']);
    expect(missing('wavelength_nm,note\n520,x\n')).toEqual(['reading_mW']);
    expect(missing('wavelength_nm,reading\n520,50\n')).toEqual(['unit']);
    expect(missing('wavelength_nm,reading_mW,zero\n520,50,0\n')).toEqual(['unit']);
  });

  test('has a decimal comma where commas do not separate', () => {
    const comma = (text: string) => read(text).table?.decimalComma;
    expect(comma('wavelength_nm;reading_mW\n520;50,5\n')).toBe(true);
    expect(comma('wavelength_nm;reading_mW\n520;50.5\n')).toBe(false);
    expect(comma('wavelength_nm,reading_mW\n520,50.5\n')).toBe(false);
  });

  test('keeps its cells as typed beside what was read in them', () => {
    const { table } = read('wavelength_nm,reading_mW\n520,50 mW\n');
    expect(table?.rows[0]?.row).toEqual({ row: 2, cells: ['520', '50 mW'] });
    expect(table?.rows[0]?.reading).toEqual(ALONE);
  });

  test('is corrected group by group', () => {
    const { table } = read(
      'wavelength_nm,reading_mW,group,seating,date\n520,50,a,1,\n520,52,a,1,\n520,50,b,1,\n520,50,b,2,\n520,50,c,1,2026-03-14\n520,50,c,1,2026-03-15\n520,50,,,\n520,x,a,,\n',
    );
    const done = correctTable(FACTORS, table!.rows, '2026-03-20');
    const words = done.map((one) => one.words[0] ?? '');
    expect(words.map((one) => one.replace(/These factors do not.*/, ''))).toEqual([
      'Mean of 2 readings.',
      'Mean of 2 readings.',
      'Mean of 2 readings, the head put up 2 times.',
      'Mean of 2 readings, the head put up 2 times.',
      ...Array(2).fill(
        'Not corrected. The rows of the group "c" are no readings of one power: they differ in date.',
      ),
      '',
      'Not corrected. reading_mW: This is not a number. ("x")',
    ]);
    expect(done.map(({ corrected }) => corrected?.value.toFixed(3) ?? null)).toEqual([
      '56.100',
      '56.100',
      '55.000',
      '55.000',
      null,
      null,
      '55.000',
      null,
    ]);
  });
});

describe('a chart of re-checks', () => {
  const wrong = (input: object) =>
    errorOf(() => controlChart(input as Parameters<typeof controlChart>[0])).code;

  test.each([
    [{ values: [1, 2] }, 'too-few-values'],
    [{ values: [1, 2, 3], baseline: 2 }, 'argument-wrong'],
    [{ values: [1, 2, 3], baseline: 4 }, 'argument-wrong'],
    [{ values: [1, 2, 3, 4], baseline: 3.5 }, 'argument-wrong'],
    [{ values: [1, 2, 3], standardUncertainties: [1, 1] }, 'too-few-values'],
    [{ values: [1, 2, 3], standardUncertainties: [1, 1, 1, 1] }, 'argument-wrong'],
    [{ values: [1, 2, 3], standardUncertainties: [1, 1, -1] }, 'argument-wrong'],
  ])('%j is refused: %s', (input, code) => {
    expect(wrong(input)).toBe(code);
  });

  test('of three values, as a whole record', () => {
    // Mean 2, ranges 1 and 3: 2/1.128; rms of 1, 1 and 2: √2
    const sigma = 2 / 1.128;
    const found = controlChart({ values: [1, 2, 3], standardUncertainties: [1, 1, 2] });
    expect(found.points.map(({ movingRange }) => movingRange)).toEqual([null, 1, 1]);
    near(found.sigma, 1 / 1.128, 1e-12);
    near(found.limits[0], 2 - 3 / 1.128, 1e-12);
    near(found.limits[1], 2 + 3 / 1.128, 1e-12);
    near(found.limitsFromUncertainty?.[0], 2 - 3 * Math.SQRT2, 1e-12);
    near(found.limitsFromUncertainty?.[1], 2 + 3 * Math.SQRT2, 1e-12);
    near(found.scatterRatio, sigma / 2 / Math.SQRT2, 1e-12);
    expect(found.inControl).toBe(true);
    expect(found.why).toBe(
      'None of 3 re-checks stands out. From 3 values the scatter sets limits that none of them can break; only the limits from the uncertainty judge here.',
    );
  });

  test('the baseline alone sets the limits', () => {
    const found = controlChart({ values: [1, 2, 3, 90], baseline: 3 });
    near(found.centre, 2, 1e-12);
    near(found.sigma, 1 / 1.128, 1e-12);
    expect([found.limitsFromUncertainty, found.scatterRatio]).toEqual([null, null]);
    expect(found.why).toBe(
      'Of 4 re-checks these stand out: 4 (beyond the limits). Look for a cause before using the factor. Limits from 3 values are crude.',
    );
  });

  test('what is said of few values, and of a scatter beyond the uncertainties', () => {
    const why = (n: number, u?: number) =>
      controlChart({
        values: Array.from({ length: n }, (_, i) => i % 2),
        ...(u === undefined ? {} : { standardUncertainties: Array(n).fill(u) }),
      }).why;
    expect([4, 5, 9, 10].map((n) => why(n))).toEqual([
      'None of 4 re-checks stands out. From 4 values the scatter sets limits that none of them can break.',
      'None of 5 re-checks stands out. Limits from 5 values are crude.',
      'None of 9 re-checks stands out. Limits from 9 values are crude.',
      'None of 10 re-checks stands out.',
    ]);
    // σ = 1/1.128 = 0.8865: 1.5 times 0.591
    expect([0.592, 0.59].map((u) => why(10, u).includes('missing in the budget'))).toEqual([
      false,
      true,
    ]);
  });
});

describe('several units', () => {
  const of = (factors: readonly number[], tolerance: number) =>
    severalUnits({
      units: factors.map((factor, i) => ({
        name: `unit ${i}`,
        factor,
        relative_standard_uncertainty: 0.001,
      })),
      tolerance,
      confidence: 0.95,
    });

  test('serve as they are, or with one factor, up to the tolerance and no further', () => {
    const list = [1.1, 1.12, 1.08, 1.11, 1.09];
    const { factor, furtherUnit } = of(list, 0.05);
    const [low, high] = furtherUnit;
    const worst = (k: number) => Math.max(k / low - 1, 1 - k / high);
    const verdicts = (tolerance: number) => of(list, tolerance).verdict;
    expect([verdicts(worst(factor) * 1.001), verdicts(worst(factor) * 0.999)]).toEqual([
      'common',
      'each',
    ]);
    expect([verdicts(worst(1) * 1.001), verdicts(worst(1) * 0.999)]).toEqual([
      'uncorrected',
      'common',
    ]);
    // Reading too much, the other end of the interval is the worse
    const less = of([0.9, 0.91, 0.89, 0.9, 0.905], 0.5).furtherUnit;
    expect(1 / less[0] - 1).toBeGreaterThan(1 - 1 / less[1]);
  });

  test('fewer than five say that little is known', () => {
    expect(of([1, 1.01, 1.02, 1], 0.05).why).toContain('With 4 units this interval is wide');
    expect(of([1, 1.01, 1.02, 1, 1], 0.05).why).not.toContain('wide');
  });
});

describe('then and now', () => {
  const dated = (factor: number, u = 0.001) => ({
    factor,
    relative_standard_uncertainty: u,
    dof: 1e6,
  });
  const of = (factor: number, tolerance: number, u?: number) =>
    thenAndNow({
      earlier: dated(1, u),
      now: dated(factor, u),
      sameReference: false,
      referenceRelativeUncertainty: null,
      tolerance,
      confidence: 0.95,
    });

  test('within the tolerance up to the far end of the interval, on either side', () => {
    const { high } = of(1.02, 0.05);
    expect([of(1.02, high * 1.0001).verdict, of(1.02, high * 0.9999).verdict]).toEqual([
      'within',
      'moved',
    ]);
    const { low } = of(0.98, 0.05);
    expect([of(0.98, -low * 1.0001).verdict, of(0.98, -low * 0.9999).verdict]).toEqual([
      'within',
      'moved',
    ]);
  });

  test('a move beyond the tolerance is called that', () => {
    expect(of(1.04, 0.05).why).toContain('though not zero');
    const why = [1.049, 1.06, 0.94].map((factor) => of(factor, 0.05).why);
    expect(why.map((one) => one.includes('beyond the tolerance'))).toEqual([false, true, true]);
    expect(why.map((one) => /changed by (\S+) %/.exec(one)?.[1])).toEqual([
      '4.90',
      '6.00',
      '−6.00',
    ]);
  });
});

describe('what studies have in common', () => {
  const compared = (changes: Partial<Factors>) => factorsToCompare(madeFactors(1, changes));

  test('the same data by either of two fingerprints', () => {
    const sha = (data: string, readings?: string) =>
      compared({
        data_sha256: data,
        ...(readings === undefined ? {} : { readings_sha256: readings }),
      });
    expect(sameData(sha('a'), sha('a'))).toBe(true);
    expect(sameData(sha('a'), sha('b'))).toBe(false);
    expect(sameData(sha('a', 'x'), sha('b', 'x'))).toBe(true);
    expect(sameData(sha('a', 'x'), sha('b', 'y'))).toBe(false);
    expect(sameData(sha('a', 'x'), sha('b'))).toBe(false);
  });

  test('a file of factors in the form of a comparison, as a whole', () => {
    expect(compared({ date: '2026-03-14' })).toEqual({
      date: '2026-03-14',
      data_sha256: '1'.repeat(64),
      readings_sha256: null,
      reading: null,
      candidate: 'Unit 1',
      reference: { name: 'Meter R', relative_standard_uncertainty: 0.015 },
      entries: [
        {
          wavelength_nm: 520,
          value: { factor: 1.1, relative_standard_uncertainty: 0.025, dof: 1e6 },
        },
      ],
    });
  });

  test('early readings of one time, or of times of which one is unknown', () => {
    const kind = (kind: ReadingKind['kind'], read_at_s: number | null) =>
      ({ kind, read_at_s }) as ReadingKind;
    expect(otherKind(kind('as-read', 10), null)).toBe('');
    expect(otherKind(kind('as-read', null), kind('as-read', 10))).toBe('');
    expect(otherKind(kind('as-read', 10), kind('as-read', 11))).not.toBe('');
    expect(otherKind(kind('as-read', null), kind('settled', null))).not.toBe('');
  });

  test('a comparison of two files, as a whole', () => {
    const candidate = { name: 'C', resolution_mW: 1, rated_max_mW: null };
    const then = madeFactors(1, {
      candidate,
      date: '2026-01-10',
      factors: [entry(520, 1.1, 0.025), entry(638, 1.2, 0.02)],
    });
    const now = madeFactors(2, {
      candidate,
      date: '2026-01-20',
      factors: [entry(405, 1, 0.02), entry(520, 1.1, 0.025)],
    });
    const found = compareFactors(then, now);
    const nothing = {
      change_percent: null,
      low_percent: null,
      high_percent: null,
      relative_standard_uncertainty: null,
      dof: null,
      verdict: 'not-comparable',
    };
    expect(found).toMatchObject({
      earlier_title: 'Evening 1',
      earlier_data_sha256: '1'.repeat(64),
      earlier_date: '2026-01-10',
      months_between: 0,
      same_reference: true,
      common_relative_standard_uncertainty: 0.015,
    });
    expect(found.why).toMatch(/^Both are of the same month\. The same reference under the same/);
    expect(found.wavelengths[0]).toEqual({
      wavelength_nm: 405,
      earlier_factor: null,
      factor: 1,
      ...nothing,
      why: 'The earlier study has no factor at this wavelength.',
    });
    // 2.5² − 1.5² = 2² on either side: 2 √2 %
    expect(found.wavelengths[1]).toMatchObject({
      wavelength_nm: 520,
      earlier_factor: 1.1,
      factor: 1.1,
      change_percent: 0,
    });
    near(found.wavelengths[1]?.relative_standard_uncertainty, 0.02 * Math.SQRT2, 1e-12);
    expect(found.wavelengths[2]).toEqual({
      wavelength_nm: 638,
      earlier_factor: 1.2,
      factor: null,
      ...nothing,
      why: 'This study has no series at this wavelength.',
    });
    expect(found.wavelengths).toHaveLength(3);
  });

  test('an obstacle stands at every wavelength, and nothing common is named', () => {
    const other = compareFactors(madeFactors(1), madeFactors(2));
    expect(other.common_relative_standard_uncertainty).toBeNull();
    expect(other.why).toBe(
      'The earlier factors are those of another candidate ("Unit 1", here "Unit 2").',
    );
    expect(other.wavelengths.map(({ why, verdict }) => [why, verdict])).toEqual([
      [other.why, 'not-comparable'],
    ]);
  });

  test.each([
    ['2026-01-10', '2026-03-12', '2 months lie between.'],
    [
      '2026-03-12',
      '2026-01-10',
      'The factors called earlier are of 2026-03-12, this study of 2026-01-10: then',
    ],
    ['2026-01-10', null, 'How much time lies between is not known'],
    [null, '2026-01-10', 'How much time lies between is not known'],
  ])('from %s to %s: %s', (then, now, expected) => {
    const candidate = { name: 'C', resolution_mW: 1, rated_max_mW: null };
    const found = compareFactors(
      madeFactors(1, { candidate, date: then }),
      madeFactors(2, { candidate, date: now }),
    );
    expect(found.why.startsWith(expected)).toBe(true);
  });

  test('a chart below three values has no numbers, and one study no change', () => {
    const candidate = { name: 'C', resolution_mW: 1, rated_max_mW: null };
    const at = (n: number) => madeFactors(n, { candidate, date: `2026-0${n}-01` });
    const [one] = chartFactors([], at(1));
    expect(one).toMatchObject({
      centre: null,
      limits: null,
      limits_from_uncertainty: null,
      scatter_ratio: null,
      in_control: null,
      since_first: null,
      why: 'A chart needs 3 values at a wavelength; here are 1.',
    });
    const [two] = chartFactors([at(1)], at(2));
    expect(two?.since_first).toMatchObject({ earlier_factor: 1.1, factor: 1.2 });
    expect(two?.why).toMatch(/here are 2\. All lean on the same reference, and|calibration of the/);
    expect(two?.values.map(({ why, signals }) => [why, signals])).toEqual([
      ['on the chart', []],
      ['on the chart', []],
    ]);
    const [three] = chartFactors([at(1), at(2)], at(3));
    expect(three?.centre).not.toBeNull();
  });

  test('a wavelength of which no value may stand on the chart says so', () => {
    const other = madeFactors(1, { factors: [entry(638, 1.2, 0.02)] });
    const [, red] = chartFactors([other], madeFactors(2));
    expect(red).toMatchObject({
      wavelength_nm: 638,
      same_reference: false,
      common_relative_standard_uncertainty: null,
      centre: null,
      since_first: null,
    });
    expect(red?.values.map(({ why }) => why)).toEqual([
      'The factor is that of another candidate ("Unit 1").',
      'This study gives no factor at this wavelength.',
    ]);
  });
});

describe('a file of factors', () => {
  const good = madeFactors(1);
  const read = (change: object) => {
    try {
      parseFactors({ ...good, ...change });
      return 'read';
    } catch (error) {
      return error instanceof Error ? error.message : '';
    }
  };
  const first = (change: object) => ({ factors: [{ ...good.factors[0], ...change }] });
  const level = (change: object) =>
    first({ levels: [{ ...good.factors[0]!.levels[0], ...change }] });

  test.each<[object, object, string]>([
    [{ confidence: 0.99 }, { confidence: 1 }, 'factors.confidence'],
    [{ confidence: 0.01 }, { confidence: 0 }, 'factors.confidence'],
    [{ tolerance_percent: 0.1 }, { tolerance_percent: 0 }, 'factors.tolerance_percent'],
    [{ date: '2026-03' }, { date: 'March' }, 'factors.date'],
    [{ recheck_after_months: 1e6 }, { recheck_after_months: 1.1e6 }, 'recheck_after_months'],
    [{ recheck_after_months: 0.5 }, { recheck_after_months: 0 }, 'recheck_after_months'],
    [{ data_sha256: 'a'.repeat(64) }, { data_sha256: `x${'a'.repeat(64)}` }, 'factors.data_sha256'],
    [{ data_sha256: 'f'.repeat(64) }, { data_sha256: 'a'.repeat(65) }, 'factors.data_sha256'],
    [{ wavelength_range_nm: [5, 5] }, { wavelength_range_nm: [5, 4] }, 'wavelength_range_nm'],
    [{ wavelength_range_nm: null }, { wavelength_range_nm: [5] }, 'wavelength_range_nm'],
    [first({ dof: 0.5 }), first({ dof: 0 }), 'factors.factors[0].dof'],
    [first({ reading_dof: 0 }), first({ reading_dof: -1 }), 'reading_dof'],
    [first({ reading_relative_sd: 0 }), first({ reading_relative_sd: -1 }), 'reading_relative_sd'],
    [
      first({ relative_standard_uncertainty: 0 }),
      first({ relative_standard_uncertainty: -1 }),
      'relative_standard_uncertainty',
    ],
    [first({ low: 1.1, high: 1.1 }), first({ low: 1.11 }), 'between its low and its high'],
    [first({ high: 1.1 }), first({ high: 1.09 }), 'between its low and its high'],
    [first({ offset_mW: -1 }), first({ offset_mW: 'x' }), 'offset_mW'],
    [
      first({ next_series_relative_sd: 0 }),
      first({ next_series_relative_sd: -0.1 }),
      'next_series_relative_sd',
    ],
    [
      first({ reference_contradicted_by: ['maker'] }),
      first({ reference_contradicted_by: ['me'] }),
      'reference_contradicted_by',
    ],
    [first({}), first({ levels: [] }), 'At least one level'],
    [level({ low: 1.1, high: 1.1 }), level({ low: 1.11 }), 'between its low and its high'],
    [level({}), level({ high: 1.09 }), 'between its low and its high'],
    [
      level({ placement_correlation_with_next: 1 }),
      level({ placement_correlation_with_next: 1.1 }),
      'placement_correlation_with_next',
    ],
    [
      level({ placement_correlation_with_next: -1 }),
      level({ placement_correlation_with_next: -1.1 }),
      'placement_correlation_with_next',
    ],
    [level({ candidate_mW: [5, 5] }), level({ candidate_mW: [5, 4] }), 'must not lie above'],
    [level({ rest_dof: 1 }), level({ rest_dof: 0 }), 'rest_dof'],
  ])('with %j is read, and with %j is not: %s', (right, wrong, said) => {
    expect(read(right)).toBe('read');
    expect(read(wrong)).toContain(said);
  });

  test('of an earlier version has one level in every wavelength, as a whole', () => {
    const { levels: _, offset_mW: __, ...bare } = good.factors[0]!;
    const { date: ___, ...rest } = good;
    const found = parseFactors({
      ...rest,
      schema: 'meterpair.factors/1',
      factors: [{ ...bare, candidate_range_mW: [40, 90] }],
    });
    expect(found.date).toBeNull();
    expect(found.factors[0]?.offset_mW).toBeNull();
    expect(found.factors[0]?.levels).toEqual([
      {
        candidate_mW: [40, 90],
        // √(40 · 90)
        centre_mW: 60,
        factor: bare.factor,
        low: bare.low,
        high: bare.high,
        relative_standard_uncertainty: 0.025,
        dof: 1e6,
        coverage_factor: 2,
        placement_relative_standard_uncertainty: 0,
        rest_dof: 1e6,
        own: {
          factor: bare.factor,
          relative_standard_uncertainty: 0.025,
          dof: 1e6,
          coverage_factor: 2,
        },
        series: [],
      },
    ]);
  });
});
