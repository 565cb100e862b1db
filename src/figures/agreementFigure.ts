import type { Data, Layout, Shape } from 'plotly.js';
import { formatInterval, formatNumber } from '../findings/formatNumber.js';
import { levelSentences } from '../findings/levelSentences.js';
import { confidenceWords } from '../findings/words.js';
import type { Result, Study } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  counted,
  emptyNote,
  type Figure,
  INK,
  legendHeight,
  NOTHING,
  shortText,
  wavelengthStyle,
  wavelengthsOf,
} from './figure.js';
import { lapPoints } from './laps.js';
import { levelLines } from './levelLines.js';
import { logAxis } from './sharedScale.js';

/**
 * Difference of the meters against the level: each kept lap as a point, the bias and the limits of
 * agreement of the study as lines, their intervals as bars at the right edge. The level is the mean of both meters;
 * its axis is logarithmic when it spans more than a factor of ten. Where the limits change with the
 * level, their lines take the place of the constant ones.
 *
 * Source of the picture: Bland and Altman 1986, Lancet 327:307, figure 2.
 */
export function agreementFigure(study: Study, result: Result): Figure {
  const points = lapPoints(study, result);
  const levels = points.map((point) => (point.reference_mW + point.candidate_mW) / 2);
  const wide =
    levels.length > 0 && Math.max(...levels) > 10 * Math.min(...levels) && Math.min(...levels) > 0;
  const colours = wavelengthsOf(points);
  const data: Data[] = colours.map((nm, index) => {
    const style = wavelengthStyle(index);
    const mine = points.filter((point) => point.wavelength_nm === nm);
    return {
      type: 'scatter',
      mode: 'markers',
      name: `${formatNumber(nm)} nm`,
      x: mine.map((point) => (point.reference_mW + point.candidate_mW) / 2),
      y: mine.map((point) => point.percent),
      marker: {
        symbol: style.open ? `${style.symbol}-open` : style.symbol,
        color: style.colour,
        size: 8,
      },
      hoverinfo: 'text',
      hovertext: mine.map(
        (point) =>
          `${shortText(point.series, 40)}, lap ${point.lap}: ${formatNumber(point.percent, { digits: 3, unit: '%' })}`,
      ),
    };
  });
  const lines = levelLines(result.agreement.against_level);
  const end = levels.length === 0 ? 1 : Math.max(...levels) * (wide ? 1.35 : 1.02);
  const bars = intervalBars(result, end);
  const layout: Partial<Layout> = {
    ...baseLayout(330 + legendHeight(colours.length + 3)),
    xaxis: {
      ...AXIS,
      title: { text: 'mean of both meters / mW', standoff: 8 },
      zeroline: false,
      ...(wide ? logAxis(Math.min(...levels) * 0.8, Math.max(...levels) * 1.5) : {}),
    },
    yaxis: {
      ...AXIS,
      title: { text: 'candidate − reference / %', standoff: 8 },
    },
    shapes: lines.length > 0 ? [] : constantLines(result),
    ...(points.length === 0 ? emptyNote('There is no complete lap to compare.') : {}),
  };
  return {
    title: 'Difference against level, with limits of agreement',
    alt: altOf(points.length, colours.length, result),
    data: points.length === 0 ? [NOTHING] : [...data, ...(lines.length > 0 ? lines : bars)],
    layout,
    config: CONFIG,
  };
}

/** Bias and limits as lines across the picture. */
function constantLines(result: Result): Partial<Shape>[] {
  const { difference_percent: bias, limits_percent: limits } = result.agreement;
  const percent = (value: number) => formatNumber(value, { digits: 3, unit: '%' });
  const both =
    limits.low === null || limits.high === null
      ? null
      : `limits ${percent(limits.low)} and ${percent(limits.high)}`;
  const lines = [
    {
      at: bias.mean,
      dash: 'solid' as const,
      name: bias.mean === null ? null : `bias ${percent(bias.mean)}`,
    },
    { at: limits.low, dash: 'dash' as const, name: both },
    { at: limits.high, dash: 'dash' as const, name: null },
  ].flatMap(({ at, dash, name }): Partial<Shape>[] =>
    at === null
      ? []
      : [
          {
            type: 'line',
            layer: 'below',
            xref: 'paper',
            x0: 0,
            x1: 1,
            y0: at,
            y1: at,
            line: { color: INK, width: 1.4, dash },
            ...(name === null ? {} : { showlegend: true, name }),
          },
        ],
  );
  return lines;
}

/** Their intervals as bars at the right edge, where no lap stands. */
function intervalBars(result: Result, at: number): Data[] {
  const { difference_percent: bias, limits_percent: limits } = result.agreement;
  const spreads = [
    { value: bias.mean, ends: [bias.low, bias.high] },
    { value: limits.low, ends: limits.low_interval },
    { value: limits.high, ends: limits.high_interval },
  ].flatMap(({ value, ends: [low, high] }) =>
    value === null || low === null || high === null ? [] : [{ value, low, high }],
  );
  if (spreads.length === 0) return [];
  return [
    {
      type: 'scatter',
      mode: 'markers',
      name: `their ${confidenceWords(result.confidence)} intervals`,
      x: spreads.map(() => at),
      y: spreads.map((one) => one.value),
      error_y: errorBars(spreads, { colour: INK, thickness: 1.4 }),
      marker: { symbol: 'line-ew-open', size: 11, color: INK, line: { width: 2, color: INK } },
      hoverinfo: 'text',
      hovertext: spreads.map((one) => `${formatInterval(one.low, one.high)} %`),
    },
  ];
}

function altOf(points: number, colours: number, { agreement }: Result): string {
  const { difference_percent: bias, limits_percent: limits, against_level: levels } = agreement;
  const percent = (value: number | null) => formatNumber(value, { digits: 3, unit: '%' });
  const constant =
    bias.mean === null || limits.low === null || limits.high === null
      ? 'Bias and limits of agreement could not be computed.'
      : `Bias ${percent(bias.mean)}, limits of agreement ${percent(limits.low)} and ${percent(limits.high)}.`;
  const numbers =
    levels.description === 'changes-with-level'
      ? levelSentences(agreement).slice(1).join(' ')
      : constant;
  return `${counted(points, 'kept lap', 'kept laps')} at ${counted(colours, 'wavelength', 'wavelengths')}: difference of the meters in percent of the reference, against the mean of both. ${numbers}`;
}
