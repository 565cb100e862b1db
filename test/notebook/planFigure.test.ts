import type { PlotData } from 'plotly.js';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { envelopeFigure } from '../../src/figures/envelopeFigure.js';
import type { Figure } from '../../src/figures/figure.js';
import { planFigure, plannedWidths } from '../../src/figures/planFigure.js';
import { traceFigure } from '../../src/figures/traceFigure.js';
import type { ComparisonWishes } from '../../src/plan/comparisonWishes.js';
import { planComparison } from '../../src/plan/planComparison.js';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { type FactorEntry, type Factors, LEAST_LAPS, type Trace } from '../../src/vocabulary.js';
import { atOneLevel } from '../fullRecords.js';

const HOSTILE = '<script>alert(1)</script> & <img src=x>';
const plan: ComparisonWishes = {
  wanted: 0.04,
  confidence: 0.95,
  certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
  noise: { reference: 0.008, candidate: 0.008 },
  placement: 0.01,
};

const entry = (wavelength_nm: number, factor: number): FactorEntry =>
  atOneLevel({
    wavelength_nm,
    factor,
    low: factor * 0.98,
    high: factor * 1.02,
    relative_standard_uncertainty: 0.01,
    dof: 50,
    relative_expanded_uncertainty: 0.02,
    coverage_factor: 2,
    candidate_range_mW: [10, 100],
    reading_relative_sd: 0.002,
    reading_dof: 10,
    verdict: wavelength_nm === 700 ? 'inconclusive' : 'correct-it',
  });

const factorsWith = (...factors: readonly FactorEntry[]): Factors => ({
  schema: 'meterpair.factors/2',
  date: null,
  data_sha256: '0'.repeat(64),
  title: 'invented',
  direction: 'corrected = factor × candidate reading',
  reference: { name: 'R', uncertainty_stated: true, relative_standard_uncertainty: 0.01 },
  candidate: { name: 'C', resolution_mW: 0.1, rated_max_mW: 500 },
  confidence: 0.95,
  tolerance_percent: 5,
  wavelength_range_nm: null,
  factors,
  cautions: [],
});

const seconds = Array.from({ length: 31 }, (_, i) => i);
const trace = (meter: Trace['meter'], tau: number): Trace => ({
  series: HOSTILE,
  run: 1,
  meter,
  elapsed_s: seconds,
  reading_mW: seconds.map((t) => 100 * (1 - Math.exp(-t / tau)) + 0.01 * Math.sin(7 * t)),
});
const traces = [trace('reference', 2), trace('candidate', 5)];
const protocol = {
  order: null,
  discard_first_laps: 0,
  read_at_s: 20,
  exclude_cold_starts: true,
  exclude_outliers: false,
  placement: null,
};
const fits = traces.map((one) => ({ trace: one, fit: fitStepResponse(one) }));

const leaves = (value: unknown): readonly unknown[] =>
  typeof value === 'object' && value !== null ? Object.values(value).flatMap(leaves) : [value];
const data = (figure: Figure) => figure.data as readonly Partial<PlotData>[];

describe('plannedWidths', () => {
  test('meet the wish at the laps that planComparison names, and not one block before', () => {
    for (const wanted of [0.0393, 0.0396]) {
      const { design } = planComparison({ ...plan, wanted, most_series: 1 });
      const widths = plannedWidths(plan, { series: 1, most_laps: 40 });
      const place = widths.findIndex((one) => one.laps === design?.laps);
      expect(place).toBeGreaterThan(0);
      expect(widths[place]?.promised).toBeLessThanOrEqual(wanted);
      expect(widths[place - 1]?.promised).toBeGreaterThan(wanted);
    }
  });

  test('begin with the laps that a series should have', () => {
    expect(plannedWidths(plan, { series: 2 }).map((one) => one.laps)).toEqual([8, 12, 16, 20, 24]);
    expect(plannedWidths({ ...plan, order: 'reference-first' }, { series: 1 })[0]?.laps).toBe(
      LEAST_LAPS,
    );
  });
});

describe('the figures for planning, correcting and settling', () => {
  const plans = [
    { name: HOSTILE, plan },
    { name: 'second', plan: { ...plan, source_noise: 0.05 } },
  ];
  const three = factorsWith(entry(500, 1.1), entry(600, 1), entry(700, 0.9));
  const figures = [
    planFigure({ plans, series: 2, wanted: 0.03 }),
    planFigure({ plans, series: 2, wanted: 0.03, most_laps: 1 }),
    planFigure({ plans: [], series: 2, wanted: 0.03 }),
    traceFigure({ traces, protocol }),
    traceFigure({ traces, protocol }, fits),
    traceFigure({ traces: [], protocol: { ...protocol, read_at_s: null } }),
    envelopeFigure(three, 50),
    envelopeFigure(factorsWith(entry(500, 1.1)), 50),
    envelopeFigure(factorsWith(), 50),
  ];

  test('hold no number that is not finite and nothing undefined, also with everything missing', () => {
    const all = leaves(figures);
    expect(all.length).toBeGreaterThan(500);
    expect(
      all.filter((one) => one === undefined || (typeof one === 'number' && !Number.isFinite(one))),
    ).toEqual([]);
  });

  test('have words for those who cannot see them, and no markup from a file', () => {
    for (const figure of figures) {
      expect(figure.alt.length).toBeGreaterThan(25);
      expect(figure.alt).not.toMatch(/NaN|null|undefined|Infinity/);
      expect(JSON.stringify([figure.data, figure.layout])).not.toMatch(/<(script|img)\b/);
    }
  });

  test('differ by marker shape and not by colour alone', () => {
    for (const figure of [figures[0], figures[3], figures[6]]) {
      const symbols = data(figure as Figure).map((one) => one.marker?.symbol);
      expect(symbols.length).toBeGreaterThan(1);
      expect(new Set(symbols).size).toBe(symbols.length);
    }
  });

  test('draw every reading of every trace, and the fitted curves through them', () => {
    const [points, , curve] = data(figures[4] as Figure);
    expect(points?.y).toEqual(traces[0]?.reading_mW);
    const times = curve?.x as readonly number[];
    const place = times.indexOf(15);
    // By hand: 100 (1 − e^(−15/2)) = 99.945 mW.
    expect(Math.abs(Number(curve?.y?.[place]) - 99.945)).toBeLessThan(0.01);
  });

  test('draw a box between neighbours, whose middle is the geometric one, and none outside', () => {
    const shapes = (figures[6]?.layout.shapes ?? []).filter((shape) => shape.type === 'rect');
    expect(shapes.map((shape) => [shape.x0, shape.x1])).toEqual([
      [502, 598],
      [602, 698],
    ]);
    for (const [shape, a, b] of [
      [shapes[0], 1.1, 1],
      [shapes[1], 1, 0.9],
    ] as const) {
      const [low, high] = [Number(shape?.y0), Number(shape?.y1)];
      expect(Math.sqrt(low * high)).toBeCloseTo(Math.sqrt(a * b), 9);
      expect(low).toBeLessThanOrEqual(Math.min(a, b));
      expect(high).toBeGreaterThanOrEqual(Math.max(a, b));
    }
    expect(figures[7]?.layout.shapes).toEqual([]);
  });

  test('say where they stand in for a reading that may not be corrected', () => {
    expect(envelopeFigure(three, 501).alt).toContain('no factor is given at the power asked for');
    expect(envelopeFigure(three, 40).alt).not.toContain('no factor is given at the power asked');
    expect(() => envelopeFigure(three, Number.NaN)).toThrow(MeterpairError);
  });
});
