import type { Data } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import type { Result } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  nothingDrawn,
  padded,
  REFERENCE_COLOUR,
  rowAxis,
  shortText,
} from './figure.js';
import { marks } from './marks.js';
import {
  type OpinionPanel,
  type OpinionPoint,
  opinionPanels,
  type PointKind,
} from './opinionPoints.js';
import { axesOf, type Panels, stackedPanels } from './panels.js';
import type { AxisNames } from './shapes.js';

const ROW = 28;
/** px for the names of the rows. */
const LEFT = 104;

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
  if (shown.length === 0)
    return nothingDrawn(TITLE, 'There is no value from elsewhere to compare.');
  const panels = stackedPanels(
    shown.map((one) => one.points.length * ROW + 8),
    44,
    58 + legendHeight(STYLES.length),
  );
  const ends = shown.flatMap(({ points }) => points.flatMap((one) => [one.low, one.high]));
  const range = padded([0, ...ends], 0.06);
  return figureOf({
    title: TITLE,
    alt: `${shown.map(altOf).join(' ')} Bars: two standard uncertainties.`,
    height: panels.height,
    data: shown.flatMap(({ points }, index) => tracesOf(points, panels.axes(index), index === 0)),
    layout: {
      margin: { l: LEFT, r: 14, t: 12, b: 48 },
      ...axesOf(panels, shown.length, (index) => [
        axis(index === shown.length - 1 ? ['difference from the reference / %', 6] : null, {
          range,
          nticks: 6,
        }),
        labelAxis(shown[index].points),
      ]),
      annotations: shown.map((one, index) => headingOf(panels, index, one)),
    },
  });
}

/** Flush with the names of the rows, because beside them a phone has no room for it. */
function headingOf(panels: Panels, index: number, { source, reference_mW }: OpinionPanel) {
  const shown = formatNumber(reference_mW, { digits: 3, keepZeros: true });
  const words = `${shortText(source, 22)}, reference ${shown} mW`;
  return { ...panels.heading(index, words), xshift: 8 - LEFT };
}

const TITLE = 'Values from elsewhere beside both meters';

function labelAxis(points: readonly OpinionPoint[]) {
  const names = points.map((one) => one.label);
  return { ...rowAxis(names, [points.length - 0.4, -0.6]), showgrid: true, automargin: false };
}

function tracesOf(points: readonly OpinionPoint[], axes: AxisNames, first: boolean): Data[] {
  return STYLES.flatMap(({ kind, name, symbol, colour }) =>
    [true, false].map((stated): Data => {
      const mine = points.flatMap((point, y) =>
        point.kind === kind && point.stated === stated
          ? [{ ...point, x: point.percent, y, value: point.percent, text: point.hover }]
          : [],
      );
      const trace = marks(
        name,
        mine,
        { symbol, colour, size: 11, rim: 1.6 },
        // Without an uncertainty there is no bar: one of no length would claim one.
        stated ? { error_x: errorBars(mine, { colour, thickness: 1.5 }) } : {},
      );
      // A kind that is not here stands in the legend all the same.
      const place = mine.length === 0 ? { x: [null], y: [null] } : {};
      return { ...trace, ...axes, ...place, legendgroup: kind, showlegend: first && stated };
    }),
  );
}

function altOf({ source, points }: ReturnType<typeof opinionPanels>[number]): string {
  const each = points
    .filter((one) => one.kind !== 'reference')
    .map((one) => `${one.label} ${formatNumber(one.percent, { digits: 2, unit: '%' })}`);
  return `${shortText(source, 30)}, from the reference: ${each.join(', ')}.`;
}
