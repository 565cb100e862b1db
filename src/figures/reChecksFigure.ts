import type { Shape } from 'plotly.js';
import { controlWords } from '../findings/findingWords.js';
import { counted, formatEstimate, formatInterval, formatNumber } from '../findings/formatNumber.js';
import type { Interval, ReChecks } from '../vocabulary.js';
import {
  ALARM,
  axis,
  BAND,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  legendHeight,
  padded,
  plainText,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { type IntervalPoint, intervalPoints } from './intervalPoints.js';
import { drawn, marks } from './marks.js';
import { levelBand, levelLine } from './shapes.js';

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
  const truth = options.truth ?? [];
  const { points, breaking } = checkPoints(chart);
  const confidence = formatNumber(options.confidence, { as: 'percent', digits: 3 });
  const data = drawn([
    intervalPoints(points, `factor, ${confidence} interval of its own`, FACTOR),
    marks('breaks a rule', breaking.map(asMark), BREAKING),
    marks(
      'true factor to this reference',
      truth.map((y, i) => ({ x: i + 1, y, text: `truth ${formatNumber(y)}` })),
      TRUTH,
    ),
  ]);
  const shapes = linesOf(chart);
  const named = shapes.filter((shape) => shape.showlegend === true).length;
  return figureOf({
    title: options.title ?? `Re-checks of the factor at ${formatNumber(chart.wavelength_nm)} nm`,
    alt: altOf(chart, points.length),
    height: 310 + legendHeight(data.length + named),
    data,
    empty: 'There is no factor.',
    layout: {
      xaxis: axis('re-check / number, oldest first', {
        range: [0.5, Math.max(1, points.length) + 0.5],
        // A grid would cut through the limits.
        showgrid: false,
        zeroline: false,
        ...(points.length <= MOST_TICKS ? { dtick: 1, tick0: 1 } : {}),
      }),
      yaxis: axis('factor K = reference ÷ candidate', {
        range: rangeOf(chart, points, truth),
        showgrid: false,
        zeroline: false,
      }),
      shapes,
    },
  });
}

const FACTOR = { symbol: 'diamond', colour: REFERENCE_COLOUR, size: 9, thickness: 1.5 };
const BREAKING = { symbol: 'square-open', colour: ALARM, size: 17, rim: 2 };
const TRUTH = { symbol: 'x-thin-open', colour: CANDIDATE_COLOUR, size: 10, rim: 2 };

const asMark = ({ nm, value, text }: IntervalPoint) => ({ x: nm, y: value, text });

/** The values that are on the chart, and those of them that break a rule. */
function checkPoints(chart: ReChecks) {
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
        `${i + 1}, ${shortText(title, 40)}: K = ${formatEstimate(value, low, high)}`,
        ...signals.map(plainText),
      ].join('<br>'),
    }),
  );
  return { points, breaking: points.filter((_, i) => values[i].signals.length > 0) };
}

/** The centre solid, limits from the scatter dashed, limits from the uncertainties a shaded band. */
function linesOf({ centre, limits, limits_from_uncertainty: given }: ReChecks): Partial<Shape>[] {
  const dashed = { width: 1.5, dash: 'dash' } as const;
  return [
    ...(given === null
      ? []
      : [levelBand(given, { fill: BAND, name: 'limits from the uncertainty' })]),
    ...(centre === null ? [] : [levelLine(centre, { dash: 'solid', name: 'centre' })]),
    ...(limits === null
      ? []
      : [
          levelLine(limits[0], { ...dashed, name: 'limits from the scatter' }),
          levelLine(limits[1], dashed),
        ]),
  ];
}

function altOf(chart: ReChecks, count: number): string {
  const centre = chart.centre === null ? '' : `Centre ${formatNumber(chart.centre)}. `;
  const scatter = limitWords('Limits from the scatter', chart.limits);
  const given = limitWords('Limits from the uncertainty', chart.limits_from_uncertainty);
  return `Factor K of ${counted(count, 're-check', 're-checks')}, oldest first: ${controlWords(chart)}. ${centre}${scatter}${given}${plainText(chart.why)}`;
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
  return ends.length === 0 ? [0.9, 1.1] : padded(ends, 0.06, 0.01);
}
