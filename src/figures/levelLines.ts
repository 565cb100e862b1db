/** Bias and limits of agreement that change with the level, as lines of a figure in percent. */
import type { Data } from 'plotly.js';
import { formatEstimate, formatNumber } from '../findings/formatNumber.js';
import type { AgreementAgainstLevel, AgreementAtLevel } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import { INK } from './figure.js';
import { marks } from './marks.js';

const POINTS = 40;

/** A quantity that a level has; `null` where the data give none. */
type AtLevel = (one: AgreementAtLevel) => number | null;

/** Nothing where constant limits serve. */
export function levelLines(found: AgreementAgainstLevel): Data[] {
  if (found.description !== 'changes-with-level') return [];
  const limits: readonly (readonly [AtLevel, string | null])[] = [
    [(one) => one.low, 'limits of agreement at the level'],
    [(one) => one.high, null],
  ];
  return [
    line(found, (one) => one.bias, 'bias at the level', 'solid'),
    ...limits.map(([of, name]) => line(found, of, name, 'dash')),
    intervals(found),
  ];
}

function line(
  found: AgreementAgainstLevel,
  of: AtLevel,
  name: string | null,
  dash: 'solid' | 'dash',
): Data {
  const known = found.levels.flatMap((one) => {
    const value = of(one);
    return value === null ? [] : [{ level: one.level_mW, value }];
  });
  const [first, last] = [known[0], known[known.length - 1]];
  const points =
    first === undefined || last === undefined || first === last
      ? []
      : Array.from({ length: POINTS }, (_, i) => between(found, first, last, i / (POINTS - 1)));
  return {
    type: 'scatter',
    mode: 'lines',
    x: points.map((one) => one.level),
    y: points.map((one) => percentOf(found, one)),
    line: { color: INK, width: 1.6, dash },
    hoverinfo: 'skip',
    showlegend: name !== null && points.length > 0,
    ...(name === null ? {} : { name }),
  };
}

interface Point {
  readonly level: number;
  readonly value: number;
}

/** Straight on the scale on which the line was fitted: logarithms, or mW. */
function between({ scale }: AgreementAgainstLevel, first: Point, last: Point, part: number): Point {
  const straight = (a: number, b: number) => a + part * (b - a);
  if (scale === 'mW') {
    return {
      level: straight(first.level, last.level),
      value: straight(first.value, last.value),
    };
  }
  const log = (one: Point) => Math.log1p(one.value / 100);
  return {
    level: Math.exp(straight(Math.log(first.level), Math.log(last.level))),
    value: 100 * Math.expm1(straight(log(first), log(last))),
  };
}

/** In percent of the reference, which lies half a difference below the mean of both. */
function percentOf({ scale }: AgreementAgainstLevel, { level, value }: Point): number | null {
  if (scale !== 'mW') return value;
  const reference = level - value / 2;
  return reference > 0 ? (100 * value) / reference : null;
}

/** Interval of the bias and of each limit at the three levels. */
function intervals(found: AgreementAgainstLevel): Data {
  const points = found.levels.flatMap((one) =>
    [
      { value: one.bias, ends: one.bias_interval, what: 'bias' },
      { value: one.low, ends: one.low_interval, what: 'lower limit' },
      { value: one.high, ends: one.high_interval, what: 'upper limit' },
    ].flatMap(({ value, ends: [low, high], what }) => {
      if (value === null || low === null || high === null) return [];
      const [y, from, to] = [value, low, high].map((each) =>
        percentOf(found, { level: one.level_mW, value: each }),
      );
      return y === null || from === null || to === null
        ? []
        : [{ x: one.level_mW, y, from, to, what }];
    }),
  );
  const trace = marks(
    'their intervals',
    points.map(({ x, y, from, to, what }) => ({
      x,
      y,
      text: `${what} at ${formatNumber(x, { digits: 3, unit: 'mW' })}: ${formatEstimate(y, from, to, { unit: '%' })}`,
    })),
    { symbol: 'line-ns-open', size: 9, colour: INK, rim: 1.2 },
  );
  const spreads = points.map(({ y, from, to }) => ({ value: y, low: from, high: to }));
  const error_y = errorBars(spreads, { colour: INK, thickness: 1.2 });
  return { ...trace, showlegend: points.length > 0, error_y };
}
