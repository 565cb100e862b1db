import { describe, expect, test } from 'vitest';
import { opinionFigure } from '../../src/figures/opinionFigure.js';
import { threeInstrumentRows, twoInstrumentRows } from '../../src/notebook/rows/scatterRows.js';
import {
  scoreRows,
  statedOpinionRows,
  supportRows,
} from '../../src/notebook/rows/secondOpinionRows.js';
import { asNewRows, scoreByUncertaintyRows } from '../../src/notebook/rows/whatIfRows.js';
import {
  labelSentences,
  pairFarthestApart,
  unstatedSentences,
} from '../../src/notebook/sentences/secondOpinionSentences.js';
import { tableHtml } from '../../src/notebook/tableHtml.js';
import { asNewBound } from '../../src/opinions/secondOpinion.js';
import type { OpinionResult, Result } from '../../src/vocabulary.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';
import { HOSTILE, hostileExample } from '../report/hostile.js';

const study = exampleStudy();
const result = exampleResult();
const none: Result = { ...result, opinions: [] };

/** A maker's value beside one meter; `why` as the analysis writes it. */
function maker(now_mW: number, asNew_mW: number, u: number | null, why?: string): OpinionResult {
  const now = { value_mW: now_mW, standardUncertainty_mW: 1 };
  const bound = asNewBound({ now, asNew: { value_mW: asNew_mW, standardUncertainty_mW: u } });
  const [first] = result.opinions;
  return {
    ...first,
    kind: 'maker',
    value_mW: asNew_mW,
    standard_uncertainty_mW: u,
    comparisons: [
      {
        ...first.comparisons[0],
        meter: 'candidate',
        value_mW: now_mW,
        standard_uncertainty_mW: 1,
        zeta: null,
        en: null,
        verdict: bound.verdict,
        why: why ?? bound.why,
      },
    ],
  };
}

describe('rows about second opinions', () => {
  test('a value without uncertainty can contradict nobody, a maker’s one only upwards', () => {
    const [plain] = study.opinions;
    const stated = { ...plain, expanded_uncertainty_mW: 2, coverage_factor: 2 };
    const opinions = [
      plain,
      stated,
      { ...stated, coverage_factor: null },
      { ...stated, kind: 'certificate' as const },
    ];
    expect(statedOpinionRows({ ...study, opinions }).map((row) => row['Can contradict'])).toEqual([
      'nobody',
      'a meter that shows more',
      'nobody',
      'a meter on either side',
    ]);
  });

  test('scores stand beside what they divide by, and no E_n is made up', () => {
    const rows = scoreRows(result);
    expect(rows.map((row) => row.Meter)).toEqual(['reference', 'candidate']);
    // 2.4/1.05 = 2.29
    expect(rows[0]['Difference ± u in mW']).toBe('2.4 ± 2.3');
    expect(rows.map((row) => row.E_n)).toEqual(['0.53', 'no claim to test']);
    expect(scoreRows(none)).toEqual([]);
    expect(supportRows(result).map((row) => row.Says)).toEqual([
      'does not decide',
      'does not decide',
    ]);
  });

  test('a wider uncertainty turns disagreement into agreement', () => {
    // d = 10, u = 3, u₀ = 4 doubled and halved by hand: 10/√(9 + 4) = 2.77; 10/5 = 2; 10/√(9 + 64) = 1.17
    const rows = scoreByUncertaintyRows({
      ours: { value_mW: 110, standardUncertainty_mW: 3 },
      theirs: { value_mW: 100, standardUncertainty_mW: 4 },
      times: [0.5, 1, 2],
    });
    expect(rows.map((row) => row.ζ)).toEqual(['2.8', '2.0', '1.2']);
    expect(rows.map((row) => row.Outcome)).toEqual(['questionable', 'agrees', 'agrees']);
    expect(rows[1]['would still agree, if off by up to, in %']).toBe('10');
    const theirs = { value_mW: 100, standardUncertainty_mW: null };
    expect(scoreByUncertaintyRows({ ours: theirs, theirs, times: [1] })).toEqual([]);
  });

  test('an as-new value speaks against a meter that shows more, once it has an uncertainty', () => {
    const suppose = { relative_standard_uncertainty: 0.02 };
    const rows = asNewRows({ ...result, opinions: [maker(60, 50, null)] }, suppose);
    expect(rows[0]['As stated']).toBe('decides nothing');
    // 60 − 50 − 1.645·√(1 + 1) over 50 + 1.645·√2
    expect(rows[0]['If u were 2 %']).toBe('reads too high, by 15 % at least');
    const below = asNewRows({ ...result, opinions: [maker(20, 50, 1)] }, suppose);
    expect(below[0]['As stated']).toBe('possible; nothing follows');
  });

  test('a source that the analysis does not judge is not judged under a supposition', () => {
    const blocked = maker(60, 50, null, 'A frequency-doubled source: nothing follows.');
    const rows = asNewRows(
      { ...result, opinions: [blocked] },
      { relative_standard_uncertainty: 0.01 },
    );
    expect(rows[0]['If u were 1 %']).toBe('not judged');
    expect(() => asNewRows(result, { relative_standard_uncertainty: 0 })).toThrow(/above 0/);
  });
});

describe('rows about scatter', () => {
  // Logarithms ± 0.03 and 0 of the ratios: standard deviation 0.03
  const a = { name: 'one', values: [100 * Math.exp(0.03), 200, 300 * Math.exp(-0.03)] };
  const b = { name: 'other', values: [100, 200, 300] };

  test('two instruments show a sum of squares, which every split fits', () => {
    const rows = twoInstrumentRows(a, b);
    expect(rows.map((row) => row['Scatter of one in %'])).toEqual(['0', '2.1', '3']);
    expect(rows.map((row) => row['Scatter of other in %'])).toEqual(['3', '2.1', '0']);
    expect(() => twoInstrumentRows(a, { ...b, values: [1] })).toThrow(/one value per item/);
    expect(() => twoInstrumentRows(a, { ...b, values: [1, 0, 2] })).toThrow(/above 0/);
  });

  test('three instruments: all of it in the one that differs, and a negative one is named', () => {
    const rows = threeInstrumentRows([a, b, { ...b, name: 'third' }], [3]);
    expect(rows).toEqual([{ Items: 3, 'one in %': '3', 'other in %': '0', 'third in %': '0' }]);
    // x = 1, −1, 0 and y = 0.5, −0.5, 0 in percent and z = 0: variances of differences 0.25, 1, 0.25,
    // so that of y is ½ (0.25 + 0.25 − 1) < 0
    const of = (name: string, logs: readonly number[]) => ({
      name,
      values: logs.map((log) => 100 * Math.exp(log / 100)),
    });
    const items = [of('x', [1, -1, 0]), of('y', [0.5, -0.5, 0]), of('z', [0, 0, 0])];
    expect(threeInstrumentRows(items, [3])[0]['y in %']).toBe('variance negative');
    expect(() => threeInstrumentRows(items, [2])).toThrow(/at least 3/);
  });
});

describe('sentences', () => {
  test('the pair farthest apart is the study’s own, and an invented one says so', () => {
    expect(pairFarthestApart(result)).toMatchObject({
      ours: { value_mW: 112.4 },
      theirs: { value_mW: 110, standardUncertainty_mW: 1.5 },
    });
    const invented = pairFarthestApart(none);
    expect(invented.name).toContain('invented');
    const [, , unstated] = unstatedSentences(invented);
    expect(unstated).toContain('nobody can say');
  });

  test('labels stand beside readings; a missing one is said', () => {
    const shown = labelSentences(study, result);
    expect(shown).toHaveLength(study.sources.length);
    expect(shown[0]).toMatch(/label class 3R, at most 5 mW\. The meters showed .* mW\./);
    expect(shown[3]).toContain('no label stated');
  });
});

describe('opinionFigure', () => {
  test('draws meters and values in percent of the reference, bars of two standard uncertainties', () => {
    const figure = opinionFigure(result);
    const value = figure.data.find(
      (one) => 'name' in one && one.name === 'value from elsewhere' && 'error_x' in one,
    ) as { x: number[]; error_x: { array: number[] } };
    expect(value.x[0]).toBeCloseTo(100 * (110 / 112.4 - 1), 9);
    expect(value.error_x.array[0]).toBeCloseTo((100 * 3) / 112.4, 9);
    expect(figure.alt).toContain('certificate −2.1 %');
  });

  test('a value without uncertainty has no bar', () => {
    const bounds = opinionFigure(result).data.filter(
      (one) => 'name' in one && one.name === 'as new: at most this much',
    ) as { x: (number | null)[]; error_x?: object }[];
    const drawn = bounds.filter((one) => one.x[0] !== null);
    expect(drawn).toHaveLength(1);
    expect(drawn[0].error_x).toBeUndefined();
  });

  test('says so when there is nothing to draw, and sets no text from a file as markup', () => {
    expect(JSON.stringify(opinionFigure(none).layout.annotations)).toContain('no value from');
    const { study: bad, result: worse } = hostileExample();
    const named = {
      ...result,
      opinions: result.opinions.map((one) => ({ ...one, source: HOSTILE })),
    };
    expect(JSON.stringify(opinionFigure(named))).not.toMatch(/<(script|img|a)\b/i);
    expect(opinionFigure(worse).alt).not.toMatch(/NaN|undefined/);
    const tables = [statedOpinionRows(bad), scoreRows(worse), supportRows(worse)].map((rows) =>
      tableHtml(rows),
    );
    expect(tables.join('')).not.toMatch(/<(script|img|a)\b/i);
  });
});
