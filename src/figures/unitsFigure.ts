import type { Data, Layout, Shape } from 'plotly.js';
import type { SeveralUnitsResult, UnitFactor } from '../factors/severalUnits.js';
import { withoutControls } from '../findings/escape.js';
import { formatInterval, formatNumber, formatRelative } from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { type Interval, KNOWN_EXACTLY } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  AXIS,
  BAND,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  plainText,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';

export interface UnitsShown {
  readonly units: readonly UnitFactor[];
  readonly found: SeveralUnitsResult;
  readonly confidence: number;
  /** True factors of these units, for invented data. */
  readonly truth?: readonly number[] | undefined;
  /** True factors of further units that nobody compared, for invented data. */
  readonly further?: readonly number[] | undefined;
}

/**
 * Factors of several units of one model, one line a unit; the interval of their mean, and the far
 * wider one in which a further unit is to be expected.
 */
export function unitsFigure(shown: UnitsShown): Figure {
  const { units, found, confidence, truth = [], further = [] } = shown;
  const percent = formatNumber(confidence, { as: 'percent', digits: 3 });
  const k = coverageFactor(confidence, KNOWN_EXACTLY);
  const lines = units.map((_, i) => i + 1);
  const last = units.length + 1;
  const half = units.map((unit) => Math.exp(k * unit.relative_standard_uncertainty));
  const traces = [
    {
      ...marks('compared unit, ± k u without the reference', 'diamond', REFERENCE_COLOUR, 10),
      x: units.map((unit) => unit.factor),
      y: lines,
      error_x: errorBars(
        units.map(({ factor }, i) => ({
          value: factor,
          low: factor / half[i],
          high: factor * half[i],
        })),
        { colour: REFERENCE_COLOUR, thickness: 1.5 },
      ),
      hovertext: units.map(
        (unit) =>
          `${shortText(unit.name, 40)}: K = ${formatNumber(unit.factor)}, u = ${formatRelative(unit.relative_standard_uncertainty)} %`,
      ),
    },
    {
      ...marks('true factor to this reference', 'x-thin-open', CANDIDATE_COLOUR, 10),
      x: [...truth],
      y: lines.slice(0, truth.length),
      hovertext: truth.map((value) => `truth ${formatNumber(value)}`),
    },
    {
      ...marks('units that nobody compared', 'circle-open', INK, 7),
      x: [...further],
      y: further.map(() => last),
      hovertext: further.map((value) => `truth ${formatNumber(value)}`),
    },
  ];
  const data: Data[] = traces.filter((trace) => trace.x.length > 0);
  const rows = units.length + (further.length > 0 ? 1 : 0);
  const layout: Partial<Layout> = {
    ...baseLayout(120 + 26 * rows + legendHeight(data.length + 3)),
    xaxis: {
      ...AXIS,
      title: { text: 'factor K = reference ÷ candidate', standoff: 8 },
      range: rangeOf([
        ...found.furtherUnit,
        ...units.flatMap((unit, i) => [unit.factor / half[i], unit.factor * half[i]]),
        ...truth,
        ...further,
      ]),
      showgrid: false,
      zeroline: false,
      nticks: 6,
    },
    yaxis: {
      ...AXIS,
      range: [rows + 0.6, 0.4],
      tickmode: 'array',
      tickvals: Array.from({ length: rows }, (_, i) => i + 1),
      ticktext: [...units.map((unit) => nameOf(unit)), 'further units'].slice(0, rows),
      showgrid: false,
      zeroline: false,
    },
    shapes: [
      band(found.furtherUnit, BAND, `a further unit, ${percent}`),
      band(found.meanInterval, 'rgba(29, 39, 51, 0.28)', `mean of all units, ${percent}`),
      {
        ...UPRIGHT,
        type: 'line',
        x0: found.factor,
        x1: found.factor,
        line: { color: INK, width: 1 },
        showlegend: true,
        name: 'mean of these units',
      },
    ],
  };
  return {
    title: 'Factors of several units',
    alt: `Mean factor ${formatNumber(found.factor)}, its ${percent} interval ${formatInterval(...found.meanInterval)}; that of a further unit ${formatInterval(...found.furtherUnit)}. ${units.map((unit) => `${shortText(unit.name, 40)}: ${formatNumber(unit.factor)}.`).join(' ')}`,
    data,
    layout,
    config: CONFIG,
  };
}

/** Units of a model often differ in the end of their names: that has to stay. */
function nameOf({ name }: UnitFactor): string {
  const characters = [...withoutControls(name)];
  if (characters.length <= 18) return plainText(name);
  return plainText(`${characters.slice(0, 8).join('')}…${characters.slice(-9).join('')}`);
}

const UPRIGHT = { layer: 'below', yref: 'paper', y0: 0, y1: 1 } as const;

function band([x0, x1]: Interval, fillcolor: string, name: string): Partial<Shape> {
  return {
    ...UPRIGHT,
    type: 'rect',
    x0,
    x1,
    fillcolor,
    line: { width: 1, color: '#8b949e', dash: 'dot' },
    showlegend: true,
    name,
  };
}

function marks(
  name: string,
  symbol: 'diamond' | 'x-thin-open' | 'circle-open',
  colour: string,
  size: number,
) {
  return {
    type: 'scatter' as const,
    mode: 'markers' as const,
    name,
    marker: { symbol, color: colour, size, line: { width: 1.8, color: colour } },
    hoverinfo: 'text' as const,
  };
}

function rangeOf(ends: readonly number[]): [number, number] {
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const pad = 0.05 * (high - low) || 0.01 * high;
  return [low - pad, high + pad];
}
