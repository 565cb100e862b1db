import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { opinionSentences } from '../../src/findings/opinionSentences.js';
import type { Notebook } from '../../src/notebook/notebookFile.js';
import { asNewBound, compatibilityScore } from '../../src/opinions/secondOpinion.js';
import { readStudy } from '../../src/record/readStudy.js';
import type { OpinionResult, Result, Study } from '../../src/vocabulary.js';
import {
  columnOf,
  errorStreams,
  expectPrinted,
  htmlOf,
  root,
  runWithAnswers,
  sentencesOf,
} from './notebookRun.js';

// Each run starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const folder = join(root, 'data-demo', '4-second-opinion');

describe('5-second-opinion.ipynb', () => {
  let run: Notebook;
  let study: Study;
  let result: Result;
  const opinion = (source: string, kind: OpinionResult['kind']) => {
    const found = result.opinions.find((one) => one.source === source && one.kind === kind);
    if (found === undefined) throw new Error(`No ${kind} for ${source}`);
    return found;
  };
  const compared = (one: OpinionResult, meter: string) => {
    const found = one.comparisons.find((each) => each.meter === meter);
    if (found === undefined) throw new Error(`No ${meter}`);
    return found;
  };

  beforeAll(async () => {
    study = await readStudy(folder);
    result = analyse(study);
    // By hand: d = 2.5, u = 0.8, u₀ = 1.2/2 = 0.6, so √(u² + u₀²) = 1 and ζ = 2.5. Slips: E_n = 1.25;
    // U taken for u: 2.5/√(0.64 + 1.44); without the certificate's own: 2.5/0.8.
    run = await runWithAnswers('5-second-opinion.ipynb', ['2.5', '1.25', '1.733', '3.125', '9']);
  });

  test('groups the kept runs by source and meter', () => {
    const groups = study.series.flatMap(({ source, runs }) =>
      [...new Set(runs.map((one) => one.meter))].map((meter) => {
        const shown = runs.filter((one) => one.meter === meter).map((one) => one.reading_mW);
        return { source, meter, mean: shown.reduce((sum, one) => sum + one, 0) / shown.length };
      }),
    );
    expect(result.series.flatMap((one) => one.excluded)).toEqual([]);
    expect(columnOf(run, 'frame', 'source')).toEqual(groups.map((one) => one.source));
    expect(columnOf(run, 'frame', 'meter')).toEqual(groups.map((one) => one.meter));
    columnOf(run, 'frame', 'reading_mW_mean').forEach((text, i) => {
      expect(Math.abs(Number(text) / groups[i]!.mean - 1)).toBeLessThan(5e-4);
    });
  });

  test('lists the opinions as stated and knows which of them can contradict anybody', () => {
    const values = columnOf(run, 'stated', 'Value in mW').map(Number);
    expect(values).toEqual(study.opinions.map((one) => one.value_mW));
    const can = columnOf(run, 'stated', 'Can contradict');
    study.opinions.forEach((one, i) => {
      expect(can[i]).toBe(
        one.expanded_uncertainty_mW === null ? 'nobody' : 'a meter on either side',
      );
    });
    expect(can).toContain('nobody');
  });

  test('shows ζ of every value with an uncertainty, and E_n of two claims only', () => {
    const rows = result.opinions.flatMap((one) =>
      one.kind === 'maker'
        ? []
        : (['reference', 'candidate'] as const).map((meter) => compared(one, meter)),
    );
    const zeta = columnOf(run, 'scores', 'ζ');
    const en = columnOf(run, 'scores', 'E_n');
    const difference = columnOf(run, 'scores', 'Difference ± u in mW').map((one) =>
      one.split(' ± '),
    );
    expect(zeta).toHaveLength(rows.length);
    rows.forEach((one, i) => {
      expectPrinted(zeta[i], one.zeta);
      const [d, u] = difference[i];
      expectPrinted(d, one.difference_mW ?? 0);
      expectPrinted(u, (one.difference_mW ?? 0) / (one.zeta ?? 0));
      if (one.meter === 'candidate') expect(en[i]).toBe('no claim to test');
      else expectPrinted(en[i], (one.zeta ?? 0) / 2);
    });
  });

  test('turns the outcome by the uncertainty alone, as compatibilityScore does', () => {
    const one = opinion('violet module', 'certificate');
    const { value_mW, standard_uncertainty_mW: u } = compared(one, 'reference');
    const ours = { value_mW: value_mW ?? 0, standardUncertainty_mW: u };
    const outcomes = columnOf(run, 'agree', 'Outcome');
    const zeta = columnOf(run, 'agree', 'ζ');
    const worth = columnOf(run, 'agree', 'would still agree, if off by up to, in %');
    [0.5, 1, 2, 5, 10].forEach((times, i) => {
      const standardUncertainty_mW = times * (one.standard_uncertainty_mW ?? 0);
      const score = compatibilityScore({
        ours,
        theirs: { value_mW: one.value_mW, standardUncertainty_mW },
      });
      expect(outcomes[i]).toBe(score.verdict);
      expectPrinted(zeta[i], score.zeta);
      // |ζ| ≤ 2 agrees: twice √(u² + u₀²), in percent of their value
      expectPrinted(worth[i], (200 * Math.hypot(u ?? 0, standardUncertainty_mW)) / one.value_mW);
    });
    expect(outcomes[0]).toBe('disagrees');
    expect(outcomes.at(-1)).toBe('agrees');
  });

  test('makes a shared calibration weigh, and a missing uncertainty say nothing', () => {
    const times = sentencesOf(run, 'common').map((text) =>
      Number(/([\d.]+) times the standard/.exec(text)?.[1]),
    );
    expect(times[1]).toBeGreaterThan(times[0] ?? Number.NaN);
    const [, stated = '', unstated = ''] = sentencesOf(run, 'unstated');
    expect(stated).toContain('wrong by more than it admits');
    expect(unstated).toContain('nobody can say whether that is much');
  });

  test('sets labels beside the readings, and draws nothing from them', () => {
    const shown = sentencesOf(run, 'label');
    expect(shown).toHaveLength(study.sources.length);
    study.sources.forEach((source, i) => {
      expect(shown[i]).toContain(`at most ${source.label_max_mW} mW`);
      expect(shown[i]).not.toMatch(/right|wrong|agrees/);
    });
  });

  test('bounds from one side: too high with an uncertainty, nothing without, never a meter right', () => {
    const green = compared(opinion('green module', 'maker'), 'candidate');
    const now = {
      value_mW: green.value_mW ?? 0,
      standardUncertainty_mW: green.standard_uncertainty_mW,
    };
    const bound = asNewBound({ now, asNew: { value_mW: 45, standardUncertainty_mW: 0.9 } });
    expect(bound.verdict).toBe('too-high');
    const meters = columnOf(run, 'as-new', 'Meter');
    const stated = columnOf(run, 'as-new', 'As stated');
    const supposed = columnOf(run, 'as-new', 'If u were 2 %');
    expect(meters).toHaveLength(4);
    expect(stated[3]).toBe('decides nothing');
    expectPrinted(/by ([\d.]+) %/.exec(supposed[3] ?? '')?.[1], 100 * (bound.atLeast ?? 0));
    expect(supposed.slice(0, 3)).toEqual(Array(3).fill('possible; nothing follows'));
    expect([...stated, ...supposed].join()).not.toContain('right');
  });

  test('supports the meter that is right by the truth of the bench', () => {
    const truth = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as {
      series: { source: string; factor_to_truth: number; factor_to_reference: number }[];
    };
    const sources = columnOf(run, 'which', 'Source');
    const kinds = columnOf(run, 'which', 'Value from');
    const says = columnOf(run, 'which', 'Says');
    const judged = sources.flatMap((source, i) =>
      kinds[i] === 'maker, as new' ? [] : [{ source, says: says[i] }],
    );
    expect(judged).toHaveLength(4);
    for (const { source, says: said } of judged) {
      const one = truth.series.find((series) => series.source === source);
      const candidateOff = Math.abs((one?.factor_to_truth ?? 0) - 1);
      const referenceOff = Math.abs(
        (one?.factor_to_truth ?? 0) / (one?.factor_to_reference ?? 1) - 1,
      );
      const right = referenceOff < candidateOff ? 'reference' : 'candidate';
      expect(said).toBe(`speaks for the ${right}`);
    }
    const why = sentencesOf(run, 'why');
    for (const sentence of opinionSentences(result)) expect(why).toContain(sentence);
    expect(why.filter((one) => one.includes('contradicts the reference at 405 nm'))).toHaveLength(
      2,
    );
  });

  test('cannot split the scatter of two meters, and can that of three', () => {
    const [a, b] = ['reference', 'candidate'].map((name) =>
      columnOf(run, 'two', `Scatter of ${name} in %`).map(Number),
    );
    const total = columnOf(run, 'two', 'Scatter of the differences in %').map(Number);
    total.forEach((sum, i) => {
      expect(Math.hypot(a[i], b[i])).toBeCloseTo(sum, 0);
    });
    expect(new Set(total).size).toBe(1);
    expect(new Set(a).size).toBe(3);
    expect(columnOf(run, 'three', 'Items')).toEqual(['3', '4', '6', '8']);
    expect(columnOf(run, 'three', 'reference in %')[0]).toBe('variance negative');
    // Grubbs 1948, by hand from the variances of the logarithms of the ratios of all eight lasers.
    const source = run.cells.find((cell) => cell.id === 'two')?.source ?? [];
    const values = [
      ...[source]
        .flat()
        .join('')
        .matchAll(/= \[([\d., ]+)\];/g),
    ].map(([, list]) => (list ?? '').split(',').map((value) => Math.log(Number(value))));
    const variance = (x: readonly number[], y: readonly number[]) => {
      const d = x.map((value, i) => value - (y[i] ?? 0));
      const centre = d.reduce((sum, one) => sum + one, 0) / d.length;
      return d.reduce((sum, one) => sum + (one - centre) ** 2, 0) / (d.length - 1);
    };
    const [r, c, t] = values;
    const [rc, rt, ct] = [variance(r, c), variance(r, t), variance(c, t)];
    const expected = [rc + rt - ct, rc + ct - rt, rt + ct - rc].map(
      (twice) => 100 * Math.sqrt(twice / 2),
    );
    for (const [i, name] of ['reference', 'candidate', 'third meter'].entries()) {
      expectPrinted(columnOf(run, 'three', `${name} in %`).at(-1), expected[i]);
    }
    expect(sentencesOf(run, 'three-study')).toEqual([result.three_instruments.why]);
  });

  test('draws the figure and says it in words', () => {
    expect(htmlOf(run, 'figure')).toContain('violet module, from the reference: candidate 10 %');
  });

  test('checks the exercise', () => {
    expect(sentencesOf(run, 'answer')[0]).toMatch(/^No answer yet. Write it/);
    expect(sentencesOf(run, 'answer-0')[0]).toMatch(/^Right: 2.5; U ÷ k/);
    expect(sentencesOf(run, 'answer-1')[0]).toContain('that is E_n');
    expect(sentencesOf(run, 'answer-2')[0]).toContain('U is k standard uncertainties');
    expect(sentencesOf(run, 'answer-3')[0]).toContain('has an uncertainty too');
    expect(sentencesOf(run, 'answer-4')[0]).toMatch(/^Not yet. Hint: /);
    expect(errorStreams(run)).toEqual([]);
  });
});

test('a study without any opinion runs through, and says what is missing', async () => {
  const run = await runWithAnswers('5-second-opinion.ipynb', ['2.5'], {
    'study-folder': '../data-demo/2-side-by-side',
  });
  expect(sentencesOf(run, 'stated')[0]).toContain('no opinions.json');
  expect(sentencesOf(run, 'scores')[0]).toContain('no score can be formed');
  expect(sentencesOf(run, 'read').at(-1)).toMatch(
    /has no value with an uncertainty.* invented pair/,
  );
  expect(sentencesOf(run, 'agree')[0]).toBe('An invented pair:');
  expect(sentencesOf(run, 'unstated')[0]).toContain('An invented pair');
  expect(sentencesOf(run, 'which')).toEqual(['There is nobody to ask.']);
  expect(sentencesOf(run, 'answer-0')[0]).toMatch(/^Right: 2.5; U ÷ k/);
  expect(errorStreams(run)).toEqual([]);
});
