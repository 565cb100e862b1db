import type { Data, Layout, Shape } from 'plotly.js';
import { controlWords } from '../findings/findingWords.js';
import { formatInterval, formatNumber } from '../findings/formatNumber.js';
import type { Interval, ReChecks } from '../vocabulary.js';
import {
  ALARM,
  AXIS,
  BAND,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  counted,
  emptyNote,
  type Figure,
  INK,
  legendHeight,
  NOTHING,
  plainText,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { type IntervalPoint, intervalPoints } from './intervalPoints.js';

/** More ticks than this run into each other on a phone. */
const MOST_TICKS = 12;

/**
 * Control chart of the factor at one wavelength: the values in the order of time with their own
 * intervals, the centre, limits from the scatter and limits from the uncertainties.
 *
 * @param options `confidence` of the intervals, a fraction; `truth`: the true factor of each value on
 *   the chart, for invented data; `title` in the place of the usual one
 */
export function reChecksFigure(
  chart: ReChecks,
  options: {
    readonly confidence: number;
    readonly truth?: readonly number[] | undefined;
    readonly title?: string;
  },
): Figure {
  const confidence = formatNumber(options.confidence, { as: 'percent', digits: 3 });
  const values = chart.values.flatMap((one) =>
    one.factor === null ? [] : [{ ...one, factor: one.factor }],
  );
  const points = values.map(
    ({ factor: value, low, high, title, signals }, i): IntervalPoint => ({
      nm: i + 1,
      value,
      low: low ?? value,
      high: high ?? value,
      text: [
        `${i + 1}, ${shortText(title, 40)}: K = ${formatNumber(value)} (${formatInterval(low, high)})`,
        ...signals.map(plainText),
      ].join('<br>'),
    }),
  );
  const breaking = points.filter((_, i) => values[i].signals.length > 0);
  const truth = options.truth ?? [];
  const data: Data[] = [
    intervalPoints(points, `factor, ${confidence} interval of its own`, {
      symbol: 'diamond',
      colour: REFERENCE_COLOUR,
      size: 9,
      thickness: 1.5,
    }),
    marks(breaking, 'breaks a rule', 'square-open', ALARM, 17),
    marks(
      truth.map((value, i) => ({ nm: i + 1, value, text: `truth ${formatNumber(value)}` })),
      'true factor to this reference',
      'x-thin-open',
      CANDIDATE_COLOUR,
      10,
    ),
  ].filter((trace) => Array.isArray(trace.x) && trace.x.length > 0);
  const shapes = linesOf(chart);
  const named = shapes.filter((shape) => shape.showlegend === true).length;
  const layout: Partial<Layout> = {
    ...baseLayout(310 + legendHeight(data.length + named)),
    ...(data.length === 0 ? emptyNote('There is no factor.') : {}),
    xaxis: {
      ...AXIS,
      title: { text: 're-check / number, oldest first', standoff: 8 },
      range: [0.5, Math.max(1, points.length) + 0.5],
      // A grid would cut through the limits.
      showgrid: false,
      zeroline: false,
      ...(points.length <= MOST_TICKS ? { dtick: 1, tick0: 1 } : {}),
    },
    yaxis: {
      ...AXIS,
      title: { text: 'factor K = reference ÷ candidate', standoff: 8 },
      range: rangeOf(chart, points, truth),
      showgrid: false,
      zeroline: false,
    },
    shapes,
  };
  return {
    title: options.title ?? `Re-checks of the factor at ${formatNumber(chart.wavelength_nm)} nm`,
    alt: `Factor K of ${counted(points.length, 're-check', 're-checks')}, oldest first: ${controlWords(chart)}. ${chart.centre === null ? '' : `Centre ${formatNumber(chart.centre)}. `}${limitWords('Limits from the scatter', chart.limits)}${limitWords('Limits from the uncertainty', chart.limits_from_uncertainty)}${plainText(chart.why)}`,
    data: data.length === 0 ? [NOTHING] : data,
    layout,
    config: CONFIG,
  };
}

function marks(
  points: readonly Pick<IntervalPoint, 'nm' | 'value' | 'text'>[],
  name: string,
  symbol: 'square-open' | 'x-thin-open',
  colour: string,
  size: number,
) {
  return {
    type: 'scatter' as const,
    mode: 'markers' as const,
    name,
    x: points.map((point) => point.nm),
    y: points.map((point) => point.value),
    marker: { symbol, color: colour, size, line: { width: 2, color: colour } },
    hoverinfo: 'text' as const,
    hovertext: points.map((point) => point.text),
  };
}

/** The centre solid, limits from the scatter dashed, limits from the uncertainties a shaded band. */
function linesOf(chart: ReChecks): Partial<Shape>[] {
  const across = { layer: 'below', xref: 'paper', x0: 0, x1: 1 } as const;
  const line = (y: number, dash: 'solid' | 'dash', width: number, name?: string) => ({
    ...across,
    type: 'line' as const,
    y0: y,
    y1: y,
    line: { color: INK, width, dash },
    ...(name === undefined ? {} : { showlegend: true, name }),
  });
  const { centre, limits, limits_from_uncertainty: given } = chart;
  return [
    ...(given === null
      ? []
      : [
          {
            ...across,
            type: 'rect' as const,
            y0: given[0],
            y1: given[1],
            fillcolor: BAND,
            line: { width: 1, color: '#8b949e', dash: 'dot' as const },
            showlegend: true,
            name: 'limits from the uncertainty',
          },
        ]),
    ...(centre === null ? [] : [line(centre, 'solid', 1, 'centre')]),
    ...(limits === null
      ? []
      : [line(limits[0], 'dash', 1.5, 'limits from the scatter'), line(limits[1], 'dash', 1.5)]),
  ];
}

function limitWords(name: string, limits: Interval | null): string {
  return limits === null ? '' : `${name} ${formatInterval(...limits)}. `;
}

function rangeOf(
  chart: ReChecks,
  points: readonly IntervalPoint[],
  truth: readonly number[],
): [number, number] {
  const ends = [
    ...points.flatMap((point) => [point.low, point.high]),
    ...(chart.limits ?? []),
    ...(chart.limits_from_uncertainty ?? []),
    ...truth,
  ];
  if (ends.length === 0) return [0.9, 1.1];
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const pad = 0.06 * (high - low) || 0.01 * high;
  return [low - pad, high + pad];
}
