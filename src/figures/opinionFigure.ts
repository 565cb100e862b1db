import type { Data, Layout } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import type { Result } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  emptyNote,
  type Figure,
  INK,
  legendHeight,
  NOTHING,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { type OpinionPoint, opinionPanels, type PointKind } from './opinionPoints.js';
import { type AxisRecord, stackedPanels } from './panels.js';

const ROW = 28;

const STYLES: readonly {
  readonly kind: PointKind;
  readonly name: string;
  readonly symbol: 'circle' | 'square' | 'diamond' | 'triangle-left-open';
  readonly colour: string;
}[] = [
  { kind: 'reference', name: 'reference', symbol: 'circle', colour: REFERENCE_COLOUR },
  { kind: 'candidate', name: 'candidate, as read', symbol: 'square', colour: CANDIDATE_COLOUR },
  { kind: 'value', name: 'value from elsewhere', symbol: 'diamond', colour: INK },
  {
    kind: 'bound',
    name: 'as new: at most this much',
    symbol: 'triangle-left-open',
    colour: INK,
  },
];

/**
 * Every value from elsewhere beside what both meters show, source by source, in percent of the
 * reference. Bars are two standard uncertainties; a value without one has none, and an as-new value
 * points to the side on which the source may have gone.
 */
export function opinionFigure(result: Result): Figure {
  const shown = opinionPanels(result);
  const panels = stackedPanels(
    shown.map((one) => one.points.length * ROW + 8),
    44,
    58 + legendHeight(STYLES.length),
  );
  const ends = shown.flatMap(({ points }) => points.flatMap((one) => [one.low, one.high]));
  const [low, high] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  const pad = 0.06 * (high - low) || 1;
  const axes: AxisRecord = {};
  shown.forEach(({ points }, index) => {
    axes[panels.key('x', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'y' : (`y${index + 1}` as 'y2'),
      range: [low - pad, high + pad],
      nticks: 6,
      ...(index === shown.length - 1
        ? { title: { text: 'difference from the reference / %', standoff: 6 } }
        : {}),
    };
    axes[panels.key('y', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'x' : (`x${index + 1}` as 'x2'),
      domain: panels.domain(index),
      range: [points.length - 0.4, -0.6],
      tickvals: points.map((_, i) => i),
      ticktext: points.map((one) => one.label),
      automargin: false,
      zeroline: false,
      ticks: '',
    };
  });
  const layout: Partial<Layout> = {
    ...baseLayout(shown.length === 0 ? 160 : panels.height),
    margin: { l: 104, r: 14, t: 12, b: 48 },
    ...axes,
    ...(shown.length === 0
      ? emptyNote('There is no value from elsewhere to compare.')
      : {
          annotations: shown.map((one, index) =>
            panels.heading(
              index,
              `${shortText(one.source, 22)}, reference ${formatNumber(one.reference_mW, { digits: 3 })} mW`,
            ),
          ),
        }),
  };
  return {
    title: 'Values from elsewhere beside both meters',
    alt: shown.length === 0 ? 'No value from elsewhere.' : shown.map(altOf).join(' '),
    data:
      shown.length === 0
        ? [NOTHING]
        : shown.flatMap(({ points }, index) => tracesOf(points, panels.axes(index), index === 0)),
    layout,
    config: CONFIG,
  };
}

function tracesOf(
  points: readonly OpinionPoint[],
  axes: { readonly xaxis: string; readonly yaxis: string },
  first: boolean,
): Data[] {
  return STYLES.flatMap(({ kind, name, symbol, colour }) =>
    [true, false].map((stated): Data => {
      const mine = points
        .map((point, place) => ({ ...point, place }))
        .filter((point) => point.kind === kind && point.stated === stated);
      const spreads = mine.map(({ percent, low, high }) => ({ value: percent, low, high }));
      const bars = errorBars(spreads, { colour, thickness: 1.5 });
      return {
        type: 'scatter',
        mode: 'markers',
        ...axes,
        name,
        legendgroup: kind,
        showlegend: first && stated,
        x: mine.length === 0 ? [null] : mine.map((point) => point.percent),
        y: mine.length === 0 ? [null] : mine.map((point) => point.place),
        // Without an uncertainty there is no bar: one of no length would claim one.
        ...(stated ? { error_x: bars } : {}),
        marker: { symbol, color: colour, size: 11, line: { width: 1.6, color: colour } },
        hoverinfo: 'text',
        hovertext: mine.map((point) => point.hover),
      };
    }),
  );
}

function altOf({ source, points }: ReturnType<typeof opinionPanels>[number]): string {
  const each = points
    .filter((one) => one.kind !== 'reference')
    .map((one) => `${one.label} ${formatNumber(one.percent, { digits: 2, unit: '%' })}`);
  return `${shortText(source, 30)}, from the reference: ${each.join(', ')}.`;
}
