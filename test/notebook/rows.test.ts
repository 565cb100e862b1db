import { describe, expect, test } from 'vitest';
import {
  agreementRows,
  budgetRows,
  changeRows,
  differenceRows,
  exclusionEffectRows,
  exclusionRows,
  factorRows,
  flagRows,
  hazardRows,
  opinionRows,
  powerRows,
  seriesFactorRows,
  seriesRows,
} from '../../src/notebook/rows/index.js';
import {
  changeSentences,
  driftSentences,
  hazardSentences,
  meansSentences,
  nextSentences,
  opinionSentences,
  powerSentences,
  recordSentences,
  studySentences,
  verdictSentences,
  warningSentences,
} from '../../src/notebook/sentences/index.js';
import { tableHtml } from '../../src/notebook/tableHtml.js';
import type { Result } from '../../src/vocabulary.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';

const study = exampleStudy();
const result = exampleResult();

/** A result in which nothing could be computed: every number that may be missing is missing. */
const empty: Result = {
  ...result,
  series: result.series.map((series) => ({
    ...series,
    difference_mW: { mean: null, sd: null, low: null, high: null },
    difference_percent: { mean: null, sd: null, low: null, high: null },
    limits_percent: {
      low: null,
      high: null,
      low_interval: [null, null],
      high_interval: [null, null],
    },
    drift: {
      degree: null,
      evident_degree: null,
      percent_per_run: null,
      percent_per_run_interval: [null, null],
      wander_percent_per_run: null,
      order_bias_percent: null,
    },
    factor: { value: null, relative_standard_uncertainty: null, dof: null, low: null, high: null },
    exclusion_effects: [{ kind: 'declared', runs: [1], factor_with: null, factor_without: null }],
    further_laps: null,
    verdict: 'inconclusive',
  })),
  wavelengths: result.wavelengths.map((one) => ({
    ...one,
    factor: null,
    low: null,
    high: null,
    dof: null,
    relative_expanded_uncertainty: null,
    coverage_factor: null,
    budget: [],
    verdict: 'inconclusive',
  })),
  hazard: result.hazard.map((one) => ({
    ...one,
    highest_mW: null,
    upper_mW: null,
    class: null,
    reading_class: null,
    label_class: null,
    label_max_mW: null,
    label_understates: null,
  })),
  warnings: [],
};

const tables = (of: Result) => [
  seriesRows(study, of),
  exclusionRows(study, of),
  exclusionEffectRows(of),
  flagRows(study, of),
  differenceRows(of),
  agreementRows(of),
  seriesFactorRows(of),
  factorRows(of),
  budgetRows(of),
  hazardRows(of),
  powerRows(of),
  opinionRows(of),
  changeRows(of),
];

const texts = (of: Result) => [
  ...studySentences(study),
  ...driftSentences(of),
  ...verdictSentences(of),
  ...nextSentences(of),
  ...hazardSentences(of),
  ...warningSentences(of),
  ...recordSentences(of),
  ...meansSentences(of),
  ...powerSentences(of),
  ...opinionSentences(of),
  ...changeSentences(of),
];

test('no table and no sentence shows a number that is none, nor a missing one as a word', () => {
  for (const of of [result, empty]) {
    const all = [...tables(of).map((rows) => tableHtml(rows)), ...texts(of)].join('\n');
    expect(all).not.toMatch(/NaN|Infinity|null|undefined/);
  }
});

test('tables of numbers are set right', () => {
  expect(tableHtml(factorRows(result))).toContain('<td style="text-align:right');
  const columns = tableHtml(differenceRows(result)).match(/<th style="text-align:(\w+)/g) ?? [];
  expect(columns.filter((column) => column.endsWith('left'))).toHaveLength(1);
});

describe('power, second opinion, then and now', () => {
  test('rows stand for what could be computed, with its verdict in words', () => {
    const rows = powerRows(result);
    expect(rows.map((row) => row.Wavelength)).toEqual(['445 nm']);
    expect(rows[0]?.['Bend at the top in %, scatter of the study']).toBe(
      '−3.1 (−5.6 to −0.5): candidate reads low at the top',
    );
    expect(powerSentences(result).join(' ')).toContain('off by 0.75 %');
  });

  test('an opinion has one row a meter, and the missing score is a dash', () => {
    const rows = opinionRows(result);
    expect(rows.map((row) => row.Outcome)).toEqual(['agrees', 'questionable', 'decides nothing']);
    expect(rows.map((row) => row.E_n)).toEqual(['0.53', '—', '—']);
  });

  test('a factor that has moved is said so first by its number, then in words', () => {
    expect(changeRows(result)[0]).toMatchObject({
      'Wavelength in nm': 638,
      'Change in %': '−3.8',
      Verdict: 'has moved',
    });
    expect(changeSentences(result).join(' ')).toContain('638 nm, has moved');
  });

  test('without any of them there is no row, and one sentence says so', () => {
    const bare: Result = { ...result, opinions: [], then_and_now: null };
    expect(opinionRows(bare)).toEqual([]);
    expect(changeRows(bare)).toEqual([]);
    expect(opinionSentences(bare)).toEqual(['No second opinion was given.']);
    expect(changeSentences(bare)).toEqual(['No earlier factors were given.']);
    const once = result.power.by_wavelength.slice(0, 1);
    const single = powerSentences({ ...result, power: { ...result.power, by_wavelength: once } });
    expect(single).toHaveLength(1);
  });
});

describe('what is left out', () => {
  test('is listed run by run, each with the reading it had and the reason', () => {
    const rows = exclusionRows(study, result);
    expect(rows).toHaveLength(result.series.flatMap((series) => series.excluded).length);
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows) {
      const series = study.series.find((one) => one.id === row.Series);
      const run = series?.runs.find((one) => one.run === row.Run);
      expect(row['Reading in mW']).toBe(run?.reading_mW);
      expect(row.Reason).not.toBe('');
    }
  });

  test('shows its effect on the factor, by hand: from 1.10 to 1.21 is 10 %', () => {
    const [series] = result.series;
    if (series === undefined) throw new Error('The example has no series.');
    const one: Result = {
      ...result,
      series: [
        {
          ...series,
          exclusion_effects: [
            { kind: 'cold-start', runs: [1, 2], factor_with: 1.1, factor_without: 1.21 },
          ],
        },
      ],
    };
    expect(exclusionEffectRows(one)).toEqual([
      {
        Series: series.id,
        Kind: 'cold-start',
        Runs: '1, 2',
        'K with them': '1.1',
        'K without them': '1.21',
        Change: '10 %',
      },
    ]);
  });
});

describe('factors', () => {
  test('are not shown where the data cannot tell', () => {
    const rows = factorRows(result);
    const open = result.wavelengths.filter((one) => one.verdict === 'inconclusive');
    expect(open.length).toBeGreaterThan(0);
    for (const one of open) {
      const row = rows.find((found) => found['Wavelength in nm'] === one.wavelength_nm);
      expect(row?.['Factor K']).toBe('—');
      expect(row?.Interval).toBe('—');
    }
  });

  test('stand in the order and number of the wavelengths', () => {
    expect(factorRows(result).map((row) => row['Wavelength in nm'])).toEqual(
      result.wavelengths.map((one) => one.wavelength_nm),
    );
  });
});

test('the budget begins with the largest contribution of each wavelength', () => {
  for (const one of result.wavelengths.filter((found) => found.budget.length > 0)) {
    const [first] = budgetRows({ ...result, wavelengths: [one] });
    const largest = [...one.budget].sort((a, b) => b.share - a.share)[0];
    expect(first?.Contribution).toBe(largest?.name);
  }
});

describe('hazard', () => {
  test('never prints a power smaller than it is', () => {
    const shown = hazardRows(result).map((row) => Number.parseFloat(String(row['Highest seen'])));
    expect(shown.length).toBeGreaterThan(0);
    result.hazard.forEach((one, place) => {
      if (one.highest_mW !== null) expect(shown[place]).toBeGreaterThanOrEqual(one.highest_mW);
    });
  });

  test('names labels that understate first, and ends with who decides', () => {
    const understated = result.hazard.filter((one) => one.label_understates === true);
    expect(understated.length).toBeGreaterThan(0);
    const sentences = hazardSentences(result);
    for (const sentence of sentences.slice(0, understated.length)) {
      expect(sentence).toContain('More hazardous than labelled');
    }
    expect(sentences.at(-1)).toContain('laser safety officer');
  });
});

test('a study without a stated tolerance or reference uncertainty says so', () => {
  const text = studySentences({
    ...study,
    tolerance_stated: false,
    reference: { ...study.reference, expanded_uncertainty_percent: null },
  }).join(' ');
  expect(text).toContain('the study states no tolerance');
  expect(text).toContain('relative to this reference only');
});
