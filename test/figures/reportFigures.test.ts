import type { Data, PlotData } from 'plotly.js';
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { beforeAfterFigure } from '../../src/figures/beforeAfterFigure.js';
import { budgetFigure } from '../../src/figures/budgetFigure.js';
import { budgetParts, REST } from '../../src/figures/budgetParts.js';
import type { Figure } from '../../src/figures/figure.js';
import { hazardFigure } from '../../src/figures/hazardFigure.js';
import { lapRatios } from '../../src/figures/lapRatios.js';
import { lapsFigure } from '../../src/figures/lapsFigure.js';
import { leftOutFigure } from '../../src/figures/leftOutFigure.js';
import { powerFigure } from '../../src/figures/powerFigure.js';
import { appendixFigures, reportFigures } from '../../src/figures/reportFigures.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { HazardResult, Result, Study } from '../../src/vocabulary.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';
import { hostileExample } from '../report/hostile.js';

const numbers = (list: unknown) => list as number[];
const trace = (data: Data | undefined) => (data ?? {}) as Partial<PlotData>;
const named = (figure: Figure, name: string) =>
  trace(figure.data.find((one) => one.name?.startsWith(name)));
const bars = (of: unknown) => of as { array: number[]; arrayminus: number[] };

/**
 * Reference 100 mW and candidate 80 mW in every kept lap, so that K is 100 ÷ 80 = 1.25 and the
 * candidate reads 20 % low. Lap 4 is declared to be left out: 100 ÷ 60.
 */
function byHand(): { study: Study; result: Result } {
  const rows = Array.from({ length: 8 }, (_, i) =>
    i === 3 ? 'a,pointer,100,60,beam clipped' : 'a,pointer,100,80,',
  );
  const study = parseStudy(
    {
      reference: { name: 'R', resolution_mW: 0.1, expanded_uncertainty_percent: 3 },
      candidate: { name: 'C', resolution_mW: 0.1 },
      sources: [{ name: 'pointer', wavelength_nm: 520, label_class: '2', label_max_mW: 1 }],
      tolerance_percent: 5,
    },
    { runs: ['series,source,reference_mW,candidate_mW,exclude', ...rows].join('\n') },
  );
  return { study, result: analyse(study) };
}

const hand = byHand();
const [wavelength] = hand.result.wavelengths;

describe('before and after', () => {
  const figure = beforeAfterFigure(hand.study, hand.result);

  it('shows 80/100 − 1 = −20 % before and the U of a corrected reading after', () => {
    const before = named(figure, 'as read');
    const after = named(figure, 'corrected');
    expect(numbers(before.x)[0]).toBeCloseTo(-20, 6);
    expect(bars(before.error_x).array[0]).toBeCloseTo(100 * (1 / (wavelength.low ?? 0)) - 80, 6);
    expect(bars(before.error_x).arrayminus[0]).toBeCloseTo(
      80 - 100 * (1 / (wavelength.high ?? 0)),
      6,
    );
    expect(numbers(after.x)).toEqual([0]);
    const U = 100 * (wavelength.corrected_reading_relative_U ?? 0);
    expect(U).toBeGreaterThan(3);
    expect(bars(after.error_x).array[0]).toBeCloseTo(U, 9);
    expect(bars(after.error_x).arrayminus[0]).toBeCloseTo(U, 9);
  });

  it('shows the seven kept laps, corrected by their level: 80 × 1.25 ÷ 100 − 1 = 0', () => {
    const [before, after] = [named(figure, 'laps, as read'), named(figure, 'laps, corrected')];
    expect(numbers(before.x)).toHaveLength(7);
    expect(numbers(after.x)).toHaveLength(7);
    for (const x of numbers(before.x)) expect(x).toBeCloseTo(-20, 9);
    for (const x of numbers(after.x)) expect(x).toBeCloseTo(0, 6);
  });

  it('draws the tolerance as it is stated, and says all of it in words', () => {
    const band = figure.layout.shapes?.find((one) => one.type === 'rect');
    expect([band?.x0, band?.x1]).toEqual([-5, 5]);
    expect(figure.alt).toMatch(/tolerance of ± 5 %.*520 nm: off by −20 % before, ± [\d.]+ % after/);
  });

  it('corrects nothing where the data are inconclusive, and says so in the picture', () => {
    const figure = beforeAfterFigure(exampleStudy(), exampleResult());
    const settled = exampleResult().wavelengths.filter((one) => one.verdict !== 'inconclusive');
    expect(numbers(named(figure, 'corrected').x)).toHaveLength(settled.length);
    expect(numbers(named(figure, 'as read').x)).toHaveLength(exampleResult().wavelengths.length);
    expect(figure.alt).toContain('inconclusive, so not corrected');
    expect(JSON.stringify(figure.layout.annotations)).toContain('not corrected: inconclusive');
  });

  it('takes the laps of the series that the factor came from only', () => {
    const wavelengths = hand.result.wavelengths.map((one) => ({ ...one, series: ['another'] }));
    const other = beforeAfterFigure(hand.study, { ...hand.result, wavelengths });
    expect(numbers(named(other, 'laps, as read').x)).toEqual([]);
  });
});

describe('hazard', () => {
  const figure = hazardFigure(hand.result);
  const row: HazardResult = hand.result.hazard[0];

  it('shows the highest power with its upper bound and what the label allows', () => {
    const power = named(figure, 'highest power: more than the label says');
    expect(numbers(power.x)).toEqual([row.highest_mW]);
    expect(bars(power.error_x).array[0]).toBeCloseTo(
      (row.upper_mW ?? 0) - (row.highest_mW ?? 0),
      9,
    );
    expect(numbers(named(figure, 'most that the label allows').x)).toEqual([1]);
    expect(figure.layout.xaxis?.type).toBe('log');
  });

  it('draws the limits of the classes at 520 nm: 0.39, 1, 5 and 500 mW', () => {
    // IEC 60825-1:2014, classes 1, 2, 3R and 3B, continuous, as in accessibleEmissionLimits.
    const ends = (figure.layout.shapes ?? []).map((zone) => zone.x1);
    expect(ends.slice(0, 4)).toEqual([0.39, 1, 5, 500]);
    const words = (figure.layout.annotations ?? []).map((one) => one.text);
    for (const name of ['1', '2', '3R', '3B', '4']) expect(words).toContain(name);
  });

  it('says a label that understates in words and by another mark', () => {
    const kept = hazardFigure({ hazard: [{ ...row, label_understates: false }] });
    const symbol = (of: Figure) => trace(of.data[0]).marker?.symbol;
    expect(symbol(figure)).not.toBe(symbol(kept));
    const words = (of: Figure) => JSON.stringify(of.layout.annotations);
    expect(words(figure)).toContain('▲ more hazardous than labelled');
    expect(words(kept)).not.toContain('▲');
    expect(figure.alt).toContain('1 of 1 sources more hazardous than labelled');
  });

  it('runs to the edge where nothing bounds the power, and says so', () => {
    const open = hazardFigure({ hazard: [{ ...row, upper_mW: null, class: '4', decided: false }] });
    const power = named(open, 'highest power');
    const end = numbers(power.x)[0] + bars(power.error_x).array[0];
    expect(Math.log10(end)).toBeCloseTo(Number(open.layout.xaxis?.range?.[1]), 9);
    expect(named(open, 'nothing bounds it').x).toHaveLength(1);
    expect(open.alt).toContain('class 4 cannot be excluded');
  });

  it('draws no mark for what was not seen, and no class where the standard gives none', () => {
    const blank = { ...row, highest_mW: null, upper_mW: null, class: null, wavelength_nm: 250 };
    const figure = hazardFigure({ hazard: [{ ...blank, label_understates: null }] });
    expect(figure.data.some((one) => one.name?.startsWith('highest power'))).toBe(false);
    expect(figure.layout.shapes).toEqual([]);
    expect(figure.alt).toContain('no power above zero was read');
  });

  it('allows by the class of the label where no power is printed: 5 mW for 3R', () => {
    const figure = hazardFigure({
      hazard: [{ ...row, label_class: '3R', label_max_mW: null }],
    });
    expect(numbers(named(figure, 'most that the label allows').x)).toEqual([5]);
  });
});

describe('laps', () => {
  const figure = lapsFigure(hand.study, hand.result);

  it('shows each lap off the median of the kept ones: 0, and 100/60 ÷ 1.25 − 1 = 33.3 %', () => {
    const [series] = lapRatios(hand.study, hand.result);
    expect(series.median).toBeCloseTo(1.25, 12);
    expect(series.laps.map((lap) => lap.percent)[3]).toBeCloseTo(100 * (100 / 60 / 1.25 - 1), 9);
    expect(numbers(named(figure, 'lap kept').y)).toEqual([0, 0, 0, 0, 0, 0, 0]);
    expect(numbers(named(figure, 'left out: declared by the user').x)).toEqual([4]);
    expect(figure.alt).toContain('1 left out, declared by the user');
  });

  it('has one scale for every panel and a mark of its own for every kind of reason', () => {
    const study = exampleStudy();
    const figure = lapsFigure(study, exampleResult());
    const layout = figure.layout as Record<string, { range?: number[] } | undefined>;
    const keys = Object.keys(layout).filter((key) => /^yaxis\d*$/.test(key));
    const ranges = (which: string[]) => new Set(which.map((key) => String(layout[key]?.range)));
    expect(keys.length).toBe(study.series.filter((one) => one.kind === 'comparison').length);
    expect(ranges(keys).size).toBe(1);
    expect(ranges(keys.map((key) => key.replace('y', 'x'))).size).toBe(1);
    const kinds = figure.data.filter((one) => one.name?.startsWith('left out'));
    expect(new Set(kinds.map((one) => one.name)).size).toBeGreaterThan(1);
    expect(new Set(kinds.map((one) => trace(one).marker?.symbol)).size).toBe(
      new Set(kinds.map((one) => one.name)).size,
    );
  });

  it('sets a lap beyond the scale at its edge with an arrow', () => {
    const arrows = named(lapsFigure(exampleStudy(), exampleResult()), 'beyond the scale');
    expect(numbers(arrows.x).length).toBeGreaterThan(0);
    for (const symbol of (arrows.marker?.symbol ?? []) as unknown as string[]) {
      expect(symbol).toMatch(/^triangle-(up|down)$/);
    }
  });

  it('leaves out a lap without a ratio and counts it', () => {
    const [series] = hand.study.series;
    const runs = series.runs.map((run, i) => (i === 0 ? { ...run, reading_mW: 0 } : run));
    const study = { ...hand.study, series: [{ ...series, runs }] };
    expect(lapsFigure(study, hand.result).alt).toContain('1 without a ratio');
  });
});

describe('budget', () => {
  it('cuts a bar as long as U by the shares, with nothing of no length', () => {
    const figure = budgetFigure(hand.result);
    const lengths = figure.data.flatMap((one) => numbers(trace(one).x));
    const U = 100 * (wavelength.relative_expanded_uncertainty ?? 0);
    const sum = lengths.reduce((total, length) => total + length, 0);
    // What is not drawn has a share below 0.5 % together.
    expect(sum / U).toBeGreaterThan(0.995);
    expect(sum / U).toBeLessThan(1 + 1e-9);
    for (const length of lengths) expect(length / U).toBeGreaterThan(0.004);
    const reference = wavelength.budget.find((one) => one.name.startsWith('calibration'));
    const bar = figure.data.find((one) => one.name?.includes('calibration of the reference'));
    expect(numbers(trace(bar).x)[0]).toBeCloseTo(U * (reference?.share ?? 0), 9);
  });

  it('tells the parts by pattern and letter', () => {
    const figure = budgetFigure(exampleResult());
    const patterns = figure.data.map(
      (one) => (trace(one).marker as { pattern: { shape: string } }).pattern.shape,
    );
    expect(new Set(patterns).size).toBe(patterns.length);
    figure.data.forEach((one, i) => {
      expect(one.name).toMatch(new RegExp(`^<b>${'abcdefgh'[i]}</b> `));
    });
  });

  it('draws small contributions together, and none that nobody could see', () => {
    const part = (name: string, share: number) => ({
      ...exampleResult().wavelengths[0].budget[0],
      name,
      share,
    });
    const one = {
      ...exampleResult().wavelengths[0],
      budget: [part('large', 0.95), part('b', 0.02), part('c', 0.02), part('d', 0.01)],
    };
    const parts = budgetParts([one]);
    expect(parts.map((each) => each.name)).toEqual(['large', REST]);
    expect(parts[1].shares[0]).toBeCloseTo(0.05, 12);
    const tiny = budgetParts([{ ...one, budget: [part('large', 0.999), part('b', 0.001)] }]);
    expect(tiny.map((each) => each.name)).toEqual(['large']);
  });

  it('cuts the bar of an inconclusive wavelength that would dwarf the others, and says its U', () => {
    const wavelengths = exampleResult().wavelengths.map((one) =>
      one.verdict === 'inconclusive' ? { ...one, relative_expanded_uncertainty: 0.7 } : one,
    );
    const figure = budgetFigure({ ...exampleResult(), wavelengths });
    expect(JSON.stringify(figure.layout.annotations)).toContain('U 70 %, cut');
    expect(Number(figure.layout.xaxis?.range?.[1])).toBeLessThan(60);
  });
});

describe('power', () => {
  it('shows what K says of each level: 1/1.25 − 1 = −20 %, with its interval', () => {
    const figure = powerFigure(hand.study, hand.result);
    const level = named(figure, 'level of K');
    const [{ low, high }] = wavelength.levels;
    expect(numbers(level.x)[0]).toBeCloseTo(80, 9);
    expect(numbers(level.y)[0]).toBeCloseTo(-20, 6);
    expect(bars(level.error_y).array[0]).toBeCloseTo(100 / low - 80, 6);
    expect(bars(level.error_y).arrayminus[0]).toBeCloseTo(80 - 100 / high, 6);
    expect(numbers(named(figure, 'lap').x)).toHaveLength(7);
  });

  it('has one scale for every wavelength, and another mark for what decides nothing', () => {
    const figure = powerFigure(exampleStudy(), exampleResult());
    const layout = figure.layout as Record<string, { range?: number[] } | undefined>;
    for (const axis of ['x', 'y']) {
      const keys = Object.keys(layout).filter((key) => new RegExp(`^${axis}axis\\d*$`).test(key));
      expect(keys.length).toBe(exampleResult().wavelengths.length);
      expect(new Set(keys.map((key) => String(layout[key]?.range))).size).toBe(1);
    }
    const open = named(figure, 'level of K, inconclusive');
    expect(open.marker?.symbol).not.toBe(named(figure, 'level of K, with').marker?.symbol);
  });
});

describe('left out', () => {
  const figure = leftOutFigure(hand.result);
  const [series] = hand.result.series;
  const [effect] = series.exclusion_effects;

  it('shows K with the runs kept in percent off the K that is used, and its interval', () => {
    const off = 100 * ((effect.factor_with ?? 0) / (effect.factor_without ?? 1) - 1);
    expect(effect.factor_without).toBeCloseTo(1.25, 9);
    // Lap 4 shows 100 ÷ 60 and not 100 ÷ 80: with it, K is higher.
    expect(off).toBeGreaterThan(1);
    expect(numbers(named(figure, 'K with them kept').x)[0]).toBeCloseTo(off, 9);
    const used = named(figure, 'K that is used');
    expect(numbers(used.x)).toEqual([0]);
    const high = 100 * ((series.factor.high ?? 0) / (effect.factor_without ?? 1) - 1);
    expect(bars(used.error_x).array[0]).toBeCloseTo(high, 9);
    expect(figure.alt).toContain('declared by the user: with runs 7, 8 kept K would be');
    expect(figure.alt).toContain('outside its interval');
  });

  it('counts what cannot be computed', () => {
    const effects = [{ ...effect, factor_with: null }, effect];
    const twice = { ...hand.result, series: [{ ...series, exclusion_effects: effects }] };
    expect(leftOutFigure(twice).alt).toContain('1 more cannot be computed');
  });
});

describe('the lists', () => {
  it('hold the six of the report in order, each with title, words and height', () => {
    const list = reportFigures(hand.study, hand.result);
    expect(list.map((one) => one.id)).toEqual([
      'before-after',
      'hazard',
      'budget',
      'laps',
      'power',
      'left-out',
    ]);
    for (const one of list) {
      expect(one.title).toBe(one.figure.title);
      expect(one.height).toBe(one.figure.layout.height);
      expect(one.alt.length).toBeGreaterThan(40);
    }
  });

  it('leave out what has nothing to show, and never name two alike', () => {
    const study = { ...hand.study, series: [] };
    const result = { ...hand.result, series: [], wavelengths: [], hazard: [] };
    expect(reportFigures(study, result).map((one) => one.id)).toEqual([]);
    const without = { ...hand.result, hazard: [] };
    expect(reportFigures(hand.study, without).map((one) => one.id)).not.toContain('hazard');
    const both = [
      ...reportFigures(exampleStudy(), exampleResult()),
      ...appendixFigures(exampleStudy(), exampleResult()),
    ].map((one) => one.id);
    expect(new Set(both).size).toBe(both.length);
    for (const id of both) expect(id).toMatch(/^[a-z0-9.-]+$/);
  });

  it('give their words as text', () => {
    const { study, result } = hostileExample();
    const alt = reportFigures(study, result).map((one) => one.alt);
    expect(alt.join()).toContain('</script>');
    expect(alt.join()).not.toContain('&lt;');
  });
});
