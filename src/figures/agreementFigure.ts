import type { Data, Shape } from 'plotly.js';
import { counted, formatInterval, formatNumber, formatWithin } from '../findings/formatNumber.js';
import { levelSentences } from '../findings/levelSentences.js';
import { confidenceWords } from '../findings/words.js';
import type { Result, Study } from '../vocabulary.js';
import { errorBars, known } from './errorBars.js';
import {
  axis,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  shortText,
  wavelengthStyle,
  wavelengthsOf,
} from './figure.js';
import { type LapPoint, lapPoints } from './laps.js';
import { levelLines } from './levelLines.js';
import { drawn, marks } from './marks.js';
import { levelLine } from './shapes.js';
import { logAxis, placed, sharedRange, upOrDown } from './sharedScale.js';

/**
 * Difference of the meters against the level: each kept lap as a point, the bias and the limits of
 * agreement of the study as lines, their intervals as bars side by side at the right edge. The level is
 * the mean of both meters; its axis is logarithmic when it spans more than a factor of ten. Where the
 * limits change with the level, their lines take the place of the constant ones.
 *
 * Source of the picture: Bland and Altman 1986, Lancet 327:307, figure 2.
 */
export function agreementFigure(study: Study, result: Result): Figure {
  const points = lapPoints(study, result);
  const levels = points.map(levelOf);
  const wide =
    levels.length > 0 && Math.max(...levels) > 10 * Math.min(...levels) && Math.min(...levels) > 0;
  const colours = wavelengthsOf(points);
  const lines = levelLines(result.agreement.against_level);
  const constant = lines.length === 0;
  const places = barPlaces(levels, wide);
  const range = rangeOf(points, result);
  return figureOf({
    title: 'Difference against level, with limits of agreement',
    alt: altOf(points.length, colours.length, result),
    height: 330 + legendHeight(colours.length + 4),
    data:
      points.length === 0
        ? []
        : [
            ...lapTraces(points, colours),
            ...(constant ? intervalBars(result, places, range) : lines),
          ],
    empty: 'There is no complete lap to compare.',
    layout: {
      xaxis: axis('mean of both meters / mW', {
        zeroline: false,
        ...(wide ? logAxis(Math.min(...levels) * 0.8, places[2] * 1.2) : {}),
      }),
      yaxis: axis('candidate − reference / %', constant && points.length > 0 ? { range } : {}),
      shapes: constant ? constantLines(result) : [],
    },
  });
}

const levelOf = (point: LapPoint) => (point.reference_mW + point.candidate_mW) / 2;

/** Places of the three bars, right of the last lap; on a logarithmic axis by equal factors. */
function barPlaces(levels: readonly number[], wide: boolean): readonly [number, number, number] {
  const [low, high] = [Math.min(...levels), Math.max(...levels)];
  const step = wide ? (high / low) ** 0.06 : (high - low || high) * 0.06;
  const at = (i: number) => (wide ? high * step ** i : high + step * i);
  return [at(1), at(2), at(3)];
}

/** Bias, lower and upper limit, each with the ends of its interval. */
function spreadsOf({ agreement }: Result) {
  const { difference_percent: bias, limits_percent: limits } = agreement;
  return [
    known(bias.mean, bias.low, bias.high),
    known(limits.low, ...limits.low_interval),
    known(limits.high, ...limits.high_interval),
  ];
}

/** Laps, bias and limits are seen in full; an interval that decides nothing must not flatten them. */
function rangeOf(points: readonly LapPoint[], result: Result): [number, number] {
  const spreads = spreadsOf(result).flat();
  return sharedRange(
    [0, ...points.map((point) => point.percent), ...spreads.map(({ value }) => value)],
    spreads.flatMap(({ low, high }) => [low, high]),
    0.5,
  );
}

function lapTraces(points: readonly LapPoint[], colours: readonly number[]): Data[] {
  return colours.map((nm, index) => {
    const { symbol, colour, open } = wavelengthStyle(index);
    const laps = points
      .filter((point) => point.wavelength_nm === nm)
      .map((point) => ({
        x: levelOf(point),
        y: point.percent,
        text: `${shortText(point.series, 40)}, lap ${point.lap}: ${percent(point.percent, 3)}`,
      }));
    const style = { symbol: open ? `${symbol}-open` : symbol, colour, size: 8 };
    return marks(`${formatNumber(nm)} nm`, laps, style);
  });
}

const percent = (value: number | null, digits: number) =>
  formatNumber(value, { digits, unit: '%', keepZeros: true });

/** To the place that its interval leaves. */
const biasText = ({ mean, low, high }: Result['agreement']['difference_percent']) =>
  low === null ? percent(mean, 2) : formatWithin(mean, low, high, { unit: '%' });

/** Bias and limits as lines across the picture. */
function constantLines(result: Result): Partial<Shape>[] {
  const { difference_percent: bias, limits_percent: limits } = result.agreement;
  const both =
    limits.low === null || limits.high === null
      ? undefined
      : `limits ${percent(limits.low, 2)} and ${percent(limits.high, 2)}`;
  const line = (at: number | null, dash: 'solid' | 'dash', name?: string) =>
    at === null ? [] : [levelLine(at, { width: 1.4, dash, name })];
  return [
    ...line(bias.mean, 'solid', `bias ${biasText(bias)}`),
    ...line(limits.low, 'dash', both),
    ...line(limits.high, 'dash'),
  ];
}

/** Their intervals as bars at the right edge, where no lap stands; an arrow where one runs out. */
function intervalBars(
  result: Result,
  places: readonly number[],
  range: readonly [number, number],
): Data[] {
  const spreads = spreadsOf(result).flatMap((list, i) =>
    list.map((spread) => ({ ...spread, x: places[i], y: spread.value })),
  );
  const points = spreads.map((one) => ({ ...one, text: `${formatInterval(one.low, one.high)} %` }));
  const far = points.flatMap(({ x, text, low, high }) =>
    [low, high]
      .map((end) => placed(end, range))
      .filter(({ beyond }) => beyond !== null)
      .map(({ at, beyond }) => ({ x, y: at, text, beyond })),
  );
  return drawn([
    marks(
      `${confidenceWords(result.confidence)} intervals of bias and limits`,
      points,
      { symbol: 'line-ew-open', size: 11, colour: INK, rim: 2 },
      { error_y: errorBars(spreads, { colour: INK, thickness: 1.4 }) },
    ),
    marks('interval beyond the scale', far, { symbol: far.map(upOrDown), colour: INK, size: 9 }),
  ]);
}

function altOf(points: number, colours: number, { agreement }: Result): string {
  const { difference_percent: bias, limits_percent: limits, against_level: levels } = agreement;
  const constant =
    bias.mean === null || limits.low === null || limits.high === null
      ? 'Bias and limits of agreement could not be computed.'
      : `Bias ${biasText(bias)}, limits of agreement ${percent(limits.low, 2)} and ${percent(limits.high, 2)}.`;
  const numbers =
    levels.description === 'changes-with-level'
      ? levelSentences(agreement).slice(1).join(' ')
      : constant;
  return `${counted(points, 'kept lap', 'kept laps')} at ${counted(colours, 'wavelength', 'wavelengths')}: difference of the meters in percent of the reference, against the mean of both. ${numbers}`;
}
