import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Data, Layout, PlotData } from 'plotly.js';
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { agreementFigure } from '../../src/figures/agreementFigure.js';
import { factorsFigure } from '../../src/figures/factorsFigure.js';
import type { Figure } from '../../src/figures/figure.js';
import { lapRatios } from '../../src/figures/lapRatios.js';
import { lapsFigure } from '../../src/figures/lapsFigure.js';
import { powerFigure } from '../../src/figures/powerFigure.js';
import { appendixFigures, reportFigures } from '../../src/figures/reportFigures.js';
import { runsFigure } from '../../src/figures/runsFigure.js';
import { readings } from '../../src/findings/studyFindings.js';
import { readStudy } from '../../src/record/readStudy.js';
import type { Result, Study } from '../../src/vocabulary.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';
import { emptyExample, HOSTILE, hostileExample } from '../report/hostile.js';

const study = exampleStudy();
const result = exampleResult();

function allFigures(of: Study, from: Result): readonly Figure[] {
  return [...reportFigures(of, from), ...appendixFigures(of, from)].map((one) => one.figure);
}

/** Every leaf of plain data with its path. */
function leaves(value: unknown, path = ''): readonly (readonly [string, unknown])[] {
  if (typeof value !== 'object' || value === null) return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) => leaves(inner, `${path}.${key}`));
}

const trace = (data: Data) => data as Partial<PlotData>;
const named = (figure: Figure, name: string) =>
  trace(figure.data.find((one) => trace(one).name?.startsWith(name)) ?? {});
const numbers = (list: unknown) => list as number[];

/** Titles of all axes that have one. */
function axisTitles(layout: Partial<Layout>): readonly string[] {
  return leaves(layout)
    .filter(([path]) => /^\.[xy]axis\d*\.title\.text$/.test(path))
    .map(([, text]) => String(text));
}

describe('all figures', () => {
  it('are the same for the same input', () => {
    expect(JSON.stringify(allFigures(exampleStudy(), exampleResult()))).toBe(
      JSON.stringify(allFigures(study, result)),
    );
  });

  it('hold no number that is not finite and nothing undefined, also with everything missing', () => {
    const { study: bare, result: nothing } = emptyExample();
    const figures = [...allFigures(study, result), ...allFigures(bare, nothing)];
    const wrong = leaves(figures).filter(
      ([, leaf]) => leaf === undefined || (typeof leaf === 'number' && !Number.isFinite(leaf)),
    );
    expect(wrong).toEqual([]);
    expect(figures.length).toBeGreaterThan(9);
  });

  it('have words for those who cannot see them, and units on their axes', () => {
    for (const figure of allFigures(study, result)) {
      expect(figure.title.length).toBeGreaterThan(10);
      expect(figure.alt.length).toBeGreaterThan(40);
      expect(figure.alt).not.toMatch(/NaN|null|undefined/);
      expect(axisTitles(figure.layout).length).toBeGreaterThan(0);
      for (const title of axisTitles(figure.layout)) expect(title).toMatch(/ \/ |K = |no times/);
    }
  });

  it('set no text from a file as markup', () => {
    const { study: bad, result: worse } = hostileExample();
    const text = JSON.stringify(allFigures(bad, worse));
    expect(text).not.toContain(JSON.stringify(HOSTILE).slice(1, -1));
    expect(text).not.toMatch(/<(script|img|a)\b/i);
    expect(text).toContain('&lt;/script&gt;');
  });

  it('know the plotting library by its types only', () => {
    const folder = new URL('../../src/figures/', import.meta.url);
    const imports = readdirSync(folder).flatMap((file) =>
      readFileSync(new URL(file, folder), 'utf8')
        .split('\n')
        .filter((line) => line.includes("'plotly.js")),
    );
    expect(imports.length).toBeGreaterThan(3);
    for (const line of imports) expect(line).toMatch(/^import type /);
  });

  it('differ by marker shape and not by colour alone', () => {
    const symbols = agreementFigure(study, result).data.map((one) => trace(one).marker?.symbol);
    expect(new Set(symbols).size).toBe(symbols.length);
  });
});

it('draws readings as the analysis takes them: settled, where it brought them there', async () => {
  const folder = fileURLToPath(new URL('../../data-demo/3-settling', import.meta.url));
  const read = await readStudy(folder);
  const found = analyse(read);
  const bias = found.agreement.difference_percent.mean ?? 0;
  // One series, six laps: the bias is the mean of what is drawn.
  const laps = numbers(named(agreementFigure(read, found), '638 nm').y);
  expect(laps).toHaveLength(6);
  expect(laps.reduce((sum, one) => sum + one / 6, 0)).toBeCloseTo(bias, 6);
  // Drift and placement of the meters aside, the reference stands above the candidate by as much.
  const [reference, candidate] = ['reference', 'candidate'].map((meter) => {
    const y = numbers(named(runsFigure(read, found), meter).y);
    return y.reduce((sum, one) => sum + one / y.length, 0);
  });
  expect(100 * ((100 + candidate) / (100 + reference) - 1)).toBeCloseTo(bias, 1);
  const row = readings(read, found).rows[0] ?? [];
  const [shown, other] = [row[2], row[3]].map((cell) => String(cell).split(' ').map(Number));
  const percents = shown.map((one, i) => 100 * (other[i] / one - 1));
  expect(percents.reduce((sum, one) => sum + one / 6, 0)).toBeCloseTo(bias, 2);
  const [centre] = lapRatios(read, found);
  const interval = centre?.interval ?? [1, 1];
  expect(Math.min(...interval)).toBeLessThan(0.2);
  expect(Math.max(...interval)).toBeGreaterThan(-0.2);
});

it('shows what two settings of one meter are worth, and does not take it away', async () => {
  const folder = fileURLToPath(new URL('../../data-demo/1-workshop-evening', import.meta.url));
  const read = await readStudy(folder);
  const found = analyse(read);
  const drawn = runsFigure(read, found, ['setting of the reference']);
  const [right, other] = ['reference, set to 638', 'reference, set to 532'].map((name) => {
    const y = numbers(named(drawn, name).y);
    return y.reduce((sum, one) => sum + one / y.length, 0);
  });
  // To half a percent: the figure is about plain means, the result takes the drift out.
  const ratio = found.settings[0]?.ratio ?? 1;
  expect(ratio).toBeGreaterThan(1.01);
  expect(other - right).toBeCloseTo(100 * (ratio - 1), 0);
});

it('says a bias without an interval to two digits', () => {
  const { difference_percent } = result.agreement;
  const alone = { ...difference_percent, mean: -6.393, low: null, high: null };
  const of = { ...result, agreement: { ...result.agreement, difference_percent: alone } };
  expect(JSON.stringify(agreementFigure(study, of).layout.shapes)).toContain('"bias −6.4 %"');
});

it('cuts no arrow at the edge of a low panel', async () => {
  const slip = await readStudy(
    fileURLToPath(new URL('../../data-demo/7-slip-of-the-pen', import.meta.url)),
  );
  for (const figure of [lapsFigure(slip, analyse(slip)), powerFigure(slip, analyse(slip))]) {
    const arrows = figure.data.filter((one) => trace(one).name?.includes('beyond the scale'));
    expect(arrows.length).toBeGreaterThan(0);
    for (const one of arrows) expect(trace(one).cliponaxis).toBe(false);
  }
});

describe('runsFigure', () => {
  it('draws every run of the study once', () => {
    const figure = runsFigure(study, result);
    const drawn = figure.data
      .filter((one) => one.name !== 'beyond the scale')
      .reduce((sum, one) => sum + numbers(trace(one).x).length, 0);
    expect(drawn).toBe(study.series.reduce((sum, series) => sum + series.runs.length, 0));
  });

  it('draws runs that are left out hollow and gives their reason', () => {
    const figure = runsFigure(study, result, ['red']);
    const out = named(figure, 'reference, left out');
    expect(out.marker?.symbol).toBe('circle-open');
    expect(JSON.stringify(out.hovertext)).toContain('left out: the head was knocked');
    expect(numbers(out.x)).toHaveLength(2);
  });

  it('centres a series on the middle of the medians of both meters, in percent', () => {
    const series = study.series.find((one) => one.id === 'green-old');
    const figure = runsFigure(study, result, ['green-old']);
    const all = figure.data.flatMap((one) => numbers(trace(one).y));
    const [low, high] = (figure.layout.yaxis?.range ?? []) as number[];
    const readings = (['reference', 'candidate'] as const).map((meter) =>
      (series?.runs ?? []).filter((run) => run.meter === meter).map((run) => run.reading_mW),
    );
    const [first, second] = readings.map((list) => [...list].sort((x, y) => x - y));
    // Five runs of each meter: the third is the median.
    expect([first.length, second.length]).toEqual([5, 5]);
    const middle = (first[2] + second[2]) / 2;
    const expected = readings.flat().map((reading) => 100 * (reading / middle - 1));
    const inside = expected.flatMap((value, i) => (value > low && value < high ? [i] : []));
    expect(inside.length).toBeGreaterThan(5);
    for (const i of inside) expect(all[i]).toBeCloseTo(expected[i], 9);
  });

  it('shows the other runs of a series where one reading was typed ten times too large', () => {
    const slip: Study = {
      ...study,
      series: study.series.map((one) => ({
        ...one,
        runs: one.runs.map((run, i) =>
          one.id === 'green-old' && i === 0 ? { ...run, reading_mW: 10 * run.reading_mW } : run,
        ),
      })),
    };
    const beyond = named(runsFigure(slip, result, ['green-old']), 'beyond the scale');
    expect(beyond.x).toHaveLength(1);
    expect(beyond.marker?.symbol).toEqual(['triangle-up']);
  });

  it('draws no percentage of a middle that is not above zero', () => {
    const dark: Study = {
      ...study,
      series: study.series
        .filter((one) => one.kind === 'comparison')
        .map((one) => ({
          ...one,
          runs: one.runs.map((run) => ({ ...run, reading_mW: -0.1 })),
        })),
    };
    const all = runsFigure(dark, result).data.flatMap((one) => numbers(trace(one).y));
    expect(all.length).toBeGreaterThan(50);
    expect(all.every((value) => value === null)).toBe(true);
  });

  it('grows with the number of series and uses the time only where it was recorded', () => {
    const one = runsFigure(study, result, ['red']);
    const two = runsFigure(study, result, ['red', 'green-old']);
    expect(Number(two.layout.height)).toBeGreaterThan(Number(one.layout.height) + 100);
    expect(axisTitles(one.layout)).toContain('time since the first run / min');
    expect(axisTitles(two.layout)).toContain('run (no times recorded)');
  });

  it('keeps panels apart and inside the figure', () => {
    const { layout } = runsFigure(study, result);
    const domains = leaves(layout)
      .filter(([path]) => /^\.yaxis\d*\.domain\.[01]$/.test(path))
      .map(([, value]) => Number(value));
    for (const value of domains) {
      expect(value).toBeGreaterThanOrEqual(0);
      expect(value).toBeLessThanOrEqual(1);
    }
    for (let i = 2; i < domains.length; i += 2) {
      expect(domains[i + 1]).toBeLessThan(domains[i - 2]);
    }
    expect(domains).toHaveLength(2 * study.series.length);
  });
});

describe('agreementFigure', () => {
  const figure = agreementFigure(study, result);

  it('plots candidate minus reference in percent of the reference against the mean of both', () => {
    const red = study.series.find((one) => one.id === 'red');
    const points = named(figure, '638 nm');
    // Laps 1 (cold start) and 4 (declared) are left out, so lap 2 comes first.
    const [reference, candidate] = [red?.runs[2].reading_mW ?? 0, red?.runs[3].reading_mW ?? 0];
    expect(numbers(points.x)[0]).toBeCloseTo((reference + candidate) / 2, 9);
    expect(numbers(points.y)[0]).toBeCloseTo((100 * (candidate - reference)) / reference, 9);
    expect(numbers(points.x)).toHaveLength(8);
  });

  it('draws bias, limits and their intervals where the result has them', () => {
    const { difference_percent: bias, limits_percent: limits } = result.agreement;
    const lines = (figure.layout.shapes ?? [])
      .filter((one) => one.type === 'line')
      .map((one) => one.y0);
    expect(lines).toEqual([bias.mean, limits.low, limits.high]);
    const bars = named(figure, '95 % intervals of bias and limits');
    const { array, arrayminus } = bars.error_y as { array: number[]; arrayminus: number[] };
    const ends = numbers(bars.y).flatMap((at, i) => [at - arrayminus[i], at + array[i]]);
    const expected = [bias.low, bias.high, ...limits.low_interval, ...limits.high_interval];
    expected.forEach((end, i) => {
      expect(ends[i]).toBeCloseTo(Number(end), 9);
    });
  });

  it('sets the three intervals side by side, right of every lap', () => {
    for (const one of [study, { ...study, series: study.series.slice(0, 1) }]) {
      const drawn = agreementFigure(one, result);
      const laps = drawn.data
        .filter(({ name }) => / nm$/.test(name ?? ''))
        .flatMap((lap) => numbers(trace(lap).x));
      const at = numbers(named(drawn, '95 % intervals of bias and limits').x);
      expect([...at].sort((a, b) => a - b)).toEqual(at);
      expect(new Set([Math.max(...laps), ...at]).size).toBe(4);
      expect(at[0]).toBeGreaterThan(Math.max(...laps));
    }
  });

  it('lets no interval flatten the laps, and marks where one runs out', () => {
    const { limits_percent: limits } = result.agreement;
    const [low, high] = [limits.low ?? 0, limits.high ?? 0];
    const wide: Result = {
      ...result,
      agreement: {
        ...result.agreement,
        limits_percent: { ...limits, high_interval: [low, high + 10 * (high - low)] },
      },
    };
    const drawn = agreementFigure(study, wide);
    const [from, to] = (drawn.layout.yaxis?.range ?? []) as number[];
    expect(to - from).toBeLessThan(5 * (high - low));
    const arrow = named(drawn, 'interval beyond the scale');
    expect(arrow.marker?.symbol).toEqual(['triangle-up']);
    expect(arrow.y).toHaveLength(1);
    expect(numbers(arrow.y)[0]).toBeLessThan(to);
    expect(named(figure, 'interval beyond the scale')).toEqual({});
  });

  it('says the bias to the place that its interval leaves', () => {
    const unsure: Result = {
      ...result,
      agreement: {
        ...result.agreement,
        difference_percent: {
          ...result.agreement.difference_percent,
          mean: 4.42,
          low: -32,
          high: 40,
        },
      },
    };
    const drawn = agreementFigure(study, unsure);
    expect(drawn.alt).toContain('Bias 4 %');
    expect(JSON.stringify(drawn.layout.shapes)).toContain('"bias 4 %"');
  });

  it('uses a logarithmic level when it spans more than a factor of ten, and only then', () => {
    expect(figure.layout.xaxis?.type).toBe('log');
    const narrow: Study = { ...study, series: study.series.filter((one) => one.id === 'red') };
    expect(agreementFigure(narrow, result).layout.xaxis?.type).toBe('linear');
  });

  it('stays readable with no series at all', () => {
    const none = agreementFigure({ ...study, series: [] }, result);
    expect(JSON.stringify(none.layout.annotations)).toContain('no complete lap');
    expect(none.alt).toContain('0 kept laps');
  });
});

describe('factorsFigure', () => {
  const figure = factorsFigure(study, result);

  it('shows each settled factor with its own interval', () => {
    const points = named(figure, 'factor K');
    const settled = result.wavelengths.filter((one) => one.verdict !== 'inconclusive');
    expect(points.x).toEqual(settled.map((one) => one.wavelength_nm));
    expect(points.y).toEqual(settled.map((one) => one.factor));
    const bars = points.error_y as { array: number[]; arrayminus: number[] };
    settled.forEach((one, i) => {
      expect((one.factor ?? 0) + bars.array[i]).toBeCloseTo(one.high ?? 0, 12);
      expect((one.factor ?? 0) - bars.arrayminus[i]).toBeCloseTo(one.low ?? 0, 12);
    });
  });

  it('marks an inconclusive factor as not to be used', () => {
    const open = named(figure, 'inconclusive: do not use');
    expect(open.x).toEqual([532]);
    expect(open.marker?.symbol).toBe('x-open');
  });

  it('draws the band in which an uncorrected reading is within tolerance', () => {
    // |C/R − 1| ≤ τ with K = R/C means K from 1/(1 + τ) to 1/(1 − τ).
    const band = figure.layout.shapes?.find((one) => one.type === 'rect');
    expect(band?.y0).toBeCloseTo(1 / 1.05, 12);
    expect(band?.y1).toBeCloseTo(1 / 0.95, 12);
  });

  it('shows every settled interval in full, however wide an inconclusive one is', () => {
    const wavelengths = result.wavelengths.map((one) =>
      one.verdict === 'inconclusive' ? { ...one, low: 0.01, high: 90 } : one,
    );
    const [low, high] = factorsFigure(study, { ...result, wavelengths }).layout.yaxis?.range ?? [];
    for (const one of wavelengths.filter((each) => each.verdict !== 'inconclusive')) {
      expect(low).toBeLessThan(one.low ?? 0);
      expect(high).toBeGreaterThan(one.high ?? 0);
    }
    expect(high).toBeLessThan(3);
  });
});
