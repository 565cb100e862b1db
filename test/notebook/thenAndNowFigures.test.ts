import type { Data, PlotData } from 'plotly.js';
import { describe, expect, test } from 'vitest';
import { severalUnits } from '../../src/factors/severalUnits.js';
import type { Figure } from '../../src/figures/figure.js';
import { reChecksFigure } from '../../src/figures/reChecksFigure.js';
import { unitsFigure } from '../../src/figures/unitsFigure.js';
import { reCheckSentences } from '../../src/findings/reCheckSentences.js';
import { inventedDemo } from '../../src/notebook/invented.js';
import { changeParts } from '../../src/notebook/rows/changePartsRows.js';
import { chartLimitRows, checkByCheckRows } from '../../src/notebook/rows/reCheckRows.js';
import { unitByUnitRows, unitRows } from '../../src/notebook/rows/unitRows.js';
import { furtherUnitSentences, unitSentences } from '../../src/notebook/sentences/unitSentences.js';
import type { ReChecks } from '../../src/vocabulary.js';
import { madeFactors } from '../madeFactors.js';
import { exampleResult } from '../report/exampleResult.js';
import { HOSTILE, hostileExample } from '../report/hostile.js';

const charts = exampleResult().re_checks ?? [];
const [chart, noChart] = charts as [ReChecks, ReChecks];
const named = (figure: Figure, name: string) =>
  (figure.data as Data[])
    .map((one) => one as Partial<PlotData>)
    .find((one) => one.name?.startsWith(name));
const options = { confidence: 0.95 };

describe('chart of re-checks', () => {
  const figure = reChecksFigure(chart, { ...options, truth: [1.01, 1, 0.99] });

  test('draws every value on the chart once, in its order, with its own interval', () => {
    const drawn = named(figure, 'factor, 95 % interval');
    expect(drawn?.x).toEqual([1, 2, 3]);
    expect(drawn?.y).toEqual([1.02, 1.011, 0.981]);
    const error = drawn?.error_y as { array: number[]; arrayminus: number[] } | undefined;
    const { array = [], arrayminus = [] } = error ?? {};
    expect(array[2]).toBeCloseTo(0.019, 12);
    expect(arrayminus[2]).toBeCloseTo(0.021, 12);
  });

  test('marks the value that breaks a rule by shape, and says which rule', () => {
    const marked = named(figure, 'breaks a rule');
    expect([marked?.x, marked?.y]).toEqual([[3], [0.981]]);
    expect(marked?.marker?.symbol).toBe('square-open');
    expect(String(marked?.hovertext)).toContain('beyond the limits from the uncertainty');
  });

  test('tells both kinds of limits apart without colour: dashed lines and a band', () => {
    const shapes = figure.layout.shapes ?? [];
    const lines = shapes.filter((shape) => shape.type === 'line');
    const dashed = lines.filter((shape) => shape.line?.dash === 'dash');
    expect(dashed.map((shape) => shape.y0)).toEqual([0.951, 1.06]);
    expect(lines.filter((shape) => shape.line?.dash === 'solid').map((one) => one.y0)).toEqual([
      1.004,
    ]);
    const [band] = shapes.filter((shape) => shape.type === 'rect');
    expect([band?.y0, band?.y1]).toEqual([0.98, 1.028]);
    const [low, high] = figure.layout.yaxis?.range ?? [];
    expect(low).toBeLessThan(0.951);
    expect(high).toBeGreaterThan(1.06);
  });

  test('says in words what it shows, with axes that name their quantity', () => {
    expect(figure.alt).toContain('3 re-checks, oldest first: out of control');
    expect(figure.alt).toContain('Limits from the scatter 0.951 to 1.060');
    const titles = [figure.layout.xaxis?.title, figure.layout.yaxis?.title];
    expect(titles.map((title) => (title as { text: string }).text)).toEqual([
      're-check / number, oldest first',
      'factor K = reference ÷ candidate',
    ]);
  });

  test('without a chart there is a figure that says so', () => {
    const empty = reChecksFigure(noChart, options);
    expect(empty.data).toHaveLength(1);
    expect(empty.alt).toContain('no chart');
    expect(empty.layout.annotations?.[0]?.text).toBe('There is no factor.');
  });

  test('sets no text from a file as markup', () => {
    const worst = hostileExample().result.re_checks ?? [];
    const text = JSON.stringify(worst.map((one) => reChecksFigure(one, options)));
    expect(text).not.toContain(JSON.stringify(HOSTILE).slice(1, -1));
    expect(text).not.toMatch(/<(script|img)\b/i);
  });
});

describe('several units', () => {
  const units = [1.1, 1.15, 1.2].map((factor, i) => ({
    name: `Drawer meter of a long name, no. ${i + 1}${i === 0 ? '<b>' : ''}`,
    factor,
    relative_standard_uncertainty: 0.01,
  }));
  const input = { units, tolerance: 0.05, confidence: 0.95 };
  const found = severalUnits(input);
  const shown = { units, found, confidence: 0.95 };

  test('are drawn one line each, and those that nobody compared on the last', () => {
    const figure = unitsFigure({ ...shown, truth: [1.1, 1.1, 1.1], further: [1.05, 1.3] });
    expect(named(figure, 'compared unit')?.y).toEqual([1, 2, 3]);
    expect(named(figure, 'units that nobody compared')?.y).toEqual([4, 4]);
    const bands = (figure.layout.shapes ?? []).filter((shape) => shape.type === 'rect');
    expect(bands.map((band) => [band.x0, band.x1])).toEqual([
      found.furtherUnit,
      found.meanInterval,
    ]);
    expect(named(unitsFigure(shown), 'units that')).toBeUndefined();
  });

  test('keep the end of their names, in which they differ, and no markup', () => {
    const ticks = unitsFigure(shown).layout.yaxis?.ticktext ?? [];
    expect(ticks[1]).toBe('Drawer m…me, no. 2');
    expect(JSON.stringify(unitsFigure(shown))).not.toContain('<b>');
  });

  test('have a row each, and one for every number of units from two on', () => {
    expect(unitRows(units).map((row) => row['Factor K'])).toEqual(['1.100', '1.150', '1.200']);
    expect(Object.keys(unitRows(units)[0] ?? {})).not.toContain('True K');
    expect(unitByUnitRows(input).map((row) => row.Units)).toEqual([2, 3]);
    expect(unitByUnitRows({ ...input, units: units.slice(0, 1) })).toEqual([]);
  });

  test('are said in sentences', () => {
    expect(unitSentences(found)[0]).toBe(found.why);
    expect(unitSentences({ ...found, p: null }).join(' ')).not.toContain('alike');
    expect(furtherUnitSentences(found, [1.15, 5])[0]).toContain(
      'Of 2 further units, 1 lie in the interval of the mean and 1 in',
    );
  });
});

describe('rows and sentences of re-checks', () => {
  test('compare each check with the one before', () => {
    const checks = [1, 2].map((i) =>
      madeFactors(i, { candidate: { name: 'C', resolution_mW: 1, rated_max_mW: null } }),
    );
    const made: ReChecks = { ...chart, wavelength_nm: 520, values: chart.values.slice(2) };
    const rows = checkByCheckRows(checks, made, [1.1]);
    // 1.2 ÷ 1.1 − 1 = 9.09 %.
    expect(rows.map((row) => row['Since the check before, in %'])).toEqual(['—', '9.1']);
    expect(rows.map((row) => row['True K'])).toEqual(['1.100', '—']);
    expect(rows[1]?.['The chart']).toContain('beyond the limits');
  });

  test('say that there is no chart, and never null or NaN', () => {
    expect(reCheckSentences(null)).toHaveLength(1);
    expect(reCheckSentences(charts)[2]).toContain('808 nm, no chart');
    const all = [chartLimitRows([{ name: 'bare', chart: noChart }])];
    expect(JSON.stringify(all)).not.toMatch(/null|NaN|undefined/);
    expect(reCheckSentences(charts).join(' ')).not.toMatch(/null|NaN|undefined/);
  });

  test('refuse two sets of factors that cannot be compared, and a demo that does not exist', () => {
    expect(() => changeParts(madeFactors(1), madeFactors(2))).toThrow(/another candidate/);
    expect(() => inventedDemo('9-nowhere')).toThrow(/no such demo/);
  });
});
