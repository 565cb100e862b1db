import { describe, expect, test } from 'vitest';
import { answer } from '../../src/findings/answer.js';
import { budgetMatrix, budgetOrigins } from '../../src/findings/budgetFinding.js';
import { correctedTable } from '../../src/findings/correctedTable.js';
import { type Finding, headOf } from '../../src/findings/finding.js';
import { hazardFinding, moreHazardous, otherLabels } from '../../src/findings/hazardFinding.js';
import { comparedWhat, recordList } from '../../src/findings/recordList.js';
import { resultSentences } from '../../src/findings/resultSentence.js';
import { meters, opinionsStated, readings, seriesList } from '../../src/findings/studyFindings.js';
import type { Contribution, Result, Study } from '../../src/vocabulary.js';
import { only } from './only.js';

const columnsOf = ({ columns }: Finding) => columns.map((column) => [headOf(column), column.kind]);

describe('the meters', () => {
  const BARE = {
    name: 'R',
    role: 'reference',
    serial: null,
    resolution_mW: null,
    rated_max_mW: null,
    expanded_uncertainty_percent: null,
    coverage_factor: 2,
    wavelength_setting: null,
  };
  const PROTOCOL = {
    order: null,
    read_at_s: null,
    discard_first_laps: 0,
    exclude_cold_starts: false,
    exclude_outliers: false,
  };
  const metersOf = (candidate: object, protocol: object = {}) =>
    meters(
      only<Study>({
        reference: BARE,
        candidate: { ...BARE, name: 'C', role: 'candidate', ...candidate },
        protocol: { ...PROTOCOL, ...protocol },
      }),
    );
  const NOT = 'not stated';

  test('as they are stated, and what is not', () => {
    const found = metersOf({
      serial: '17',
      resolution_mW: 0.01,
      rated_max_mW: 200,
      expanded_uncertainty_percent: 3,
      wavelength_setting: true,
    });
    expect(found.rows).toEqual([
      ['R', 'reference', NOT, NOT, NOT, NOT, NOT],
      ['C', 'candidate', '17', '0.01', '200', '3 % of reading (k = 2)', 'has one'],
    ]);
    expect(columnsOf(found).map(([head]) => head)).toEqual([
      'Meter',
      'Role',
      'Serial number',
      'Display step / mW',
      'Rated to / mW',
      'Stated expanded uncertainty',
      'Wavelength setting',
    ]);
    expect(metersOf({ wavelength_setting: false }).rows[1]?.at(-1)).toBe('has none');
  });

  test('how the runs were taken, each part either way', () => {
    expect(metersOf({}).sentences).toEqual([
      'No run order was stated; when readings were taken after switch-on is not stated; no laps declared as warm-up beforehand; cold first laps are kept; statistical outliers are flagged and kept.',
    ]);
    const all = {
      order: 'ABBA',
      read_at_s: 20,
      discard_first_laps: 2,
      exclude_cold_starts: true,
      exclude_outliers: true,
    };
    expect(metersOf({}, all).sentences).toEqual([
      'Stated run order: ABBA; readings taken 20 s after switch-on; the first 2 laps of every series declared as warm-up beforehand; a cold first lap that the rest contradicts is left out; statistical outliers are left out.',
    ]);
  });
});

const run = (n: number, meter: string, reading_mW: number, exclude: string | null = null) => ({
  run: n,
  meter,
  reading_mW,
  exclude,
});
const METER = { certificate: null, time_constant_s: null, wavelength_setting: null };
const STUDY = only<Study>({
  sources: [
    { name: 'laser', label_class: '2', label_max_mW: 1 },
    { name: 'other', label_class: null, label_max_mW: null },
  ],
  reference: METER,
  candidate: METER,
  record: { date: null },
  protocol: { read_at_s: null },
  traces: [],
  series: [
    {
      id: 'a',
      source: 'laser',
      wavelength_nm: 520,
      timed: true,
      kind: 'comparison',
      filter: null,
      runs: [
        run(1, 'reference', 50.1234567),
        run(2, 'candidate', 46),
        run(3, 'candidate', 47),
        run(4, 'reference', 50, 'bumped'),
      ],
    },
    {
      id: 'b',
      source: 'other',
      wavelength_nm: 640,
      timed: false,
      kind: 'setting',
      filter: 'KG',
      runs: [run(1, 'candidate', 5)],
    },
  ],
});
const SERIES_RESULT = only<Result>({ series: [{ id: 'a', laps: 2, excluded: [{ run: 3 }] }] });

test('the series: labels, counts, times, and what each is for', () => {
  const found = seriesList(STUDY, SERIES_RESULT);
  expect(found.rows).toEqual([
    ['a', 'laser', 520, 'class 2, at most 1 mW', 4, 2, 'recorded', 'comparison'],
    [
      'b',
      'other',
      640,
      'not stated',
      1,
      null,
      'taken as even',
      'wavelength setting, through filter KG',
    ],
  ]);
  expect(columnsOf(found)).toEqual([
    ['Series', 'text'],
    ['Source', 'text'],
    ['At / nm', 'number'],
    ['Label', 'text'],
    ['Runs', 'count'],
    ['Laps', 'count'],
    ['Times', 'text'],
    ['Purpose', 'text'],
  ]);
});

test('every reading, starred where the analysis or its taker left it out', () => {
  const found = readings(STUDY, SERIES_RESULT);
  expect(found.rows).toEqual([
    ['a', 'ABBA', '50.1235 50.0000*', '46 47*'],
    ['b', 'B', '', '5'],
  ]);
  expect(columnsOf(found).map(([head]) => head)).toEqual([
    'Series',
    'Order',
    'Reference / mW',
    'Candidate / mW',
  ]);
  expect(found.notes).toHaveLength(1);
});

test('values from elsewhere, as stated', () => {
  const stated = {
    source: 'laser',
    kind: 'maker',
    value_mW: 5,
    expanded_uncertainty_mW: null,
    coverage_factor: null,
    date: null,
    note: null,
  };
  const found = opinionsStated(
    only<Study>({
      opinions: [
        stated,
        { ...stated, expanded_uncertainty_mW: 0.25, date: '2026-02-01', note: 'By phone.' },
        { ...stated, kind: 'third-meter', expanded_uncertainty_mW: 0.25, coverage_factor: 2 },
      ],
    }),
  );
  expect(found.rows).toEqual([
    ['laser', 'maker, as new', 5, 'not stated', 'not stated', ''],
    ['laser', 'maker, as new', 5, '± 0.25 mW', '2026-02-01', 'By phone.'],
    ['laser', 'third meter', 5, '± 0.25 mW (k = 2)', 'not stated', ''],
  ]);
  expect(columnsOf(found)).toEqual([
    ['Source', 'text'],
    ['From', 'text'],
    ['Value / mW', 'power'],
    ['Stated uncertainty', 'text'],
    ['Date', 'text'],
    ['Note', 'text'],
  ]);
});

const LEVEL = {
  candidate_mW: [40, 50],
  factor: 1.25,
  low: 1,
  high: 1.75,
  relative_standard_uncertainty: 0.01,
  dof: 9.87,
  coverage_factor: 2.3,
};
const part = (name: string, share: number, changed: object = {}): Contribution =>
  only<Contribution>({
    name,
    share,
    relative_standard_uncertainty: share / 10,
    type: 'B',
    note: `of ${name}`,
    ...changed,
  });
const wavelength = (nm: number, changed: object = {}) => ({
  wavelength_nm: nm,
  verdict: 'correct-it',
  factor: 1.25,
  levels: [LEVEL],
  corrected_reading_relative_U: 0.05,
  budget: [],
  relative_standard_uncertainty: 0.02,
  dof: 12.5,
  coverage_factor: 2.2,
  relative_expanded_uncertainty: 0.044,
  ...changed,
});
const wavelengths = (...all: object[]) =>
  only<Result>({ confidence: 0.95, reading: {}, wavelengths: all });

describe('the answer', () => {
  test('a row for each level, the larger distance after ±, and no number where it is open', () => {
    const two = [LEVEL, { ...LEVEL, candidate_mW: [80, 80], factor: 1.5, high: 2.25 }];
    const found = answer(
      wavelengths(
        wavelength(520, { levels: two }),
        wavelength(640, { verdict: 'inconclusive' }),
        wavelength(405, { factor: null }),
      ),
    );
    const open = [null, null, null, null];
    expect(found.rows).toEqual([
      [520, '40 to 50', { value: 1.25, U: 0.5 }, expect.closeTo(0.4, 12), 0.05, 'correct it'],
      [520, '80 only', { value: 1.5, U: 0.75 }, 0.5, 0.05, 'correct it'],
      [640, ...open, 'this data cannot tell you'],
      [405, ...open, 'correct it'],
    ]);
    expect(columnsOf(found)).toEqual([
      ['At / nm', 'number'],
      ['It shows / mW', 'power'],
      ['Multiply by', 'value'],
      ['± U / %', 'fraction'],
      ['Reading ± / %', 'fraction'],
      ['Verdict', 'text'],
    ]);
    expect(found.notes).toHaveLength(1);
  });

  test('quoted: a sentence a level, ± from the upper end', () => {
    expect(
      resultSentences(wavelengths(wavelength(520), wavelength(640, { verdict: 'inconclusive' }))),
    ).toEqual([
      'K(520 nm, candidate at 40 to 50 mW) = 1.25 ± 0.50, u = 1.0 %, k = 2.30, ν = 9.8, [1.00 to 1.75].',
    ]);
  });
});

describe('the budget', () => {
  const first = [part('certificate', 0.6), part('scatter', 0.4, { type: 'A' })];
  const second = [part('scatter', 0.7), part('zero', 0.2), part('certificate', 0.1)];
  const result = wavelengths(
    wavelength(520, { budget: first }),
    wavelength(532),
    wavelength(640, { budget: second, dof: 250, coverage_factor: 2 }),
  );

  test('the largest share anywhere first, then the whole; a wavelength without one stays out', () => {
    const found = budgetMatrix(result);
    const close = (value: number) => expect.closeTo(value, 12);
    expect(found.rows).toEqual([
      ['scatter', 'A, B', close(0.04), close(0.07)],
      ['certificate', 'B', close(0.06), close(0.01)],
      ['zero', 'B', null, close(0.02)],
      ['combined u / %', ' ', 0.02, 0.02],
      ['ν', ' ', '12', 'many'],
      ['k', ' ', '2.20', '2.00'],
      ['U / %', ' ', 0.044, 0.044],
    ]);
    expect(found.shares).toEqual([
      [0.4, 0.7],
      [0.6, 0.1],
      [null, 0.2],
      [null, null],
      [null, null],
      [null, null],
      [null, null],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Contribution', 'text'],
      ['Type', 'text'],
      ['520 nm', 'fraction'],
      ['640 nm', 'fraction'],
    ]);
    expect(found.notes).toHaveLength(1);
  });

  test('a name has the larger of its shares, whichever comes first', () => {
    const names = (...budgets: (readonly Contribution[])[]) =>
      budgetMatrix(wavelengths(...budgets.map((budget, i) => wavelength(500 + i, { budget }))))
        .rows.slice(0, 2)
        .map(([name]) => name);
    const [large, small, middle] = [part('one', 0.9), part('one', 0.1), part('two', 0.5)];
    expect(names([large, middle], [small])).toEqual(['one', 'two']);
    expect(names([small, middle], [large])).toEqual(['one', 'two']);
    expect(names([small, middle], [small])).toEqual(['two', 'one']);
  });

  test('where each comes from: one row an origin, with its wavelengths', () => {
    const found = budgetOrigins(
      wavelengths(
        wavelength(520, { budget: first }),
        wavelength(640, { budget: [part('certificate', 0.9), part('scatter', 0.1)] }),
      ),
    );
    // The scatter is of type A at 520 nm and of type B at 640 nm: two origins.
    expect(found.rows).toEqual([
      ['certificate', 'B', '520, 640', 'of certificate'],
      ['scatter', 'A', '520', 'of scatter'],
      ['scatter', 'B', '640', 'of scatter'],
    ]);
    expect(columnsOf(found).map(([head]) => head)).toEqual([
      'Contribution',
      'Type',
      'At / nm',
      'Origin',
    ]);
  });
});

describe('hazard', () => {
  const SOURCE = {
    source: 'laser',
    wavelength_nm: 520,
    highest_mW: 4,
    upper_mW: 4.5,
    seen_in: 'a peak',
    class: '3R',
    reading_class: '3R',
    decided: true,
    label_class: '2',
    label_max_mW: null,
    label_understates: true,
  };
  const hazards = (...changed: object[]) =>
    only<Result>({ hazard: changed.map((one) => ({ ...SOURCE, ...one })) });

  test('a row a source', () => {
    const found = hazardFinding(
      hazards(
        {},
        {
          highest_mW: null,
          upper_mW: null,
          seen_in: null,
          class: null,
          label_class: null,
          label_understates: null,
        },
      ),
    );
    expect(found.rows).toEqual([
      ['laser', 520, 4, 4.5, 'a peak', 'class 3R', 'class 2', 'more hazardous than labelled'],
      [
        'laser',
        520,
        null,
        null,
        'no reading',
        'not judged: treat it as more hazardous than its power suggests',
        'not stated',
        'no label to compare with',
      ],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Source', 'text'],
      ['At / nm', 'number'],
      ['Highest seen / mW', 'power'],
      ['Up to / mW', 'bound'],
      ['Seen in', 'text'],
      ['Class', 'text'],
      ['Label says', 'text'],
      ['Label against data', 'text'],
    ]);
    expect(found.notes).toHaveLength(1);
    expect(found.sentences).toEqual([
      'laser, 520 nm: more hazardous than labelled. Up to 4.5 mW, class 3R; its label says class 2.',
    ]);
  });

  test('only labels that understate are named, with what is known of the source', () => {
    const said = (changed: object) => moreHazardous(hazards(changed));
    expect(said({ label_understates: false })).toEqual([]);
    expect(said({ label_understates: null })).toEqual([]);
    expect(said({ upper_mW: null, decided: false })).toEqual([
      'laser, 520 nm: more hazardous than labelled. Nothing bounds its power, class 3R not excluded; its label says class 2.',
    ]);
    expect(said({ class: null })).toEqual([
      'laser, 520 nm: more hazardous than labelled. Up to 4.5 mW; its label says class 2.',
    ]);
  });

  test.each([
    [[true], ''],
    [[false], 'One label is not contradicted.'],
    [[false, false, true], '2 labels are not contradicted.'],
    [[null, true], 'Label neither shown right nor wrong: laser.'],
    [
      [null, null, false],
      'Label neither shown right nor wrong: laser, laser. One label is not contradicted.',
    ],
  ])('labels %j leave "%s"', (understates, text) => {
    expect(
      otherLabels(hazards(...understates.map((label_understates) => ({ label_understates })))),
    ).toBe(text);
  });
});

describe('the record', () => {
  const nothing = {
    date: null,
    place: null,
    operator: null,
    temperature_C: null,
    distance_mm: null,
    remarks: null,
  };
  const meter = (name: string, serial: string | null) => ({
    name,
    serial,
    certificate: null,
    expanded_uncertainty_percent: null,
    coverage_factor: 2,
    recheck_after_months: 12,
  });
  const study = (changed: object = {}) =>
    only<Study>({
      reference: meter('R', null),
      candidate: meter('C', '9'),
      record: nothing,
      protocol: { placement: null },
      layout: 'tidy',
      tolerance_stated: true,
      ...changed,
    });
  const result = only<Result>({
    data_sha256: '0123456789abcdef',
    reading: { why: 'Settled.' },
    confidence: 0.95,
    tolerance_percent: 5,
  });
  const entry = (name: string, changed: object = {}, versions = {}) =>
    new Map(recordList(study(changed), result, versions)).get(name);

  test('what is stated, in its place', () => {
    const full = {
      record: {
        date: '2026-03-01',
        place: 'bench',
        operator: 'A.',
        temperature_C: 21.5,
        distance_mm: 300,
        remarks: 'Dusty.',
      },
      protocol: { placement: 'jig' },
    };
    expect(entry('Date, place', full)).toBe('2026-03-01, bench');
    expect(entry('Measured by', full)).toBe('A.');
    expect(entry('Remarks', full)).toBe('Dusty.');
    expect(entry('Conditions', full)).toBe(
      'temperature 21.5 °C; distance 300 mm; heads put back: jig',
    );
    expect(entry('Conditions')).toBe(
      'temperature not stated; distance not stated; heads put back: not stated',
    );
    expect(entry('Items')).toBe(
      'C, serial number 9; R, serial number not stated. Their condition: not stated.',
    );
    expect(entry('Identification')).toMatch(/^0123-4567-89ab, .* 0123456789abcdef$/);
    expect(entry('Reading')).toBe('Settled.');
  });

  test('the tolerance says whether the study stated it; the programs say their versions', () => {
    expect(entry('Decision rule')).toMatch(/^Tolerance ± 5 % \(stated in the study\)\./);
    expect(entry('Decision rule', { tolerance_stated: false })).toMatch(
      /^Tolerance ± 5 % \(not stated: the default\)\./,
    );
    expect(entry('Made with')).toBe('not stated');
    expect(entry('Made with', {}, { meterpair: '1.0', node: '22' })).toBe('meterpair 1.0, node 22');
  });

  test('the certificate of the reference, entry by entry', () => {
    const certificate = { number: '17', laboratory: null, issued: '2025-01-20', valid_until: null };
    const words = (reference: object) =>
      comparedWhat(study({ reference: { ...meter('R', null), ...reference } }));
    expect(words({ certificate })).toEqual([
      ['Compared', 'C (candidate) with R (reference)'],
      ['Date', 'not stated'],
      ['By', 'not stated'],
      [
        'Certificate of the reference',
        'No. 17, laboratory not stated, issued 2025-01-20, valid until not stated',
      ],
    ]);
    expect(words({ certificate, expanded_uncertainty_percent: 3 })[3]?.[1]).toBe(
      'No. 17, laboratory not stated, issued 2025-01-20, valid until not stated, U = 3 % (k = 2) is stated',
    );
  });

  test('has sixteen entries, in the order of a report', () => {
    expect(recordList(study(), result, {}).map(([name]) => name)).toEqual([
      'Identification',
      'Kind',
      'Items',
      'Date, place',
      'Measured by',
      'Authorised by, customer',
      'Conditions',
      'Remarks',
      'Method',
      'Reading',
      'Traceability',
      'Uncertainty',
      'Decision rule',
      'Adjustment',
      'Validity',
      'Made with',
    ]);
  });
});

describe('a table of readings with their corrections', () => {
  type Args = Parameters<typeof correctedTable>;
  const rowsOf = (decimalComma: boolean) =>
    correctedTable(
      only<Args[0]>({
        table: { headings: ['reading', 'note'], separator: ';' },
        rows: [{ row: { cells: ['5,0'] } }, { row: { cells: ['x', 'odd'] } }],
        decimalComma,
      }),
      only<Args[1]>([
        {
          corrected: { value: 5.5, U: 0.115, k: 2, low: 5.389, high: 5.611 },
          words: ['one', 'two'],
        },
        { corrected: null, words: [] },
      ]),
    );
  // U to two digits, a tie upwards: 0.12; 5.5 to its last place; the interval outwards: 5.38 to 5.62.
  test('the numbers to the place of U, the interval outwards, nothing for a row without', () => {
    expect(rowsOf(false).split('\n')).toEqual([
      'reading;note;corrected_mW;U_mW;k;low_mW;high_mW;cautions',
      '5,0;;5.50;0.12;2.00;5.38;5.62;one two',
      'x;odd;;;;;;',
      '',
    ]);
  });
  test('with a comma where the table has commas', () => {
    expect(rowsOf(true).split('\n')[1]).toBe('5,0;;5,50;0,12;2,00;5,38;5,62;one two');
  });
});
