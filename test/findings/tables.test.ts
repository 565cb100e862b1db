import { describe, expect, test } from 'vitest';
import { answer } from '../../src/findings/answer.js';
import { budgetMatrix, budgetOrigins } from '../../src/findings/budgetFinding.js';
import { doubts, nextStep } from '../../src/findings/doubts.js';
import { cellText, type Finding } from '../../src/findings/finding.js';
import { hazardFinding } from '../../src/findings/hazardFinding.js';
import { opinionSentences } from '../../src/findings/opinionSentences.js';
import { powerSentences } from '../../src/findings/powerSentences.js';
import {
  beforeAndAfter,
  differences,
  drift,
  leftOut,
  seriesFactors,
} from '../../src/findings/seriesFindings.js';
import {
  agreementByLevel,
  changes,
  infrared,
  means,
  opinions,
  power,
  reChecks,
  settings,
} from '../../src/findings/spokenFindings.js';
import { meters, opinionsStated, readings, seriesList } from '../../src/findings/studyFindings.js';
import { otherWarnings } from '../../src/findings/warningRank.js';
import { labelWords } from '../../src/findings/words.js';
import { recordSentences } from '../../src/notebook/sentences/recordSentences.js';
import { studySentences } from '../../src/notebook/sentences/studySentences.js';
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

const tables = (of: Result): readonly Finding[] => [
  answer(of),
  budgetMatrix(of),
  budgetOrigins(of),
  hazardFinding(of),
  seriesFactors(of),
  differences(of),
  beforeAndAfter(of),
  drift(of),
  leftOut(of),
  power(of),
  agreementByLevel(of),
  means(of),
  opinions(of),
  changes(of),
  reChecks(of).charts,
  reChecks(of).values,
  settings(of),
  infrared(of),
  meters(study),
  seriesList(study, of),
  opinionsStated(study),
  readings(study, of),
];

/** The cells of a finding as they are printed, by the head of their column. */
function shown({ columns, rows }: Finding, head: string): readonly string[] {
  const at = columns.findIndex((column) => column.head === head);
  if (at < 0) throw new Error(`no column ${head}`);
  return rows.map((row) => cellText(columns[at] ?? { kind: 'text' }, row[at] ?? null));
}

test('no table and no sentence shows a number that is none, nor a missing one as a word', () => {
  for (const of of [result, empty]) {
    const printed = tables(of).flatMap(({ columns, rows, notes, sentences, title }) => [
      title,
      ...notes,
      ...sentences,
      ...rows.flatMap((row) => row.map((cell, i) => cellText(columns[i], cell))),
    ]);
    const all = [
      ...printed,
      ...doubts(of, study),
      nextStep(of),
      ...otherWarnings(of),
      ...studySentences(study),
      ...recordSentences(of),
    ].join('\n');
    expect(all).not.toMatch(/NaN|Infinity|null|undefined|\[object/);
    expect(all.length).toBeGreaterThan(1000);
  }
});

test('every row has a cell for every column, and every finding a name of its own', () => {
  const all = tables(result);
  for (const { columns, rows } of all) {
    for (const row of rows) expect(row).toHaveLength(columns.length);
  }
  expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
});

describe('power, second opinion, then and now', () => {
  test('rows stand for what could be computed, with its verdict in words', () => {
    expect(shown(power(result), 'Wavelength')).toEqual(['445 nm']);
    expect(shown(power(result), 'Bend at the top')).toEqual(['−3.1']);
    expect(shown(power(result), 'Bend')).toEqual(['candidate reads low at the top']);
    expect(powerSentences(result).join(' ')).toContain('off by 0.75 %');
  });

  test('a bend that one way of judging shows is not called "not shown" by the other', () => {
    const said = powerSentences(result).join(' ');
    expect(said).toContain('candidate reads low at the top');
    expect(said).not.toContain('no bend shown');
  });

  test('an opinion has one row a meter, and the missing score is a dash', () => {
    expect(shown(opinions(result), 'Outcome')).toEqual([
      'agrees',
      'questionable',
      'decides nothing',
    ]);
    expect(shown(opinions(result), 'En')).toEqual(['0.53', '—', '—']);
  });

  test('a factor that has moved is said so first by its number, then in words', () => {
    expect(shown(changes(result), 'Change')[0]).toBe('−3.8');
    expect(shown(changes(result), 'Verdict')[0]).toBe('has moved');
    expect(changes(result).sentences.join(' ')).toContain('638 nm, has moved');
  });

  test('without any of them there is no row, and one sentence says so', () => {
    const bare: Result = { ...result, opinions: [], then_and_now: null };
    expect(opinions(bare).rows).toEqual([]);
    expect(changes(bare).rows).toEqual([]);
    expect(opinionSentences(bare)).toEqual(['No second opinion was given.']);
    expect([changes(bare).sentences, changes(bare).empty]).toEqual([
      [],
      'No earlier factors were given.',
    ]);
    const once = result.power.by_wavelength.slice(0, 1);
    const single = powerSentences({ ...result, power: { ...result.power, by_wavelength: once } });
    expect(single).toHaveLength(1);
  });

  test('re-checks are numbered on their chart, and those that are not on it say why', () => {
    const { values } = reChecks(result);
    const numbers = shown(values, 'No.');
    expect(numbers).toContain('none');
    const remarks = shown(values, 'Remarks');
    numbers.forEach((number, i) => {
      if (number === 'none') expect(remarks[i]).not.toBe('—');
    });
  });
});

describe('what is left out', () => {
  test('is listed with every run and its reason', () => {
    const count = result.series.flatMap((series) => series.excluded).length;
    expect(count).toBeGreaterThan(0);
    const listed = shown(leftOut(result), 'Runs').flatMap((runs) => runs.split(', '));
    expect(listed).toHaveLength(count);
    for (const reason of shown(leftOut(result), 'Reason')) expect(reason).not.toBe('—');
  });

  test('is marked among all readings', () => {
    const stars = readings(study, result).rows.flat().join(' ').match(/\*/g) ?? [];
    const out = study.series.flatMap((series) => {
      const excluded = result.series.find((one) => one.id === series.id)?.excluded ?? [];
      return series.runs.filter(
        (run) => run.exclude !== null || excluded.some((one) => one.run === run.run),
      );
    });
    expect(stars).toHaveLength(out.length);
  });
});

describe('every series', () => {
  const list = seriesList(study, result);

  test('has its own laps, and the label of its own source', () => {
    const laps = study.series.map(({ id }) => result.series.find((one) => one.id === id)?.laps);
    expect(list.rows.map((row) => row[5])).toEqual(laps.map((one) => one ?? null));
    expect(new Set(laps).size).toBeGreaterThan(1);
    const labels = study.series.map(({ source }) =>
      labelWords(study.sources.find(({ name }) => name === source)!),
    );
    expect(shown(list, 'Label')).toEqual(labels);
    expect(new Set(labels).size).toBeGreaterThan(1);
  });

  test('counts once in the differences, with its laps', () => {
    const { series, laps } = result.agreement;
    expect(differences(result).sentences.join(' ')).toContain(
      `Counted: ${series} series, ${laps} laps.`,
    );
  });

  test('has its runs that are left out in their order, and what is flagged in words', () => {
    const together = shown(leftOut(result), 'Runs');
    expect(together.some((runs) => runs.includes(', '))).toBe(true);
    for (const runs of together) {
      const numbers = runs.split(', ').map(Number.parseFloat);
      expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
    }
    const flagged = result.series.flatMap(({ id, flagged: flags }) =>
      flags.map(({ message }) => `Flagged: ${id}, ${message}.`),
    );
    expect(flagged).not.toEqual([]);
    expect(leftOut(result).sentences).toEqual(flagged);
  });
});

describe('hazard', () => {
  test('never prints a bound smaller than it is', () => {
    const bounds = shown(hazardFinding(result), 'Up to').map(Number.parseFloat);
    result.hazard.forEach((one, place) => {
      if (one.upper_mW !== null) expect(bounds[place]).toBeGreaterThanOrEqual(one.upper_mW);
    });
  });

  test('says which class, and where a higher one cannot be excluded', () => {
    expect(shown(hazardFinding(result), 'Class')).toEqual([
      'class 3B',
      'class 4',
      'class 3B cannot be excluded; the reading by itself: class 3R',
      'not judged: treat it as more hazardous than its power suggests',
      'class 3B',
    ]);
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
