import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { correct } from '../../src/factors/correct.js';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { settlingFindings } from '../../src/findings/settlingFindings.js';
import { runNotebook } from '../../src/notebook/headless.js';
import type { Notebook } from '../../src/notebook/notebookFile.js';
import type { ComparisonWishes } from '../../src/plan/comparisonWishes.js';
import { lapsToShowBias } from '../../src/plan/lapsToShowBias.js';
import { planComparison } from '../../src/plan/planComparison.js';
import { planStudy, type StudyWishes } from '../../src/plan/planStudy.js';
import { recommendOrder } from '../../src/plan/recommendOrder.js';
import { readStudy } from '../../src/record/readStudy.js';
import { combineTimeConstants } from '../../src/settle/combineTimeConstants.js';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { lagDroop } from '../../src/settle/lagDroop.js';
import { threePointExtrapolation } from '../../src/settle/threePointExtrapolation.js';
import type { Factors } from '../../src/vocabulary.js';
import {
  columnOf,
  errorStreams,
  expectPrinted,
  htmlOf,
  plain,
  root,
  runWithAnswers,
  sentencesOf,
} from './notebookRun.js';

// Each notebook starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

/** What lies in the folders that a notebook might write to; report/ is not there in a fresh clone. */
const projectFiles = () =>
  ['.', 'notebooks', 'data-demo', 'report'].map((folder) =>
    existsSync(join(root, folder)) ? readdirSync(join(root, folder)).sort() : null,
  );

describe('1-plan.ipynb', () => {
  const source = { power_mW: 80, beam_diameter_mm: null };
  const wishes: StudyWishes = {
    title: 'Comparison of two power meters',
    meters: {
      reference: { name: 'Bench head', resolution_mW: 0.1, rated_max_mW: 5000, noise: 0.006 },
      candidate: { name: 'Drawer meter', resolution_mW: 1, rated_max_mW: 3000, noise: 0.008 },
    },
    sources: [
      { name: 'red module', wavelength_nm: 638, ...source },
      { name: 'green bench diode', wavelength_nm: 520, ...source },
    ],
    certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
    tolerance: 0.06,
    wanted: 0.04,
    confidence: 0.95,
    source_noise: 0,
    placement: 'jig',
    order: 'ABBA-BAAB',
    most_series: 3,
    most_laps: 40,
    slower_time_constant_s: 5,
    read_at_s: null,
    on_time_s: null,
    rest_s: 60,
  };
  const planned = planStudy(wishes);
  const steady: ComparisonWishes = {
    wanted: 0.04,
    confidence: 0.95,
    certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
    noise: { reference: 0.006, candidate: 0.008 },
    placement: 'jig',
    display: { level_mW: 80, step_mW: { reference: 0.1, candidate: 1 } },
  };
  const restless = { ...steady, source_noise: 0.03 };
  let run: Notebook;
  let before: ReturnType<typeof projectFiles>;
  let written: readonly string[];

  beforeAll(async () => {
    before = projectFiles();
    // The candidate sees the source one run earlier and so half a percent stronger, in every lap.
    run = await runWithAnswers('1-plan.ipynb', ['0,5 %', '0', '-0.5', '17']);
    written = sentencesOf(run, 'sheet').map((line) => line.replace('Written: ', ''));
  });

  test('plans what the command plans, and answers the two other questions', () => {
    expect(sentencesOf(run, 'plan')).toEqual(planned.sentences);
    expect(sentencesOf(run, 'laps-table')).toEqual([
      `Restless source: ${planComparison(restless).sentence}`,
    ]);
    const bias = {
      order: 'ABBA-BAAB',
      confidence: 0.95,
      bias: 0.02,
      power: 0.9,
      others: [{ standard_uncertainty: 0.005, dof: 8 }],
    } as const;
    expect(sentencesOf(run, 'bias-sentence')).toEqual([
      lapsToShowBias({ ...bias, referenceSd: 0.006, candidateSd: 0.008 }).sentence,
    ]);
    expect(sentencesOf(run, 'tolerance-sentence')).toEqual([
      planComparison({ ...steady, wanted: 0.06 - 0.02 }).sentence,
    ]);
  });

  test('shows in the table what the sentences say, and no design where none does', () => {
    const designs = [steady, restless].flatMap((plan) =>
      [0.06, 0.04, 0.02].map((wanted) => planComparison({ ...plan, wanted }).design),
    );
    expect(columnOf(run, 'laps-table', 'Series × laps')).toEqual(
      designs.map((one) => (one === null ? 'none' : `${one.series} × ${one.laps}`)),
    );
    // JCGM 100:2008, G.6.4: k = 1.96 for known standard uncertainties; 1.96 × 1 % printed as 2.0.
    expect(new Set(columnOf(run, 'laps-table', 'Certificate alone in %'))).toEqual(
      new Set(['2.0']),
    );
    expect(designs).toContain(null);
  });

  test('shows that plain alternation keeps one step of a steady drift, and ABBA BAAB nothing', () => {
    // Elementary: the candidate is one run later in every lap, so the mean keeps one step.
    expect(columnOf(run, 'order-table', 'Of a steady drift, steps left')).toEqual(['1', '0', '0']);
    expect(columnOf(run, 'order-table', 'Left of −0.5 % a run, in %')).toEqual(['−0.5', '0', '0']);
    expect(sentencesOf(run, 'order-sentence')).toEqual([
      recommendOrder({ laps: planned.size.laps, drift: 'unknown' }).reason,
    ]);
  });

  test('writes the study outside the project, and nothing inside it', () => {
    expect(written).toHaveLength(3);
    const [study = '', runs = '', page = ''] = written;
    expect(JSON.parse(readFileSync(study, 'utf8'))).toEqual(planned.study);
    expect(readFileSync(runs, 'utf8')).toBe(planned.runs);
    expect(dirname(runs).startsWith(tmpdir())).toBe(true);
    expect(projectFiles()).toEqual(before);
    const cautions = planned.sheet.match(/(?<=^- \[ \] ).+$/gm) ?? [];
    expect(cautions.length).toBeGreaterThan(5);
    const shown = plain(htmlOf(run, 'sheet-show'));
    for (const caution of cautions) {
      expect(plain(readFileSync(page, 'utf8'))).toContain(`☐ ${caution}`);
      expect(shown).toContain(`☐ ${caution}`);
    }
    rmSync(dirname(runs), { recursive: true });
  });

  test('checks the exercise, and hints only once an answer was wrong', () => {
    expect(sentencesOf(run, 'answer')[0]).toMatch(/^No answer yet. Write it/);
    expect(sentencesOf(run, 'answer-0')[0]).toMatch(/^Right: 0,5 %; in every lap/);
    expect(sentencesOf(run, 'answer-1')[0]).toContain('taking turns does not cancel it');
    expect(sentencesOf(run, 'answer-2')[0]).toContain('which meter goes first');
    expect(sentencesOf(run, 'answer-3')[0]).toMatch(/^Not yet. Hint: /);
    expect(errorStreams(run)).toEqual([]);
  });

  test.each([
    ['question', 'const wanted = 0.04', 'const wanted = 2.5', /must be a fraction. Found: 2.5/],
    [
      'bench',
      'wavelength_nm: 638',
      'wavelength_nm: 63.8',
      /"red module".* 63.8 nm. Right would be/,
    ],
  ])('a wrong value at the top gets a sentence and no stack: %s', async (id, good, bad, said) => {
    const path = join(root, 'notebooks', '1-plan.ipynb');
    const text = readFileSync(path, 'utf8');
    expect(text).toContain(good);
    const copy = join(mkdtempSync(join(tmpdir(), 'meterpair-test-')), '1-plan.ipynb');
    writeFileSync(copy, text.replace(good, bad));
    const error = await runNotebook({ notebook: copy, cwd: dirname(path) }).catch(String);
    expect(error, id).toMatch(said);
    expect(error).toContain('(Which question)');
    expect(error).not.toMatch(/others:|code:|\n\s+at /);
  });
});

describe('3-correct.ipynb', () => {
  let run: Notebook;
  let factors: Factors;
  const readings = [
    { reading_mW: 71, wavelength_nm: 405 },
    { reading_mW: 900, wavelength_nm: 450 },
    { reading_mW: 65, wavelength_nm: 520 },
    { reading_mW: 34, wavelength_nm: 520 },
    { reading_mW: 27, wavelength_nm: 488 },
  ].map((one) => ({ ...one, date: '2024-12-06' }));
  const ends = (text: string | undefined) => (text ?? '').split(' to ').map(Number);

  beforeAll(async () => {
    const study = await readStudy(join(root, 'data-demo', '1-workshop-evening'));
    factors = factorsOf(study, analyse(study));
    const high = correct(factors, { reading_mW: 77, wavelength_nm: 405 }).high;
    // By hand from the tables: the interval of the first reading, scaled to the new one.
    const upper = Number(
      correct(factors, { reading_mW: 71, wavelength_nm: 405 }).high.toPrecision(3),
    );
    const shown = [(77 / 71) * upper, 77 * 1.216, 77 / 1.216, 77, high].map(String);
    run = await runWithAnswers('3-correct.ipynb', shown);
  });

  test('shows the factors of the study that it analyses', () => {
    const shown = columnOf(run, 'factors', 'Factor K').map((text) => text.split(' ± ')[0]);
    expect(shown).toHaveLength(factors.factors.length);
    for (const [i, entry] of factors.factors.entries()) expectPrinted(shown[i], entry.factor);
  });

  test('corrects readings with U, k and interval, as the package does', () => {
    const powers = columnOf(run, 'corrected', 'Corrected power');
    const ks = columnOf(run, 'corrected', 'k');
    expect(powers).toHaveLength(readings.length);
    for (const [i, reading] of readings.entries()) {
      const found = correct(factors, reading);
      const [, value, U] = /^\(([\d.]+) ± ([\d.]+)\) mW$/.exec(powers[i] ?? '') ?? [];
      expectPrinted(value, found.value);
      expectPrinted(U, found.U);
      expectPrinted(ks[i], found.k);
    }
  });

  test('finds the powers that the virtual bench hid, within the intervals', () => {
    // data-demo/1-workshop-evening/truth.json, factor_to_truth of series violet, blue middle, green a.
    const truth = [71 * 1.21, 900 * 1.08, 65 * 1.12];
    const intervals = columnOf(run, 'corrected', 'Interval in mW');
    for (const [i, power] of truth.entries()) {
      const [low, high] = ends(intervals[i]);
      expect(power).toBeGreaterThan(low ?? Number.NaN);
      expect(power).toBeLessThan(high ?? Number.NaN);
    }
  });

  test('shows the cautions of every reading, and those about lasers', () => {
    const shown = sentencesOf(run, 'cautions').join('\n');
    const own = readings.flatMap((reading) => correct(factors, reading).cautions);
    expect(own.length).toBeGreaterThan(1);
    for (const { message } of own) expect(shown).toContain(message);
    for (const caution of factors.cautions) expect(shown).toContain(caution);
  });

  test('splits the uncertainty of a strong and of a weak reading', () => {
    const entry = factors.factors.find((one) => one.wavelength_nm === 808);
    const [weakest = 0, strongest = 0] = entry?.candidate_range_mW ?? [];
    const faint = Number((0.6 * weakest).toPrecision(2));
    for (const [id, reading] of [
      ['budget', { reading_mW: strongest, wavelength_nm: 808 }],
      ['budget-weak', { reading_mW: faint, wavelength_nm: 808 }],
    ] as const) {
      const found = correct(factors, reading);
      const shown = columnOf(run, id, 'Standard uncertainty in %');
      const names = columnOf(run, id, 'Contribution');
      const of = (name: string) => shown[names.indexOf(name)];
      // JCGM 100:2008, F.2.2.1: a display step δ contributes δ/√12, and the zero as much again.
      const step = 100 / Math.sqrt(12) / reading.reading_mW;
      expectPrinted(of('display step'), step);
      expectPrinted(of('zero'), step);
      expectPrinted(of('scatter of the reading'), 100 * (entry?.reading_relative_sd ?? Number.NaN));
      expectPrinted(
        of('placement'),
        100 *
          Math.hypot(
            entry?.next_series_relative_sd ?? Number.NaN,
            entry?.levels[0].placement_relative_standard_uncertainty ?? Number.NaN,
          ),
      );
      expectPrinted(of('combined'), (100 * Math.log1p(found.U / found.value)) / found.k);
      expectPrinted(shown.at(-1), (100 * found.U) / found.value);
    }
    expect(columnOf(run, 'budget-weak', 'Contribution')).toContain('power outside the levels');
  });

  test('bounds the factor between wavelengths by both neighbours', () => {
    const shown = columnOf(run, 'between', 'Interval in mW');
    const nm = Number(columnOf(run, 'between', 'Wavelength in nm')[1]);
    expect(nm).toBe((638 + 808) / 2);
    const [middle] = columnOf(run, 'between', 'Corrected power').slice(1);
    const K = Number(columnOf(run, 'between', 'Factor K')[1]);
    const reading_mW = Math.round(Number(/\((\d+) /.exec(middle ?? '')?.[1]) / K / 10) * 10;
    const at = (wavelength_nm: number) => correct(factors, { reading_mW, wavelength_nm });
    const [low, high] = ends(shown[1]);
    expectPrinted(String(low), at(nm).low);
    expectPrinted(String(high), at(nm).high);
    // The interval ends short of neither neighbour's own factor.
    expect(low).toBeLessThanOrEqual(at(808).value);
    expect(high).toBeGreaterThanOrEqual(at(638).value);
    const width = (range: string | undefined) => ends(range).reduce((a, b) => b - a, 0);
    expect(width(shown[1])).toBeGreaterThan(Math.max(width(shown[0]), width(shown[2])));
  });

  test('prints the refusal beyond the measured wavelengths as a sentence', () => {
    let message = '';
    try {
      correct(factors, { reading_mW: 200, wavelength_nm: 958 });
    } catch (error) {
      message = error instanceof Error ? error.message : '';
    }
    expect(message).toContain('beyond the measured wavelengths');
    expect(sentencesOf(run, 'refusal')).toEqual([`Refused (wavelength-out-of-range). ${message}`]);
  });

  test('checks the exercise', () => {
    expect(sentencesOf(run, 'task')[0]).toBe('The candidate shows 77 mW at 405 nm.');
    expect(sentencesOf(run, 'answer')[0]).toMatch(/^No answer yet. Write it/);
    expect(sentencesOf(run, 'answer-0')[0]).toMatch(/^Right: /);
    expect(sentencesOf(run, 'answer-1')[0]).toContain('that is the middle');
    expect(sentencesOf(run, 'answer-2')[0]).toContain('multiplied by K, not divided');
    expect(sentencesOf(run, 'answer-3')[0]).toContain('as the candidate shows it');
    expect(sentencesOf(run, 'answer-4')[0]).toMatch(/^Right: /);
    expect(errorStreams(run)).toEqual([]);
  });

  test('takes a file of factors instead, and keeps running where it holds one wavelength', async () => {
    const one = {
      ...factors,
      factors: factors.factors.filter((each) => each.wavelength_nm === 520),
    };
    const own: Factors = { ...one, title: 'My own factors', wavelength_range_nm: [520, 520] };
    const highest = own.factors[0]?.candidate_range_mW[1];
    const path = join(mkdtempSync(join(tmpdir(), 'meterpair-test-')), 'factors.json');
    writeFileSync(path, factorsFile(own));
    const other = await runWithAnswers('3-correct.ipynb', [], { 'study-folder': path });
    expect(sentencesOf(other, 'factors')[0]).toBe('My own factors');
    const remarks = columnOf(other, 'corrected', 'Remarks');
    expect(remarks.filter((remark) => remark.startsWith('Not corrected. '))).toHaveLength(3);
    expect(remarks[2]).toBe('none');
    expect(sentencesOf(other, 'between')[0]).toContain('Only one wavelength was measured');
    expect(sentencesOf(other, 'task')[0]).toBe(`The candidate shows ${highest} mW at 520 nm.`);
    expect(errorStreams(other)).toEqual([]);
  });
});

describe('4-settling.ipynb', () => {
  let run: Notebook;

  beforeAll(async () => {
    // The truth of the virtual bench, data-demo/3-settling/README.md: 1.8 s and 6.5 s.
    const answers = [6.5 * Math.log(1000), 1.8 * Math.log(1000), 100];
    run = await runWithAnswers('4-settling.ipynb', answers.map(String));
  });

  const fitsOf = async () => {
    const study = await readStudy(join(root, 'data-demo', '3-settling'));
    return study.traces.map((trace) => ({
      trace,
      fit: fitStepResponse(trace, { onset_s: 'fitted', drift: true }),
    }));
  };

  test('shows the time constant of every trace, with its interval', async () => {
    const fits = await fitsOf();
    const shown = columnOf(run, 'fits', 'τ in s');
    const intervals = columnOf(run, 'fits', 'Interval of τ in s');
    expect(shown).toHaveLength(fits.length);
    for (const [i, { fit }] of fits.entries()) {
      if (fit.status !== 'fitted') throw new Error('The demo traces can all be fitted.');
      expectPrinted(shown[i], fit.time_constant_s.value);
      const [low, high] = (intervals[i] ?? '').split(' to ');
      expectPrinted(low, fit.time_constant_s.interval[0]);
      expectPrinted(high, fit.time_constant_s.interval[1]);
    }
  });

  test('says of the sensors what the command says, and finds what the virtual bench hid', async () => {
    const study = await readStudy(join(root, 'data-demo', '3-settling'));
    const findings = settlingFindings(study, { mayLack: 0.01, within: 0.01, over_s: null });
    const shown = sentencesOf(run, 'missing');
    expect(shown).toHaveLength(findings.flatMap(({ sentences }) => sentences).length);
    for (const sentence of findings.flatMap(({ sentences }) => sentences)) {
      expect(shown.join('\n')).toContain(sentence);
    }
    // data-demo/3-settling/README.md: 1.8 s and 6.5 s.
    for (const [place, truth] of [1.8, 6.5].entries()) {
      const [, value, U] = /time constant \(([\d.]+) ± ([\d.]+)\) s/.exec(shown[place] ?? '') ?? [];
      expect(Math.abs(Number(value) - truth)).toBeLessThan(Number(U));
    }
    // e^(−20/6.5) = 4.6 %, and about 30 s for 1 %; a little more at the upper end of the time constant.
    expect(shown[1]).toMatch(/At the 20 s of the protocol up to 4\.[6-8] % is missing/);
    expect(shown[1]).toMatch(/ 3[01] s after switch-on at most 1 %/);
  });

  test('extrapolates three readings, and shows how a fading source misleads them', async () => {
    const first = (await fitsOf()).find(({ trace }) => trace.meter === 'candidate')?.trace;
    const at = (s: number) => first?.reading_mW[first.elapsed_s.indexOf(s)] ?? Number.NaN;
    for (const [id, step] of [
      ['three', 6],
      ['three-late', 12],
    ] as const) {
      const found = threePointExtrapolation({
        readings_mW: [at(step), at(2 * step), at(3 * step)],
        spacing_s: step,
        readingStandardUncertainty_mW: 0.1 / Math.sqrt(12),
      });
      if (found.status !== 'extrapolated') throw new Error(found.why);
      const [, value, tau] =
        /go to ([\d.]+) mW .* time constant of ([\d.]+) s/.exec(sentencesOf(run, id)[0] ?? '') ??
        [];
      expectPrinted(value, found.value_mW);
      expectPrinted(tau, found.time_constant_s ?? Number.NaN);
    }
    // The prose says so: further apart, the three make the sensor look faster than it is (6.5 s).
    expect(sentencesOf(run, 'three-late')[0]).toMatch(/time constant of 4\.\d+ s/);
  });

  test('says what lag and fading do to the ratio', async () => {
    const fits = await fitsOf();
    const drifts = fits.map(({ fit }) =>
      fit.status === 'fitted' ? (fit.relative_drift_per_s?.value ?? Number.NaN) : Number.NaN,
    );
    const tau = (meter: string) =>
      combineTimeConstants(fits.filter(({ trace }) => trace.meter === meter).map(({ fit }) => fit))
        .value_s;
    const lag = lagDroop({
      relativeDroop_per_s: -drifts.reduce((sum, one) => sum + one, 0) / drifts.length,
      timeConstantReference_s: tau('reference'),
      timeConstantCandidate_s: tau('candidate'),
    });
    const [off, multiplied] = sentencesOf(run, 'lag');
    expectPrinted(/off by \(([\d.]+) ±/.exec(off ?? '')?.[1], 100 * (lag.relative_bias ?? 9));
    expectPrinted(/multiplied by ([\d.]+)\.$/.exec(multiplied ?? '')?.[1], lag.factor_multiplier);
    // data-demo/3-settling/README.md: 0.08 %/s × 4.7 s = 0.4 %.
    expectPrinted('0.4', 100 * (lag.relative_bias ?? 9));
  });

  test('ends with the factor of the comparison, which holds the truth', async () => {
    const study = await readStudy(join(root, 'data-demo', '3-settling'));
    const [wavelength] = analyse(study).wavelengths;
    const tables = htmlOf(run, 'comparison').split('</table>');
    expect(tables).toHaveLength(3);
    const cells = [...(tables[1] ?? '').matchAll(/<td[^>]*>([^<]*)<\/td>/g)].map(([, one]) => one);
    const [, , value, percent] = cells;
    expectPrinted(value, wavelength?.factor ?? Number.NaN);
    // data-demo/3-settling/truth.json, factor_to_reference.
    expect(Math.abs(Number(value) / 1.07272 - 1)).toBeLessThan(Number(percent) / 100);
    expect(sentencesOf(run, 'comparison').join(' ')).toContain('still lacks 4.6 %');
  });

  test('checks the exercise', () => {
    expect(sentencesOf(run, 'answer')[0]).toMatch(/^No answer yet. Write it/);
    expect(sentencesOf(run, 'answer-0')[0]).toMatch(/^Right: /);
    expect(sentencesOf(run, 'answer-1')).toEqual(['Not yet: the slower one decides.']);
    expect(sentencesOf(run, 'answer-2')[0]).toMatch(/^Not yet. Hint: /);
    expect(errorStreams(run)).toEqual([]);
  });

  test('a study without traces is told so, in a sentence', async () => {
    const folder = join(root, 'data-demo', '1-workshop-evening');
    const error = await runWithAnswers('4-settling.ipynb', [], { 'study-folder': folder }).catch(
      String,
    );
    expect(error).toContain('(The study) failed: traces.csv: This study has no trace');
    expect(error).not.toMatch(/others:|TypeError/);
  });
});
