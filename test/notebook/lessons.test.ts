import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { correlation } from '../../src/agree/correlation.js';
import { limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import {
  type Coverage,
  coverageOf,
  decidedLaps,
  type Estimate,
  errorsOf,
  lapEstimate,
  lapLogs,
  modelEstimate,
  pairsOverRange,
  percentDifferences,
  repeatSeries,
  ruleCoverage,
  withoutBeyond,
  withoutFirst,
  withoutFurthest,
  workshops,
} from '../../src/notebook/lessons/index.js';
import { cellTags, type Notebook, sourceText } from '../../src/notebook/notebookFile.js';
import { studentCdf, studentQuantile } from '../../src/statistics/distributions.js';
import {
  columnOf,
  errorStreams,
  expectPrinted,
  htmlOf,
  root,
  runWithAnswers,
  sentencesOf,
} from './notebookRun.js';

// Each notebook starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const folder = join(root, 'notebooks', 'lessons');
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.ipynb'))
  .sort();

/** Runs the lesson with these answers and predictions, two of them: one far off, one close. */
const run = (name: string, answers: readonly number[], predictions: readonly number[]) =>
  runWithAnswers(`lessons/${name}.ipynb`, answers.map(String), {}, predictions.map(String));

/** The right answer is accepted, and each slip is told what it is. */
function expectExercise(lesson: Notebook, slips: readonly string[]): void {
  expect(sentencesOf(lesson, 'check')[0]).toMatch(/^No answer yet. Hint: /);
  expect(sentencesOf(lesson, 'check-0')[0]).toMatch(/^Right: /);
  const said = slips.map((_, i) => sentencesOf(lesson, `check-${i + 1}`)[0]);
  expect(said).toEqual(slips.map((slip) => `Not yet: ${slip}`));
  expect(sentencesOf(lesson, `check-${slips.length + 1}`)[0]).toMatch(/^Not yet. Hint: /);
}

/** Nobody predicted, somebody was far off, somebody was close. */
function expectPrediction(lesson: Notebook, was: number): void {
  const [none, far, close] = ['predicted', 'predicted-0', 'predicted-1'].map(
    (id) => sentencesOf(lesson, id)[0],
  );
  expect(none).toMatch(/^No prediction yet/);
  expectPrinted(/It is (\d+(?:\.\d+)?)/.exec(none ?? '')?.[1], was);
  expect(far).toMatch(/ too (high|low)\.$/);
  expect(close).toMatch(/: close\.$/);
}

const logsOf = (bench: Parameters<typeof repeatSeries>[0]['bench'], times: number, seed: number) =>
  repeatSeries({ bench, times, seed }).map((series) => lapLogs(series));
const student = (logs: readonly number[]) => lapEstimate(logs);
const noise = { reference: 0.004, candidate: 0.006 };
const bench = { level_mW: 50, factor: 1.1, noise };
const HELD = 'Hold the truth, of 100';

test('there are five lessons', () => {
  expect(names.map((name) => name[0])).toEqual(['1', '2', '3', '4', '5']);
});

describe.each(names)('%s', (name) => {
  const cells = (
    JSON.parse(readFileSync(join(folder, name), 'utf8')) as { cells: Notebook['cells'] }
  ).cells;
  const placeOf = (id: string) => cells.findIndex((cell) => cell.id === id);

  test('asks for a prediction before anything is simulated or drawn', () => {
    const predict = placeOf('predict');
    expect(cellTags(cells[predict]!)).toEqual(['prediction']);
    expect(placeOf('predicted')).toBeGreaterThan(predict);
    const before = cells.slice(0, predict).filter((cell) => cell.cell_type === 'code');
    // Where something has to be seen before, it is not the answer: no count and no table.
    expect(before.filter((cell) => /coverage|showTable|errorsOf/.test(sourceText(cell)))).toEqual(
      [],
    );
  });

  test('says what it means for a comparison of one’s own, and where to read on', () => {
    const [meaning, own, next] = ['meaning', 'own', 'next'].map(placeOf);
    expect(meaning).toBeGreaterThan(placeOf('predicted'));
    expect(own).toBeGreaterThan(meaning ?? 0);
    expect(next).toBe(cells.length - 1);
    // No links: Jupyter serves the notebooks' folder only, so a page outside it would not open.
    const text = cells.map(sourceText).join('\n');
    expect(text).not.toMatch(/\]\(/);
    const pages = [...text.matchAll(/`(docs\/[^`]+)`/g)].map((match) => match[1] ?? '');
    expect(pages.filter((page) => page.startsWith('docs/methods/'))).not.toEqual([]);
    const dead = pages.filter((page) => !existsSync(join(root, page)));
    expect(dead).toEqual([]);
  });

  test('says that its data are invented', () => {
    expect(cells.map(sourceText).join('\n')).toMatch(/[Ii]nvented/);
  });
});

describe('taking turns', () => {
  let lesson: Notebook;
  const drifting = { ...bench, source: { drift: { linear_per_run: -0.005 } } };
  const plain = (list: ReturnType<typeof repeatSeries>) => list.map((one) => student(lapLogs(one)));

  beforeAll(async () => {
    // The candidate sees one step more in every lap, so K comes out one step low: 1.1 · e^(−0.008).
    const answers = [1.091, 1.1, 1.109, 1.1 * (1 - 12 * 0.008), 7];
    lesson = await run('1-taking-turns', answers, [0, 0.5]);
  });

  test('the plain mean keeps one step of the drift, with forty laps as with eight', () => {
    const forty = errorsOf(
      plain(repeatSeries({ bench: { ...drifting, laps: 40 }, times: 200, seed: 1 })),
      1.1,
    ).mean;
    expectPrediction(lesson, forty);
    // One run of drift is 0.5 %, in every lap; 0.72 %/√(40 · 200) of noise.
    expect(Math.abs(forty - 0.5)).toBeLessThan(0.04);
    expectPrinted(
      /with 40 laps: ([\d.]+) %/.exec(sentencesOf(lesson, 'predicted')[1] ?? '')?.[1],
      forty,
    );
  });

  test('the table is that of the package, and the model keeps the promise in every order', () => {
    const orders = ['reference-first', 'ABBA', 'ABBA-BAAB'] as const;
    const means = columnOf(lesson, 'orders-table', 'Mean error in %');
    const held = columnOf(lesson, 'orders-table', HELD).map(Number);
    for (const [i, order] of orders.entries()) {
      const list = repeatSeries({ bench: { ...drifting, laps: 8, order }, times: 200, seed: 1 });
      const model = list.map((series) => modelEstimate(series));
      for (const [j, estimates] of [plain(list), model].entries()) {
        expectPrinted(means[2 * i + j], errorsOf(estimates, 1.1).mean);
        expectPrinted(String(held[2 * i + j]), 100 * coverageOf(estimates, 1.1).fraction);
      }
      // Four standard errors of 95 in 100 with 200 evenings: 6 in 100.
      expect(Math.abs((held[2 * i + 1] ?? 0) - 95)).toBeLessThan(6.2);
    }
    // The prose says so: one order breaks the promise, the others are wider than need be.
    expect(held[0]).toBeLessThan(80);
    const widths = columnOf(lesson, 'orders-table', 'Half-width in %').map(Number);
    expect(widths[2]).toBeGreaterThan(1.2 * (widths[3] ?? 9));
  });

  test('a lost run is worse than plain turn about, without its partner most is mended', () => {
    const left = columnOf(lesson, 'lost', 'Steps of drift left').map((text) =>
      Math.abs(Number(text.replace('−', '-'))),
    );
    expect(left).toHaveLength(5);
    expect([left[0], left[1]]).toEqual([1, 0]);
    expect(left[2]).toBeGreaterThan(1);
    for (const mended of left.slice(3)) expect(mended).toBeLessThan(0.5);
  });

  test('checks the exercise', () => {
    expectExercise(lesson, [
      'taking turns does not cancel it, however many laps.',
      'mind the way: K is reference ÷ candidate.',
      'a mean does not add the steps up.',
    ]);
    expect(errorStreams(lesson)).toEqual([]);
  });
});

describe('how often is an interval right', () => {
  let lesson: Notebook;
  const LAPS = [3, 4, 5, 6, 8, 12, 20];
  const four = logsOf({ ...bench, laps: 4 }, 4000, 14);

  beforeAll(async () => {
    // NIST/SEMATECH e-Handbook, 1.3.6.7.2: t for 0.975 is 2.776 at 4, 2.571 at 5 degrees of freedom.
    const at = (k: number) => (k * 1.2) / Math.sqrt(5);
    const answers = [at(2.776), at(1.96), at(2.571), 2.776 * 1.2, 9];
    lesson = await run('2-how-often-is-an-interval-right', answers, [95, 85]);
  });

  test('counts what the package counts, and Student says how often 1.96 holds the truth', () => {
    const found = coverageOf(
      four.map((logs) => lapEstimate(logs, { k: 1.96 })),
      1.1,
    );
    expectPrediction(lesson, 100 * found.fraction);
    expect(sentencesOf(lesson, 'predicted')[1]).toBe(
      `${found.held} of 4000 intervals held the truth.`,
    );
    const shown = columnOf(lesson, 'why-table', 'Hold it, of 100, 1.96 s/√n').map(Number);
    const honest = columnOf(lesson, 'why-table', 'Hold it, of 100, t s/√n').map(Number);
    for (const [i, laps] of LAPS.entries()) {
      const expected = 2 * studentCdf(1.96, laps - 1) - 1;
      const error = 100 * Math.sqrt((expected * (1 - expected)) / 2000);
      expect(Math.abs((shown[i] ?? 0) - 100 * expected)).toBeLessThan(4 * error + 0.05);
      expect(Math.abs((honest[i] ?? 0) - 95)).toBeLessThan(4 * 0.49 + 0.05);
    }
  });

  test('shows as many misses as there are, and most of them are short, as the prose says', () => {
    const shown = four.slice(0, 40).map((logs) => lapEstimate(logs, { k: 1.96 }));
    const misses = 40 - coverageOf(shown, 1.1).held;
    expect(htmlOf(lesson, 'forty')).toContain(`${40 - misses} hold the truth, ${misses} miss it`);
    const width = ({ low, high }: Estimate) => Math.log(high / low);
    const all = four.map((logs) => lapEstimate(logs, { k: 1.96 }));
    const middle = all.map(width).sort((a, b) => a - b)[2000] ?? 0;
    const missed = all.filter(({ low, high }) => low > 1.1 || high < 1.1);
    const short = missed.filter((one) => width(one) < middle);
    expect(short.length / missed.length).toBeGreaterThan(0.6);
  });

  test('shows the table of t', () => {
    const html = htmlOf(lesson, 'why-table').split('</table>')[1] ?? '';
    const shown = [...html.matchAll(/>(\d\.\d{3})</g)].map((match) => match[1]);
    expect(shown).toHaveLength(8);
    for (const [i, laps] of [...LAPS, 1000].entries()) {
      expectPrinted(shown[i], studentQuantile(0.975, laps - 1));
    }
  });

  test('the chosen levels keep their promise, the luckiest of three evenings does not', () => {
    const held = columnOf(lesson, 'narrow', HELD).map(Number);
    for (const [i, promised] of [99, 95, 68].entries()) {
      const error = Math.sqrt((promised * (100 - promised)) / 4000);
      expect(Math.abs((held[i] ?? 0) - promised)).toBeLessThan(4 * error + 0.05);
    }
    expect(held[3]).toBeLessThan(90);
    // The prose: all three together are narrower still.
    const twelve = coverageOf(logsOf({ ...bench, laps: 12 }, 500, 3).map(student), 1.1);
    const widths = columnOf(lesson, 'narrow', 'Half-width in %').map(Number);
    expect(100 * twelve.halfWidth).toBeLessThan(widths[3] ?? 0);
  });

  test('checks the exercise', () => {
    expectExercise(lesson, [
      'that is for a scatter that is known.',
      'one lap less counts for t.',
      'that is for a single lap; the mean of several scatters less.',
    ]);
    expect(errorStreams(lesson)).toEqual([]);
  });
});

describe('agreement is not correlation', () => {
  let lesson: Notebook;
  const sources = { range_mW: [5, 300] as const, sources: 18, seed: 4 };
  const meter = (factor: number, candidate: number) => ({
    factor,
    noise: { reference: 0.003, candidate },
  });
  const both = [meter(1.25, 0.004), meter(1, 0.05)].map((meters) =>
    pairsOverRange({ ...sources, meters }),
  );

  beforeAll(async () => {
    // By hand: −12 ∓ 1.96 · 1.5; the slip with the standard error 1.5/√10.
    const answers = [-14.94, -12 - (1.96 * 1.5) / Math.sqrt(10), -9.06, 14.94, -2.94, 3];
    lesson = await run('3-agreement-is-not-correlation', answers, [0.8, 0.999]);
  });

  test('shows correlation and limits as the package has them', () => {
    expectPrediction(lesson, correlation(both[0]!) ?? 0);
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

  test('a wider range inflates the correlation and leaves the limits, as the prose says', () => {
    const r = columnOf(lesson, 'range-table', 'Correlation r').map(Number);
    expect(r).toHaveLength(4);
    expect([...r].sort((a, b) => a - b)).toEqual(r);
    expect(r[0]).toBeLessThan(0.8);
    expect(r[3]).toBeGreaterThan(0.99);
    const apart = columnOf(lesson, 'range-table', 'Limits of agreement apart by %').map(Number);
    for (const width of apart) expect(Math.abs(width / (apart[0] ?? 1) - 1)).toBeLessThan(0.01);
  });

  test('the factor cures the bias and not the scatter', () => {
    const widths = columnOf(lesson, 'cure', 'Limits of agreement in %').map((text) => {
      const [from = 0, to = 0] = text.replaceAll('−', '-').split(' to ').map(Number);
      return to - from;
    });
    const means = columnOf(lesson, 'cure', 'Mean difference in %');
    for (const text of means) expect(Math.abs(Number(text.replace('−', '-')))).toBeLessThan(0.3);
    expect(widths[1]).toBeGreaterThan(5 * (widths[0] ?? 9));
  });

  test('checks the exercise', () => {
    expectExercise(lesson, [
      'that is where the mean may lie.',
      'that is the upper one.',
      'the size is right; the candidate reads low, so mind the sign.',
      'the limits lie around the mean difference, not around zero.',
    ]);
    expect(errorStreams(lesson)).toEqual([]);
  });
});

describe('what averages out and what does not', () => {
  let lesson: Notebook;
  const shop = (laps: number) =>
    workshops({
      bench: { ...bench, laps, noise: { reference: 0.008, candidate: 0.012 } },
      staying: { certificate: 0.01, placement: 0.005 },
      times: 1000,
      seed: laps,
    }).map((series) => lapLogs(series));

  beforeAll(async () => {
    // By hand: 1.2/√9 = 0.4 and 3/2 = 1.5; √(0.4² + 1.5²) = 1.552.
    const answers = [1.552, 1.9, Math.hypot(0.4, 3), Math.hypot(1.2, 1.5), Math.hypot(0.4, 0.5), 9];
    lesson = await run('4-what-averages-out-and-what-does-not', answers, [95, 30]);
  });

  test('intervals from the scatter alone are more often wrong the more laps, the budget is not', () => {
    const alone: readonly Coverage[] = [5, 10, 20, 40].map((laps) =>
      coverageOf(shop(laps).map(student), 1.1),
    );
    const shown = columnOf(lesson, 'predicted', 'Hold it, of 100, scatter alone');
    expect(shown).toHaveLength(4);
    for (const [i, { fraction }] of alone.entries()) expectPrinted(shown[i], 100 * fraction);
    expectPrediction(lesson, 100 * (alone[3]?.fraction ?? 0));
    const falling = shown.map(Number);
    expect([...falling].sort((a, b) => b - a)).toEqual(falling);
    const whole = columnOf(lesson, 'predicted', 'Hold it, of 100, whole budget').map(Number);
    for (const held of whole) expect(Math.abs(held - 95)).toBeLessThan(4 * 0.69 + 0.05);
    // With forty laps the error of K is normal with √(1 + 0.25 + 1.442²/40) % = 1.141 %, the
    // half-width about 2.02 · 1.442/√40 % = 0.461 %: 2Φ(0.404) − 1 = 31.4 %.
    expect(Math.abs(Number(shown[3]) - 31.4)).toBeLessThan(4 * 1.5);
  });

  test('a quiet display keeps its error for ever, a restless one averages it away', () => {
    const off = columnOf(lesson, 'frozen', 'Off by mW').map((text) =>
      Math.abs(Number(text.replace('−', '-'))),
    );
    expect(columnOf(lesson, 'frozen', 'Different numbers shown')[0]).toBe('1');
    expect(off[0]).toBe(0.3);
    for (const small of off.slice(4)) expect(small).toBeLessThan((4 * 1.04) / Math.sqrt(1000));
  });

  test('the certificate is named as what to attack', () => {
    // By hand: 1 % against hypot(0.8, 1.2)/√10 = 0.456 % and 0.5 %: 1/(1 + 0.208 + 0.25) = 69 %.
    expect(sentencesOf(lesson, 'improve')[0]).toMatch(/^Certificate of the reference is 69 % /);
    expect(sentencesOf(lesson, 'improve')).toHaveLength(3);
  });

  test('checks the exercise', () => {
    expectExercise(lesson, [
      'uncertainties add as squares.',
      'U is k standard uncertainties, not one.',
      'that is one lap; the mean of several scatters less.',
      'the certificate is the same in every lap.',
    ]);
    expect(errorStreams(lesson)).toEqual([]);
  });
});

describe('choosing what to leave out', () => {
  let lesson: Notebook;
  const ten = { ...bench, laps: 10 };
  const list = repeatSeries({ bench: ten, times: 2000, seed: 5 });

  beforeAll(async () => {
    // By hand: 1 − 0.95¹⁰ = 40.1 in 100.
    lesson = await run('5-choosing-what-to-leave-out', [40.1, 5, 50, 59.9, 12], [95, 76]);
  });

  test('counts as the package does', () => {
    const rules = [withoutFurthest(2), withoutBeyond(2), withoutFirst(1)];
    const study = { name: '', rules: rules.map((rule) => ({ name: '', rule })), truth: 1.1 };
    const quiet = ruleCoverage({ ...study, series: decidedLaps(list) }).rules;
    expectPrediction(lesson, 100 * (quiet[0]?.coverage.fraction ?? 0));
    const knock = { probability: 0.1, change: -0.03 };
    const knocked = ruleCoverage({
      ...study,
      series: decidedLaps(list, { knock, seed: 2 }),
    }).rules;
    const places = [2, 3, 5];
    const shown = columnOf(lesson, 'days-table', 'Hold it, of 100, nothing happened');
    const shownKnocked = columnOf(lesson, 'days-table', 'Hold it, of 100, head knocked');
    for (const [i, place] of places.entries()) {
      expectPrinted(shown[place], 100 * (quiet[i]?.coverage.fraction ?? 0));
      expectPrinted(shownKnocked[place], 100 * (knocked[i]?.coverage.fraction ?? 0));
    }
  });

  test('what the prose finds in the table stands in it', () => {
    const days = ['nothing happened', 'head knocked', 'cold start'] as const;
    const held = days.map((day) =>
      columnOf(lesson, 'days-table', `Hold it, of 100, ${day}`).map(Number),
    );
    const width = days.map((day) => columnOf(lesson, 'days-table', `± in %, ${day}`).map(Number));
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

  test('checks the exercise', () => {
    expectExercise(lesson, [
      'that is for a single lap.',
      'that counts days with two such laps twice.',
      'those are the days without any.',
    ]);
    expect(errorStreams(lesson)).toEqual([]);
  });
});
