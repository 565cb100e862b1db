import { describe, expect, test } from 'vitest';
import { type Finding, headOf } from '../../src/findings/finding.js';
import { comparisonWords, controlWords, placeOf, spoken } from '../../src/findings/findingWords.js';
import {
  independence,
  opinionSentences,
  threeInstruments,
} from '../../src/findings/opinionSentences.js';
import { powerSentences } from '../../src/findings/powerSentences.js';
import { placesOnChart, reCheckSentences } from '../../src/findings/reCheckSentences.js';
import {
  agreementByLevel,
  changes,
  infrared,
  opinions,
  power,
  reChecks,
  settings,
} from '../../src/findings/spokenFindings.js';
import { TAKEN_AS_INDEPENDENT } from '../../src/opinions/secondOpinion.js';
import type { OpinionComparison, PowerDependence, ReChecks, Result } from '../../src/vocabulary.js';
import { only } from './only.js';

const columnsOf = ({ columns }: Finding) => columns.map((column) => [headOf(column), column.kind]);

const NO_BEND = {
  verdict: 'not-computable',
  at_top_percent: null,
  low_percent: null,
  high_percent: null,
  p: null,
  top_mW: null,
};
const NO_OFFSET = { verdict: 'not-computable', offset_mW: null, low_mW: null, high_mW: null };
const NO_PREDICTION = {
  predicted: 0,
  rms_error_percent: null,
  uncorrected_rms_error_percent: null,
  series: [],
};
const dependence = (changed: object = {}) =>
  only<PowerDependence>({
    wavelength_nm: 445,
    series: ['a', 'b', 'c'],
    range_mW: null,
    bend: NO_BEND,
    bend_by_pooled_scatter: NO_BEND,
    offset: NO_OFFSET,
    prediction: NO_PREDICTION,
    ...changed,
  });
const LOW = {
  verdict: 'reads-low-at-the-top',
  at_top_percent: -3,
  low_percent: -5,
  high_percent: -1,
  p: 0.02,
  top_mW: 800,
};
const OFFSET = {
  verdict: 'offset-shown',
  offset_mW: 0.5,
  low_mW: 0.25,
  high_mW: 0.75,
  why: 'Zero.',
};
const PREDICTION = {
  predicted: 2,
  rms_error_percent: 0.75,
  uncorrected_rms_error_percent: 4,
  series: [{}, {}, {}],
};
const powerOf = (...entries: PowerDependence[]) =>
  only<Result>({
    confidence: 0.95,
    power: { by_wavelength: entries, overall: dependence({ wavelength_nm: null }) },
  });

describe('the power', () => {
  const SILENT = dependence();
  test.each([
    ['a bend', { bend: { ...LOW } }],
    ['a bend by the scatter of all', { bend_by_pooled_scatter: { ...LOW } }],
    ['an offset', { offset: OFFSET }],
    ['one series predicted', { prediction: { ...NO_PREDICTION, predicted: 1 } }],
  ])('is told where there is %s', (_, changed) => {
    const one = dependence(changed);
    expect(spoken([SILENT, one])).toEqual([one]);
  });

  test('a row has the bend that decides, whichever way of judging shows it', () => {
    const found = power(
      powerOf(
        dependence({
          range_mW: [213.4, 1850.2],
          bend: { ...LOW, verdict: 'not-shown', at_top_percent: -2 },
          bend_by_pooled_scatter: LOW,
          offset: OFFSET,
          prediction: PREDICTION,
        }),
        SILENT,
      ),
    );
    expect(found.rows).toEqual([
      [
        '445 nm',
        3,
        '213 to 1850',
        -3,
        [-5, -1],
        'candidate reads low at the top',
        'offset shown',
        0.75,
      ],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Wavelength', 'text'],
      ['Series', 'count'],
      ['Powers / mW', 'number'],
      ['Bend at the top / %', 'percent'],
      ['Interval / %', 'percent'],
      ['Bend', 'text'],
      ['Offset', 'text'],
      ['Error of a series left out / %', 'percent'],
    ]);
    expect(found.notes).toHaveLength(1);
  });

  test('the one for all wavelengths is the last row, and without a range it has none', () => {
    const all = dependence({ wavelength_nm: null, series: ['a', 'b'], offset: OFFSET });
    const result = only<Result>({
      confidence: 0.95,
      power: { by_wavelength: [dependence({ bend: LOW })], overall: all },
    });
    expect(power(result).rows.map((row) => row.slice(0, 3))).toEqual([
      ['445 nm', 3, null],
      ['All wavelengths', 2, null],
    ]);
    expect(placeOf(all)).toBe('All wavelengths');
  });

  test('each part of it is a sentence where there is one', () => {
    const saidOf = (changed: object) => powerSentences(powerOf(dependence(changed)));
    expect(saidOf({ bend: LOW })).toEqual([
      '445 nm: candidate reads low at the top, −3.0 % at 800 mW (−5.0 to −1.0 %, p = 0.020).',
    ]);
    expect(saidOf({ bend: { ...LOW, p: null } })).toEqual([
      '445 nm: candidate reads low at the top, −3.0 % at 800 mW (−5.0 to −1.0 %).',
    ]);
    expect(saidOf({ offset: OFFSET })).toEqual([
      '445 nm, offset: 0.50 mW (0.25 to 0.75 mW). Zero.',
    ]);
    expect(saidOf({ prediction: PREDICTION })).toEqual([
      '445 nm: a series left out is off by 0.75 % (root mean square of 2 of 3 series) when the others correct it, and by 4.0 % uncorrected.',
    ]);
    expect(saidOf({ prediction: { ...PREDICTION, rms_error_percent: null } })).toEqual([]);
    expect(saidOf({ bend: LOW, offset: OFFSET, prediction: PREDICTION })).toHaveLength(3);
    expect(saidOf({})).toEqual([expect.stringMatching(/^Every wavelength was measured once/)]);
  });
});

describe('limits at the level', () => {
  const level = {
    place: 'lowest',
    level_mW: 5,
    bias: 1,
    bias_interval: [0.5, 1.5],
    low: -1,
    high: 3,
    low_interval: [-2, 0],
    high_interval: [2, 4],
  };
  const at = (description: string, scale: 'mW' | 'percent') =>
    agreementByLevel(
      only<Result>({
        confidence: 0.95,
        agreement: {
          limits_mW: { low: -1, high: 1 },
          against_level: { description, scale, levels: [level], why: 'W.', bias_change: 'shown' },
        },
      }),
    );

  test.each(['mW', 'percent'] as const)('a row each, in %s', (scale) => {
    const unit = scale === 'mW' ? 'mW' : '%';
    const found = at('changes-with-level', scale);
    expect(found.rows).toEqual([['lowest', 5, 1, [0.5, 1.5], [-1, 3], [-2, 0], [2, 4]]]);
    expect(columnsOf(found)).toEqual([
      ['Level', 'text'],
      ['Mean of both / mW', 'power'],
      [`Bias / ${unit}`, 'percent'],
      [`Its interval / ${unit}`, 'percent'],
      [`Limits / ${unit}`, 'percent'],
      [`Interval of the lower / ${unit}`, 'percent'],
      [`Interval of the upper / ${unit}`, 'percent'],
    ]);
    expect(found.sentences).toHaveLength(2);
  });

  test('no row where constant limits serve', () => {
    for (const description of ['constant-percent', 'constant-mW', 'not-computable']) {
      expect(at(description, 'percent').rows).toEqual([]);
      expect(at(description, 'percent').sentences).toHaveLength(1);
    }
  });
});

const comparison = (changed: object): OpinionComparison =>
  only<OpinionComparison>({
    meter: 'reference',
    value_mW: 98,
    standard_uncertainty_mW: 2,
    difference_percent: -2,
    zeta: 1,
    en: 0.5,
    verdict: 'agrees',
    too_high_at_least_percent: null,
    why: 'Within both.',
    ...changed,
  });
const OPINION = {
  source: 'laser',
  kind: 'certificate',
  date: '2026-01-05',
  value_mW: 100,
  standard_uncertainty_mW: 1,
  supports: 'reference',
  why: 'Weighed.',
  comparisons: [
    comparison({}),
    comparison({ meter: 'candidate', verdict: 'disagrees', why: 'Far off.' }),
    comparison({ meter: 'corrected-candidate', verdict: null, en: null, why: 'Leans.' }),
  ],
};
const opinionsOf = (...given: object[]) =>
  only<Result>({
    opinions: given,
    three_instruments: {
      instruments: [
        { meter: 'reference', relative_sd: 0.01 },
        { meter: 'candidate', relative_sd: 0.02 },
        { meter: 'third-meter', relative_sd: 0.03 },
      ],
      why: 'Grubbs.',
    },
  });

describe('values from elsewhere', () => {
  test('a row for each meter that one is compared with', () => {
    const found = opinions(
      opinionsOf(OPINION, {
        ...OPINION,
        date: null,
        kind: 'maker',
        supports: 'neither',
        standard_uncertainty_mW: null,
        comparisons: [comparison({ verdict: 'too-high', too_high_at_least_percent: 3.14 })],
      }),
    );
    const said = 'certificate, 2026-01-05: speaks for the reference';
    const value = { value: 100, U: 1, both: true };
    const shows = { value: 98, U: 2, both: true };
    expect(found.rows).toEqual([
      ['laser', said, value, 'reference', shows, -2, 1, 0.5, 'agrees'],
      ['laser', said, value, 'candidate, as read', shows, -2, 1, 0.5, 'disagrees'],
      [
        'laser',
        said,
        value,
        'candidate, corrected (leans on the reference)',
        shows,
        -2,
        1,
        null,
        'decides nothing',
      ],
      [
        'laser',
        'maker, as new: contradicts both',
        { value: 100, U: null, both: true },
        'reference',
        shows,
        -2,
        1,
        0.5,
        'reads too high, by 3.1 % at least',
      ],
    ]);
    expect(columnsOf(found)).toEqual([
      ['Source', 'text'],
      ['Value from', 'text'],
      ['Value / mW', 'power'],
      ['Meter', 'text'],
      ['Shows / mW', 'power'],
      ['Difference / %', 'percent'],
      ['ζ', 'percent'],
      ['En', 'percent'],
      ['Outcome', 'text'],
    ]);
    expect(found.notes).toHaveLength(1);
    expect(found.sentences).toEqual([]);
  });

  test.each([
    [null, 'decides nothing'],
    ['agrees', 'agrees'],
    ['possible', 'possible'],
  ] as const)('the outcome %s is "%s"', (verdict, text) => {
    expect(comparisonWords(comparison({ verdict, too_high_at_least_percent: 3 }))).toBe(text);
  });

  test('the sentences name both meters and leave out the corrected one', () => {
    expect(opinionSentences(opinionsOf(OPINION))).toEqual([
      'laser (certificate, 2026-01-05, 100 mW): speaks for the reference. Reference: Within both. Candidate: Far off.',
    ]);
    const alone = [comparison({ meter: 'corrected-candidate' })];
    expect(opinionSentences(opinionsOf({ ...OPINION, date: null, comparisons: alone }))).toEqual([
      'laser (certificate, 100 mW): Weighed.',
    ]);
  });

  test('what they take as independent is said once, where one does', () => {
    const taking = { ...OPINION, why: `Weighed. ${TAKEN_AS_INDEPENDENT}` };
    expect(independence(opinionsOf(OPINION))).toEqual([]);
    expect(independence(opinionsOf(taking, OPINION, taking))).toEqual([TAKEN_AS_INDEPENDENT]);
    expect(opinions(opinionsOf(taking)).notes).toEqual([
      expect.stringContaining('ζ is the difference'),
      TAKEN_AS_INDEPENDENT,
    ]);
  });

  test('the scatter of three instruments is said only with a third meter', () => {
    const third = { ...OPINION, kind: 'third-meter' };
    expect(threeInstruments(opinionsOf(OPINION))).toEqual([]);
    const said =
      'Scatter, one meter apart from the others: reference 1 %, candidate 2 %, third meter 3 %. Grubbs.';
    expect(threeInstruments(opinionsOf(OPINION, third))).toEqual([said]);
    expect(opinions(opinionsOf(third)).sentences).toEqual([said]);
    expect(opinionSentences(opinionsOf(third)).at(-1)).toBe(said);
    const none = {
      ...opinionsOf(third),
      three_instruments: { sources: [], instruments: [], why: 'N.' },
    };
    expect(threeInstruments(none)).toEqual(['N.']);
  });
});

const CHANGE = {
  wavelength_nm: 520,
  earlier_factor: 1.25,
  factor: 1.5,
  change_percent: 20,
  low_percent: 10,
  high_percent: 30,
  verdict: 'moved',
  why: 'Beyond both.',
};

describe('then and now', () => {
  test('a row a wavelength, and the fingerprint of the earlier data', () => {
    const result = only<Result>({
      confidence: 0.95,
      then_and_now: {
        earlier_title: 'First',
        earlier_data_sha256: 'abc',
        wavelengths: [CHANGE],
        why: 'Same reference.',
      },
    });
    const found = changes(result);
    expect(found.rows).toEqual([
      [520, 1.25, 1.5, { value: 20, U: 10, both: false }, [10, 30], 'has moved'],
    ]);
    expect(columnsOf(found)).toEqual([
      ['At / nm', 'number'],
      ['K then', 'value'],
      ['K now', 'value'],
      ['Change / %', 'percent'],
      ['Interval / %', 'percent'],
      ['Verdict', 'text'],
    ]);
    expect(found.notes).toEqual(['Data fingerprint of the earlier study: abc']);
    expect(found.empty).toBe('Neither study has a factor.');
    expect(found.sentences).toEqual([
      'Compared with "First". Same reference.',
      '520 nm, has moved: Beyond both.',
    ]);
  });

  test('without an earlier file there is nothing but that word', () => {
    const found = changes(only<Result>({ confidence: 0.95, then_and_now: null }));
    expect([found.rows, found.notes, found.sentences, found.empty]).toEqual([
      [],
      [],
      [],
      'No earlier factors were given.',
    ]);
  });
});

describe('re-checks', () => {
  const value = (title: string, factor: number | null) => ({
    title,
    factor,
    low: factor === null ? null : factor - 0.25,
    high: factor === null ? null : factor + 0.25,
    relative_standard_uncertainty: factor === null ? null : 0.01,
    why: factor === null ? 'No factor.' : '',
  });
  const chart = (changed: object = {}) =>
    only<ReChecks>({
      wavelength_nm: 520,
      values: [value('First', 1.25), value('Second', null), value('Third', 1.5)],
      centre: 1.375,
      limits: [1, 1.75],
      limits_from_uncertainty: [1.25, 1.5],
      scatter_ratio: 0.5,
      since_first: CHANGE,
      in_control: true,
      why: 'Within.',
      ...changed,
    });
  const found = reChecks({ re_checks: [chart()], confidence: 0.95 });

  test('the chart counts the values that it has', () => {
    expect(found.charts.rows).toEqual([
      [520, 2, 1.375, [1, 1.75], [1.25, 1.5], 0.5, '20 % (10 to 30 %), has moved', 'in control'],
    ]);
    expect(columnsOf(found.charts)).toEqual([
      ['At / nm', 'number'],
      ['Values', 'count'],
      ['Centre', 'value'],
      ['Limits from the scatter', 'number'],
      ['Limits from the uncertainty', 'number'],
      ['Scatter over uncertainty', 'percent'],
      ['First to last', 'text'],
      ['Verdict', 'text'],
    ]);
    expect(found.charts.notes).toHaveLength(1);
  });

  test('the values are numbered as they stand on the chart', () => {
    expect(found.values.rows).toEqual([
      [520, '1', 'First', 1.25, [1, 1.5], 0.01, ''],
      [520, 'none', 'Second', null, [null, null], null, 'No factor.'],
      [520, '2', 'Third', 1.5, [1.25, 1.75], 0.01, ''],
    ]);
    expect(columnsOf(found.values)).toEqual([
      ['At / nm', 'number'],
      ['No.', 'text'],
      ['Study', 'text'],
      ['K', 'value'],
      ['Interval', 'number'],
      ['u / %', 'fraction'],
      ['Remarks', 'text'],
    ]);
    expect(placesOnChart(chart())).toEqual([1, null, 2]);
  });

  test('without charts there are no rows', () => {
    const none = reChecks({ re_checks: null, confidence: 0.95 });
    expect([none.charts.rows, none.values.rows]).toEqual([[], []]);
    const said = [expect.stringMatching(/^Fewer than two earlier files/)];
    expect(none.charts.sentences).toEqual(said);
    expect(reCheckSentences([])).toEqual(said);
  });

  test('the sentences: the studies, then each chart with what came of the first', () => {
    expect(found.charts.sentences).toEqual([
      'Oldest first, in the order given: "First", "Second", "Third".',
      '520 nm, in control: Within. From the first to the last: +20 % (10 to 30 %), has moved.',
    ]);
    const last = (since_first: object | null) => reCheckSentences([chart({ since_first })]).at(-1);
    expect(last({ ...CHANGE, change_percent: -20, low_percent: -30, high_percent: -10 })).toMatch(
      / last: −20 % \(−30 to −10 %\), has moved\.$/,
    );
    expect(last({ ...CHANGE, change_percent: 0 })).toMatch(/ last: 0 % /);
    expect(last({ ...CHANGE, change_percent: null })).toBe('520 nm, in control: Within.');
    expect(last(null)).toBe('520 nm, in control: Within.');
  });

  test('nothing from the first to the last where that is not known', () => {
    const cell = (since_first: object | null) =>
      reChecks({ re_checks: [chart({ since_first })], confidence: 0.95 }).charts.rows[0]?.[6];
    expect([cell(null), cell({ ...CHANGE, change_percent: null })]).toEqual([null, null]);
  });

  test.each([
    [null, true, 'no chart'],
    [1, null, 'cannot be told'],
    [1, true, 'in control'],
    [1, false, 'out of control'],
  ])('with centre %s and in_control %s: %s', (centre, in_control, text) => {
    expect(controlWords({ centre, in_control })).toBe(text);
  });
});

test('wavelength settings', () => {
  const found = settings(
    only<Result>({
      confidence: 0.95,
      settings: [
        {
          series: 's',
          source: 'laser',
          wavelength_nm: 520,
          meter: 'candidate',
          from_nm: 520,
          to_nm: 640,
          ratio: 1.25,
          low: 1,
          high: 1.5,
          why: 'Clear.',
        },
      ],
    }),
  );
  expect(found.rows).toEqual([
    [
      's',
      'laser, 520 nm',
      'candidate',
      520,
      640,
      { value: 1.25, U: 0.25, both: false },
      [1, 1.5],
      'Clear.',
    ],
  ]);
  expect(columnsOf(found)).toEqual([
    ['Series', 'text'],
    ['Source', 'text'],
    ['Meter', 'text'],
    ['From / nm', 'number'],
    ['To / nm', 'number'],
    ['Reading changes by a factor of', 'value'],
    ['Interval', 'number'],
    ['Remarks', 'text'],
  ]);
});

test('infrared behind a filter', () => {
  const found = infrared(
    only<Result>({
      infrared: [
        {
          source: 'laser',
          wavelength_nm: 532,
          filter: 'KG',
          wanted_mW: 20,
          infrared_mW: 5,
          infrared_fraction: 0.2,
          infrared_fraction_standard_uncertainty: 0.01,
          why: 'Told apart.',
        },
      ],
    }),
  );
  expect(found.rows).toEqual([
    ['laser, 532 nm', 'KG', 20, 5, { value: 0.2, U: 0.01, both: true }, 'Told apart.'],
  ]);
  expect(columnsOf(found)).toEqual([
    ['Source', 'text'],
    ['Filter', 'text'],
    ['Wanted line / mW', 'power'],
    ['Infrared / mW', 'power'],
    ['Infrared part of the reading / %', 'fraction'],
    ['Remarks', 'text'],
  ]);
  expect(found.notes).toHaveLength(1);
});
