import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { correlation } from '../../src/agree/correlation.js';
import { limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import { runNotebook } from '../../src/notebook/headless.js';
import { type Coverage, coverageOf, errorsOf } from '../../src/notebook/lessons/counts.js';
import { lapEstimate, lapLogs, modelEstimate } from '../../src/notebook/lessons/estimates.js';
import {
  decidedLaps,
  ruleCoverage,
  withoutBeyond,
  withoutFirst,
  withoutFurthest,
} from '../../src/notebook/lessons/leaveOut.js';
import { pairsOverRange, percentDifferences } from '../../src/notebook/lessons/pairs.js';
import { QUIET_BENCH, repeatSeries, workshops } from '../../src/notebook/lessons/repeat.js';
import { cellTags, type Notebook, sourceText } from '../../src/notebook/notebookFile.js';
import { studentCdf, studentQuantile } from '../../src/statistics/distributions.js';
import { columnOf, errorStreams, expectPrinted, htmlOf, root, sentencesOf } from './notebookRun.js';

// Each notebook starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const folder = join(root, 'notebooks', 'lessons');
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.ipynb'))
  .sort();
const teachers = readFileSync(join(folder, 'README.md'), 'utf8');

/** The key: by lesson, what the prediction comes out at, and the answer to the exercise. */
const key = new Map(
  [...(teachers.split('## Key')[1] ?? '').matchAll(/^\| (\d) \| (.+?) \| (.+?) \|$/gm)].map(
    ([, lesson = '', predicted = '', answer = '']) => [lesson, { predicted, answer }],
  ),
);
const keyOf = (lesson: string) => key.get(lesson) ?? { predicted: '', answer: '' };

const cellsOf = (name: string) =>
  (JSON.parse(readFileSync(join(folder, name), 'utf8')) as { cells: Notebook['cells'] }).cells;

/**
 * The lesson as it is, and after it once more: prediction and answer of the key, and an answer that
 * a learner would type without quotes.
 */
async function run(lesson: string): Promise<Notebook> {
  const name = names.find((one) => one.startsWith(lesson)) ?? '';
  const cells = cellsOf(name);
  const typed = (id: string, as: string, text: string) => {
    const cell = cells.find((one) => one.id === id);
    const source = sourceText(cell!).replace("('')", `(${text})`);
    expect(source).not.toBe(sourceText(cell!));
    return { ...cell!, metadata: {}, id: as, source };
  };
  const { predicted, answer } = keyOf(lesson);
  const more = [
    typed('predict', 'predict-right', JSON.stringify(predicted)),
    { ...cells.find((one) => one.id === 'predicted')!, id: 'predicted-right' },
    typed('answer', 'answer-right', JSON.stringify(answer.replace('.', ','))),
    typed('answer', 'answer-bare', '-14,94'),
    typed('answer', 'answer-words', "'no idea'"),
  ];
  const copy = join(mkdtempSync(join(tmpdir(), 'meterpair-test-')), name);
  writeFileSync(
    copy,
    JSON.stringify({
      ...JSON.parse(readFileSync(join(folder, name), 'utf8')),
      cells: [...cells, ...more],
    }),
  );
  return runNotebook({ notebook: copy, cwd: folder });
}

/** What every lesson does with a prediction, an answer, the reader's own readings and paper. */
function expectLesson(lesson: Notebook, id: string): void {
  expect(errorStreams(lesson)).toEqual([]);
  expect(sentencesOf(lesson, 'predict')[0]).toMatch(/^Nothing noted yet/);
  expect(sentencesOf(lesson, 'predicted').join(' ')).toMatch(/No prediction was noted\. It is /);
  expect(sentencesOf(lesson, 'predict-right')[0]).toBe(`Noted: ${keyOf(id).predicted}.`);
  expect(sentencesOf(lesson, 'predicted-right').join(' ')).toContain('That is what happens.');
  expect(sentencesOf(lesson, 'answer')[0]).toMatch(/^No answer yet/);
  expect(sentencesOf(lesson, 'answer-right')[0]).toMatch(/^Right: /);
  expect(sentencesOf(lesson, 'answer-bare')[0]).toMatch(/between quotes/);
  expect(sentencesOf(lesson, 'answer-words')[0]).toContain('"no idea"');
  const own = htmlOf(lesson, 'yours');
  expect(own).toContain('invented class');
  expect(own).toContain('Not shown by this: ');
  expect(htmlOf(lesson, 'sheet')).toMatch(/download="[^"]+\.html" href="data:text\/html/);
}

/** "86 ± 1": both numbers. */
function toldIn(text: string | undefined): readonly [value: number, reach: number] {
  const [value = Number.NaN, reach = Number.NaN] = (text ?? '')
    .replaceAll('−', '-')
    .split(' ± ')
    .map(Number);
  return [value, reach];
}
const valuesIn = (lesson: Notebook, id: string, column: string) =>
  columnOf(lesson, id, column).map((text) => toldIn(text)[0]);

/** The number of a cell's column is the one that is expected, to its last digit. */
function expectTold(text: string | undefined, value: number): void {
  expectPrinted(text?.split(' ')[0], value);
}

const student = (logs: readonly number[]) => lapEstimate(logs);
const logsOf = (laps: number, times: number, seed: number) =>
  repeatSeries({ bench: { ...QUIET_BENCH, laps }, times, seed }).map((series) => lapLogs(series));

test('there are eight lessons, each in the table, the questions and the key for teachers', () => {
  expect(names.map((name) => name[0])).toEqual(['1', '2', '3', '4', '5', '6', '7', '8']);
  expect([...key.keys()]).toEqual(names.map((name) => name[0]));
  for (const name of names) {
    const title = `${name[0]} ${sourceText(cellsOf(name)[0]!).split('\n')[0]?.replace('# ', '')}`;
    expect(teachers).toContain(`| ${title} |`);
    expect(teachers).toContain(`**${title.replace(/([^?])$/, '$1.')}** *Wrong:*`);
  }
});

test('each word is explained in the lesson that the teachers are told, and in none before', () => {
  const table = teachers.split('## Words')[1]?.split('## ')[0] ?? '';
  const rows = [...table.matchAll(/^\| (\d) \| (.+) \|$/gm)];
  expect(rows).toHaveLength(8);
  for (const [, lesson = '', words = ''] of rows) {
    for (const word of words.replace(/ \([^)]*\)/g, '').split(', ')) {
      // Set apart where it is explained, plural and capitals aside.
      const explained = new RegExp(`\\*${word}\\*`, 'i');
      const where = names.filter((name) =>
        explained.test(cellsOf(name).map(sourceText).join('\n')),
      );
      expect([word, where[0]?.[0]]).toEqual([word, lesson]);
    }
  }
});

describe.each(names)('%s', (name) => {
  const cells = cellsOf(name);
  const placeOf = (id: string) => cells.findIndex((cell) => cell.id === id);
  const code = cells.filter((cell) => cell.cell_type === 'code').map(sourceText);
  const prose = cells.filter((cell) => cell.cell_type === 'markdown').map(sourceText);

  test('asks for a prediction before anything is counted, and for an answer before it is judged', () => {
    expect(cellTags(cells[placeOf('predict')]!)).toEqual(['prediction']);
    expect(cellTags(cells[placeOf('answer')]!)).toEqual(['answer']);
    expect(placeOf('predicted')).toBeGreaterThan(placeOf('predict'));
    const before = cells.slice(0, placeOf('predict')).filter((cell) => cell.cell_type === 'code');
    expect(before.map(sourceText).join('\n')).not.toMatch(/\.(count|numbers|compare|table)\(/);
  });

  test('shows neither the answer nor the way the check finds it', () => {
    const { answer } = keyOf(name[0] ?? '');
    const own = cells.slice(placeOf('own')).map(sourceText).join('\n');
    for (const number of answer.match(/\d+(?:\.\d+)?/g) ?? []) {
      expect(own).not.toMatch(new RegExp(`(?<![\\d.])${number.replace('.', '\\.')}(?![\\d.])`));
    }
    expect(own).not.toMatch(/hint|slip|right =|√/i);
  });

  test('does not give the prediction away where it says what is learned', () => {
    const { predicted } = keyOf(name[0] ?? '');
    const [number = ''] = predicted.match(/[\d.]+/) ?? [];
    const said = (prose[0] ?? '').replace(/About \d+ minutes/, '');
    const headings = prose.join('\n').match(/^#.*$/gm) ?? [];
    expect([said, ...headings].join('\n')).not.toMatch(
      new RegExp(`(?<![\\d.])${number.replace('.', '\\.')}(?![\\d.])`),
    );
  });

  test('keeps code out of the way: a call or a record a cell', () => {
    expect(code.join('\n')).not.toMatch(/=>|\.\.\.|Pick<|function|as const|: number/);
    expect(code.join('\n').split('\n').length).toBeLessThanOrEqual(17);
    for (const source of code) expect(source.split(/;$/m).length).toBeLessThanOrEqual(3);
  });

  test('needs only lessons before it', () => {
    const need = /\*\*Need\.\*\* (.*)/.exec(prose[0] ?? '')?.[1] ?? '';
    const needed = [...need.matchAll(/[Ll]essons? ([\d]+(?:(?:, | and | to )\d+)*)/g)].flatMap(
      (match) => (match[1]?.match(/\d+/g) ?? []).map(Number),
    );
    expect(needed.filter((one) => one >= Number(name[0]))).toEqual([]);
    if (name[0] !== '1') expect(needed).not.toEqual([]);
  });

  test('states the minutes that its words and cells take', () => {
    const words = prose.join(' ').split(/\s+/).length;
    const minutes = words / 130 + code.length + 7;
    const stated = Number(/About (\d+) minutes/.exec(prose[0] ?? '')?.[1]);
    expect(stated).toBe(5 * Math.round(minutes / 5));
    expect(teachers).toMatch(new RegExp(`^\\| ${name[0]} .* \\| ${stated} \\|$`, 'm'));
  });

  test('goes from meaning to exercise to readings of one’s own, to paper, and says where to read on', () => {
    const places = ['predicted', 'meaning', 'own', 'answer', 'yours', 'sheet', 'next'].map(placeOf);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(places.at(-1)).toBe(cells.length - 1);
    const text = cells.map(sourceText).join('\n');
    // No links: Jupyter serves the notebooks' folder only, so a page outside it would not open.
    expect(text).not.toMatch(/\]\((?!\[)/);
    const pages = [...text.matchAll(/`(docs\/[^`]+)`/g)].map((match) => match[1] ?? '');
    expect(pages.filter((page) => page.startsWith('docs/methods/'))).not.toEqual([]);
    expect(pages.filter((page) => !existsSync(join(root, page)))).toEqual([]);
    const next = /Next: `([^`]+)`/.exec(text)?.[1];
    expect(next === undefined ? null : `${next}.ipynb`).toBe(
      names[names.indexOf(name) + 1] ?? null,
    );
    expect(text).toMatch(/[Ii]nvented/);
  });
});

describe('a reading is not the truth', () => {
  let lesson: Notebook;
  beforeAll(async () => {
    lesson = await run('1');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '1'));

  test('the step of a display leaves what the GUM says', () => {
    // By hand: of the powers within half a step of 1, those within 0.1 are a fifth.
    const beyond = Number(/: (\d+) of them/.exec(sentencesOf(lesson, 'predicted')[0] ?? '')?.[1]);
    expect(Math.abs(beyond / 2000 - 0.8)).toBeLessThan(4 * Math.sqrt((0.8 * 0.2) / 2000));
    // JCGM 100:2008, F.2.2.1: u = 0.29 δx.
    expect(columnOf(lesson, 'table', 'u of the step in mW')).toEqual(Array(7).fill('0.29'));
    const percent = columnOf(lesson, 'table', 'u in % of the reading');
    expect([percent[0], percent[3], percent[6]]).toEqual(['29', '2.9', '0.29']);
  });

  test('what stands on paper becomes a standard uncertainty', () => {
    // JCGM 100:2008, 4.3.3: U/k; 4.3.7: a/√3 (√3 = 1.732); F.2.2.1: 0.29 of the step of 2 %.
    const u = columnOf(lesson, 'statements', 'u in %');
    expect(u[0]).toBe('1.5');
    expectPrinted(u[1], 3 / 1.73205);
    expectPrinted(u[2], 2 / 3.4641);
  });

  test('results are rounded as JCGM 100:2008, 7.2.6, has it', () => {
    expect(columnOf(lesson, 'rounded', 'As reported')).toEqual([
      '(52.3 ± 1.1) mW',
      '(7.496 ± 0.036) mW',
      '(0.923 ± 0.011) mW',
      '(1203 ± 96) mW',
    ]);
  });
});

describe('how often is an interval right', () => {
  let lesson: Notebook;
  const LAPS = [3, 4, 5, 6, 8, 12, 20];
  const known = (logs: readonly number[]) => lapEstimate(logs, { k: 1.96 });

  beforeAll(async () => {
    lesson = await run('2');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '2'));

  test('counts what the package counts, and Student says how often 1.96 holds the truth', () => {
    const found = coverageOf(logsOf(4, 4000, 14).map(known), 1.1);
    expect(sentencesOf(lesson, 'predicted')[0]).toBe(
      `${found.held} of 4000 intervals held the truth.`,
    );
    const shown = columnOf(lesson, 'laps', 'Hold it, of 100, 1.96').map(toldIn);
    const honest = columnOf(lesson, 'laps', 'Hold it, of 100, t').map(toldIn);
    for (const [i, laps] of LAPS.entries()) {
      // Student 1908: a mean of n with its own s lies within 1.96 s/√n as often as t within 1.96.
      const [value = 0, reach = 0] = shown[i] ?? [];
      const expected = 100 * (2 * studentCdf(1.96, laps - 1) - 1);
      expect(Math.abs(value - expected)).toBeLessThanOrEqual(2.5 * reach);
      expect(Math.abs((honest[i]?.[0] ?? 0) - 95)).toBeLessThanOrEqual(2.5 * (honest[i]?.[1] ?? 0));
    }
  });

  test('shows as many misses as there are, and most of them are short, as the prose says', () => {
    const all = logsOf(4, 4000, 14).map(known);
    const { held } = coverageOf(all.slice(0, 40), 1.1);
    expect(htmlOf(lesson, 'forty')).toContain(`${held} hold the truth, ${40 - held} miss it`);
    const width = ({ low, high }: { readonly low: number; readonly high: number }) =>
      Math.log(high / low);
    const middle = all.map(width).sort((a, b) => a - b)[2000] ?? 0;
    const missed = all.filter(({ low, high }) => low > 1.1 || high < 1.1);
    const short = missed.filter((one) => width(one) < middle);
    expect(short.length / missed.length).toBeGreaterThan(0.6);
  });

  test('shows the table of t', () => {
    for (const [i, laps] of LAPS.entries()) {
      expectPrinted(columnOf(lesson, 'laps', 't')[i], studentQuantile(0.975, laps - 1));
    }
    // NIST/SEMATECH e-Handbook, 1.3.6.7.2, at 2, 4 and 7 degrees of freedom.
    const t = columnOf(lesson, 'laps', 't');
    expect([t[0], t[2], t[4]]).toEqual(['4.303', '2.776', '2.365']);
  });

  test('the chosen levels keep their promise, the luckiest of three does not, all three do', () => {
    const held = columnOf(lesson, 'narrow', 'Hold it, of 100').map(toldIn);
    for (const [place, promised] of [99, 95, 68, null, 95].entries()) {
      const [value = 0, reach = 0] = held[place] ?? [];
      if (promised === null) expect(value).toBeLessThan(90);
      else expect(Math.abs(value - promised)).toBeLessThanOrEqual(2.5 * reach);
    }
    const widths = valuesIn(lesson, 'narrow', '± in %');
    expect(widths[4]).toBeLessThan(widths[3] ?? 0);
  });
});

describe('what averages out and what does not', () => {
  let lesson: Notebook;
  beforeAll(async () => {
    lesson = await run('3');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '3'));

  test('intervals from the scatter alone are more often wrong the more laps, the budget is not', () => {
    const alone: readonly Coverage[] = [5, 10, 20, 40].map((laps) => {
      const bench = { ...QUIET_BENCH, laps, noise: { reference: 0.008, candidate: 0.012 } };
      const staying = { certificate: 0.01, placement: 0.005 };
      const list = workshops({ bench, staying, times: 1000, seed: laps });
      return coverageOf(
        list.map((series) => student(lapLogs(series))),
        1.1,
      );
    });
    const shown = columnOf(lesson, 'predicted', 'Hold it, of 100, scatter alone');
    for (const [i, { fraction }] of alone.entries()) expectTold(shown[i], 100 * fraction);
    const falling = shown.map((text) => toldIn(text)[0]);
    expect([...falling].sort((a, b) => b - a)).toEqual(falling);
    for (const text of columnOf(lesson, 'predicted', 'Hold it, of 100, whole budget')) {
      expect(Math.abs(toldIn(text)[0] - 95)).toBeLessThanOrEqual(2.5 * toldIn(text)[1]);
    }
    // With forty laps the error of K is normal with √(1 + 0.25 + 1.442²/40) % = 1.141 %, the
    // half-width about 2.02 · 1.442/√40 % = 0.461 %: 2Φ(0.404) − 1 = 31.4 %.
    expect(Math.abs((falling[3] ?? 0) - 31.4)).toBeLessThan(4 * 1.5);
  });

  test('a quiet display keeps its error for ever, a restless one averages it away', () => {
    const off = valuesIn(lesson, 'frozen', 'Off by mW').map(Math.abs);
    expect(columnOf(lesson, 'frozen', 'Different numbers shown')[0]).toBe('1');
    expect(off[0]).toBe(0.3);
    for (const small of off.slice(4)) expect(small).toBeLessThan((4 * 1.04) / Math.sqrt(1000));
  });

  test('scatter of laps is type A, what stands on paper type B, and the certificate leads', () => {
    // JCGM 100:2008, 4.2 and 4.3: type A from a series of observations, type B by other means.
    expect(columnOf(lesson, 'improve', 'Contribution')).toEqual([
      'scatter of laps',
      'certificate of the reference',
      'placement',
    ]);
    expect(columnOf(lesson, 'improve', 'Type')).toEqual(['A', 'B', 'B']);
    // By hand: 1 % against hypot(0.8, 1.2)/√10 = 0.456 % and 0.5 %: 1/(1 + 0.208 + 0.25) = 69 %.
    expect(columnOf(lesson, 'improve', 'Share of the variance in %')[1]).toBe('69');
    expect(sentencesOf(lesson, 'improve')[0]).toMatch(/^Certificate of the reference is 69 % /);
  });
});

describe('from difference to factor', () => {
  let lesson: Notebook;
  beforeAll(async () => {
    lesson = await run('4');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '4'));

  test('says the sign of both wherever it shows both', () => {
    expect(sentencesOf(lesson, 'predicted').at(-1)).toContain('opposite signs');
    // By hand: 1/0.8, 1/1.25, 1/0.93, 1/1.07, 1/0.99, 1/1.01.
    expect(columnOf(lesson, 'logs', 'K')).toEqual([
      '1.250',
      '0.8000',
      '1.075',
      '0.9346',
      '1.010',
      '0.9901',
    ]);
    const logs = columnOf(lesson, 'logs', '100 · ln K').map((text) =>
      Number(text.replace('−', '-')),
    );
    expect(logs[0]).toBe(-(logs[1] ?? 0));
  });

  test('a factor and its way back multiply to one in two of three ways', () => {
    expect(columnOf(lesson, 'ways', 'Both multiplied')).toEqual(['1.0252', '1.0000', '1.0000']);
    // By hand: 110/108, and √(1 · 1.25): the weak lap hardly counts in the first.
    expect(columnOf(lesson, 'weights', 'K')).toEqual(['1.1250', '1.0185', '1.1180']);
  });

  test('a shared reference counts fully in a sum and not at all in a ratio', () => {
    const counted = columnOf(lesson, 'shared', 'Counted in 4000 workshops').map(toldIn);
    // JCGM 100:2008, 5.2.2. By hand: √(1.5² + 0.4²), √(1.5² + 0.08), 0.4 · √2.
    for (const [i, expected] of [1.552, 1.526, 0.566].entries()) {
      expectPrinted(columnOf(lesson, 'shared', 'u in %, one reference')[i], expected);
      const [value = 0, reach = 0] = counted[i] ?? [];
      expect(Math.abs(value - expected)).toBeLessThanOrEqual(2.5 * reach);
    }
  });
});

describe('taking turns', () => {
  let lesson: Notebook;
  const drifting = { ...QUIET_BENCH, source: { drift: { linear_per_run: -0.005 } } };
  const plain = (list: ReturnType<typeof repeatSeries>) => list.map((one) => student(lapLogs(one)));

  beforeAll(async () => {
    lesson = await run('5');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '5'));

  test('the plain mean keeps one step of the drift, with forty laps as with eight', () => {
    const said = sentencesOf(lesson, 'predicted')[1] ?? '';
    for (const laps of [8, 40]) {
      const bench = { ...drifting, laps };
      const { mean } = errorsOf(plain(repeatSeries({ bench, times: 200, seed: 1 })), 1.1);
      const text = new RegExp(`([\\d.]+ ± [\\d.]+) % with ${laps} laps`).exec(said)?.[1];
      expectTold(text, mean);
      // One run of drift is 0.5 %, in every lap; told within what 200 evenings bear.
      expect(Math.abs(toldIn(text)[0] - 0.5)).toBeLessThanOrEqual(2 * toldIn(text)[1]);
    }
  });

  test('the table is that of the package, and the model keeps the promise in every order', () => {
    const orders = ['reference-first', 'ABBA', 'ABBA-BAAB'] as const;
    const means = columnOf(lesson, 'orders-table', 'Mean error of K in %');
    const held = columnOf(lesson, 'orders-table', 'Hold it, of 100');
    for (const [i, order] of orders.entries()) {
      const list = repeatSeries({ bench: { ...drifting, laps: 8, order }, times: 200, seed: 1 });
      const model = list.map((series) => modelEstimate(series));
      for (const [j, estimates] of [plain(list), model].entries()) {
        expectTold(means[2 * i + j], errorsOf(estimates, 1.1).mean);
        expectTold(held[2 * i + j], 100 * coverageOf(estimates, 1.1).fraction);
      }
      // Four standard errors of 95 in 100 with 200 evenings: 6 in 100.
      expect(Math.abs(toldIn(held[2 * i + 1])[0] - 95)).toBeLessThan(6.2);
    }
    // The prose says so: one order breaks the promise, the others are wider than need be.
    expect(toldIn(held[0])[0]).toBeLessThan(80);
    const widths = valuesIn(lesson, 'orders-table', '± in %');
    expect(widths[2]).toBeGreaterThan(1.2 * (widths[3] ?? 9));
  });

  test('a lost run is worse than plain turn about, without its partner most is mended', () => {
    const left = valuesIn(lesson, 'lost', 'Steps of drift left').map(Math.abs);
    expect(left).toHaveLength(5);
    expect([left[0], left[1]]).toEqual([1, 0]);
    expect(left[2]).toBeGreaterThan(1);
    for (const mended of left.slice(3)) expect(mended).toBeLessThan(0.5);
  });
});

describe('choosing what to leave out', () => {
  let lesson: Notebook;
  const ten = { ...QUIET_BENCH, laps: 10 };

  beforeAll(async () => {
    lesson = await run('6');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '6'));

  test('counts as the package does', () => {
    const list = repeatSeries({ bench: ten, times: 2000, seed: 5 });
    const rules = [withoutFurthest(2), withoutBeyond(2), withoutFirst(1)];
    const study = { name: '', rules: rules.map((rule) => ({ name: '', rule })), truth: 1.1 };
    const knock = { probability: 0.1, change: -0.03 };
    const kinds = {
      'nothing happened': decidedLaps(list),
      'head knocked': decidedLaps(list, { knock, seed: 2 }),
    };
    for (const [name, series] of Object.entries(kinds)) {
      const shown = columnOf(lesson, 'days-table', `Hold it, of 100, ${name}`);
      const found = ruleCoverage({ ...study, series }).rules;
      for (const [i, place] of [2, 3, 5].entries()) {
        expectTold(shown[place], 100 * (found[i]?.coverage.fraction ?? 0));
      }
    }
  });

  test('what the prose finds in the table stands in it', () => {
    const days = ['nothing happened', 'head knocked', 'cold start'] as const;
    const held = days.map((day) => valuesIn(lesson, 'days-table', `Hold it, of 100, ${day}`));
    const width = days.map((day) => valuesIn(lesson, 'days-table', `± in %, ${day}`));
    for (const day of held) {
      expect(day).toHaveLength(6);
      // Nothing left out, what has a note, the first lap always: the promise within two in a hundred.
      for (const place of [0, 4, 5]) expect(Math.abs((day[place] ?? 0) - 95)).toBeLessThan(2);
      // Left out by looks: broken, on every kind of day.
      for (const place of [1, 2, 3]) expect(day[place]).toBeLessThan(92);
    }
    const [quiet = [], knocked = [], cold = []] = width;
    expect(knocked[4]).toBeLessThan(0.75 * (knocked[0] ?? 0));
    expect(cold[5]).toBeLessThan(0.85 * (cold[0] ?? 0));
    // One lap's worth: t(8)/√9 over t(9)/√10 is 1.075 (2.306 and 2.262, as in the table of t).
    expect((quiet[5] ?? 0) / (quiet[0] ?? 1)).toBeLessThan(1.11);
  });
});

describe('agreement is not correlation', () => {
  let lesson: Notebook;
  const meter = (factor: number, candidate: number) => ({
    factor,
    noise: { reference: 0.003, candidate },
  });
  const both = [meter(1.25, 0.004), meter(1, 0.05)].map((meters) =>
    pairsOverRange({ range_mW: [5, 300], sources: 18, seed: 4, meters }),
  );

  beforeAll(async () => {
    lesson = await run('7');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '7'));

  test('shows correlation and limits as the package has them', () => {
    const r = columnOf(lesson, 'predicted', 'Correlation r');
    const limits = columnOf(lesson, 'predicted', 'Limits of agreement in %');
    for (const [i, pairs] of both.entries()) {
      expectPrinted(r[i], correlation(pairs));
      const { low, high } = limitsOfAgreement(percentDifferences(pairs));
      const [from, to] = (limits[i] ?? '').split(' to ');
      expectPrinted(from, low);
      expectPrinted(to, high);
    }
  });

  test('a wider range raises the correlation and leaves the limits, with new luck in every range', () => {
    const r = valuesIn(lesson, 'range', 'Correlation r');
    expect(r).toHaveLength(4);
    expect([...r].sort((a, b) => a - b)).toEqual(r);
    expect(r[0]).toBeLessThan(0.8);
    expect(r[3]).toBeGreaterThan(0.99);
    const apart = columnOf(lesson, 'range', 'Limits of agreement apart by %').map(toldIn);
    for (const [value, reach] of apart) {
      expect(Math.abs(value - (apart[0]?.[0] ?? 0))).toBeLessThanOrEqual(2.5 * reach);
    }
    expect(new Set(apart.map(([value]) => value)).size).toBeGreaterThan(1);
  });

  test('the factor cures the bias and not the scatter', () => {
    const widths = columnOf(lesson, 'cure', 'Limits of agreement in %').map((text) => {
      const [from = 0, to = 0] = text.replaceAll('−', '-').split(' to ').map(Number);
      return to - from;
    });
    for (const mean of valuesIn(lesson, 'cure', 'Mean difference in %')) {
      expect(Math.abs(mean)).toBeLessThan(0.3);
    }
    expect(widths[1]).toBeGreaterThan(5 * (widths[0] ?? 9));
  });
});

describe('one factor for all colours', () => {
  let lesson: Notebook;
  beforeAll(async () => {
    lesson = await run('8');
  });

  test('runs, predicts, judges, and ends on the reader’s own', () => expectLesson(lesson, '8'));

  test('the test finds the harmless difference and misses the large one; the size does neither', () => {
    const [sharp = 0, blurred = 100] = valuesIn(
      lesson,
      'predicted',
      'Test finds a difference, of 100',
    );
    expect(sharp).toBeGreaterThan(95);
    expect(blurred).toBeLessThan(50);
    const column = 'All intervals within the tolerance, of 100';
    const [fits = 0, doesNot = 100] = valuesIn(lesson, 'predicted', column);
    expect(fits).toBeGreaterThan(98);
    expect(doesNot).toBeLessThan(2);
  });

  test('a dark reading rules weak beams, a bend strong ones', () => {
    const alt = htmlOf(lesson, 'power');
    // By hand: 2/(2/1.1 + 0.3) = 0.944; 300/(300/1.1 + 0.3) = 1.0988; 1.1/(1 − 0.0004 · 220) = 1.206.
    expect(alt).toContain('in the dark: K from 0.9442 at 2 mW to 1.099 at 300 mW');
    expect(alt).toContain('heats up above 80 mW: K from 1.1 at 2 mW to 1.206 at 300 mW');
  });

  test('the risk of a decision is that of JCGM 106:2012, clause 7', () => {
    // p = Φ((T_U − y)/u) − Φ((T_L − y)/u). NIST/SEMATECH e-Handbook, 1.3.6.7.1: the area from 0 to 1
    // is 0.34134, to 2 0.47725.
    const risk = columnOf(lesson, 'risk', 'Risk that it is outside, of 100');
    expect([risk[2], risk[3], risk[4], risk[5]]).toEqual(['2.3', '16', '50', '84']);
    expect(columnOf(lesson, 'risk', 'With a guard band of U')).toEqual([
      'accept',
      'accept',
      'accept',
      'undecided',
      'undecided',
      'undecided',
      'reject',
    ]);
  });
});
