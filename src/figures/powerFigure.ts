import type { Data, Layout, Shape } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import { formatReach, formatUncertain } from '../findings/formatUncertain.js';
import { rangeWords } from '../findings/words.js';
import type { FactorLevel, Result, Study, WavelengthResult } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  counted,
  type Figure,
  INK,
  legendHeight,
  nothingDrawn,
  onceInLegend,
  plainText,
  REFERENCE_COLOUR,
  TOLERANCE_BAND,
} from './figure.js';
import { type LapPoint, lapPoints, lapsOfFactor } from './laps.js';
import { gridAxes, gridPanels, scaleTitle } from './panels.js';
import { logAxis, placed, sharedRange } from './sharedScale.js';

const PANEL = 120;

/**
 * Does the difference of the meters change with the power? One panel a wavelength, all on one scale:
 * the kept laps, and at each level of power what its K says of them, 1/K − 1 with its interval, joined
 * where there are several levels.
 */
export function powerFigure(study: Study, result: Result): Figure {
  const title = 'Whether the difference of the meters changes with the power';
  const laps = lapPoints(study, result).filter((lap) => lap.candidate_mW > 0);
  const shown = result.wavelengths.filter(
    (one) => one.levels.length > 0 || lapsOfFactor(laps, one).length > 0,
  );
  if (shown.length === 0) return nothingDrawn(title, 'There is no complete lap to compare.');
  const range = rangeOf(study, shown, laps);
  const tolerance = formatNumber(study.tolerance, { as: 'percent' });
  const grid = gridPanels(shown.length, PANEL, 30, 84 + legendHeight(5));
  const layout: Partial<Layout> = {
    ...baseLayout(grid.height),
    margin: { l: 50, r: 12, t: 12, b: 48 },
    ...gridAxes(
      grid,
      shown.length,
      {
        ...AXIS,
        ...powerAxis(shown, laps),
        title: { text: 'reading / mW', standoff: 6 },
      },
      { ...AXIS, range, nticks: 5 },
    ),
    shapes: shown.map((_, index) => ({
      ...toleranceBand(100 * study.tolerance, grid.axes(index)),
      ...(index === 0 ? { showlegend: true, name: `tolerance, ± ${tolerance}` } : {}),
    })),
    annotations: [
      ...shown.map((one, index) => grid.heading(index, headingOf(one))),
      scaleTitle(grid, 'candidate − reference / %'),
    ],
  };
  return {
    title,
    alt: shown.map((one) => altOf(one, laps)).join(' '),
    data: onceInLegend(shown.flatMap((one, index) => tracesOf(one, laps, range, grid.axes(index)))),
    layout,
    config: CONFIG,
  };
}

interface AxisNames {
  readonly xaxis: string;
  readonly yaxis: string;
}

function toleranceBand(percent: number, { xaxis, yaxis }: AxisNames): Partial<Shape> {
  return {
    type: 'rect',
    layer: 'below',
    xref: `${xaxis} domain` as 'paper',
    yref: yaxis as 'y',
    x0: 0,
    x1: 1,
    y0: -percent,
    y1: percent,
    fillcolor: TOLERANCE_BAND,
    line: { width: 1, color: INK, dash: 'dot' },
  };
}

/** Difference in percent that a factor says, with the ends of its interval. */
function differenceOf({ factor, low, high }: FactorLevel) {
  const percent = (k: number) => 100 * (1 / k - 1);
  return { value: percent(factor), low: percent(high), high: percent(low) };
}

const isOpen = (one: WavelengthResult) => one.verdict === 'inconclusive';

function rangeOf(
  study: Study,
  shown: readonly WavelengthResult[],
  laps: readonly LapPoint[],
): [number, number] {
  const values = (list: readonly WavelengthResult[]) =>
    list.flatMap((one) => [
      ...lapsOfFactor(laps, one).map((lap) => lap.percent),
      ...one.levels.map(differenceOf).flatMap(({ low, high }) => [low, high]),
    ]);
  const settled = shown.filter((one) => !isOpen(one));
  return sharedRange(
    [-100 * study.tolerance, 100 * study.tolerance, ...values(settled)],
    values(shown),
  );
}

/** One axis of power for all panels, logarithmic because the powers of sources differ so much. */
function powerAxis(shown: readonly WavelengthResult[], laps: readonly LapPoint[]) {
  const powers = [
    ...laps.map((lap) => lap.candidate_mW),
    ...shown.flatMap((one) => one.levels.flatMap((level) => level.candidate_mW)),
  ].filter((power) => power > 0);
  return logAxis(Math.min(...powers) / 1.6, Math.max(...powers) * 1.6);
}

function tracesOf(
  one: WavelengthResult,
  laps: readonly LapPoint[],
  range: [number, number],
  axes: AxisNames,
): Data[] {
  const own = lapsOfFactor(laps, one).map((lap) => ({ lap, ...placed(lap.percent, range) }));
  const inside = own.filter(({ beyond }) => beyond === null);
  const far = own.filter(({ beyond }) => beyond !== null);
  const lapTrace = (points: typeof own, name: string, marker: object): Data => ({
    type: 'scatter',
    mode: 'markers',
    ...axes,
    name,
    x: points.map(({ lap }) => lap.candidate_mW),
    y: points.map(({ at }) => at),
    marker,
    hoverinfo: 'text',
    hovertext: points.map(
      ({ lap }) =>
        `${plainText(lap.series)}, lap ${lap.lap}: ${formatNumber(lap.percent, { digits: 2, unit: '%' })}`,
    ),
  });
  const thin = { width: 1, color: CANDIDATE_COLOUR };
  const traces: Data[] = [
    levelTrace(one, axes, range),
    lapTrace(inside, 'lap', {
      symbol: 'circle-open',
      color: CANDIDATE_COLOUR,
      size: 6,
      line: thin,
    }),
    lapTrace(far, 'lap beyond the scale', {
      symbol: far.map(({ beyond }) => (beyond === 'low' ? 'triangle-down' : 'triangle-up')),
      color: INK,
      size: 9,
    }),
  ];
  return traces.filter((trace) => 'x' in trace && (trace.x as number[]).length > 0);
}

function levelTrace(one: WavelengthResult, axes: AxisNames, range: [number, number]): Data {
  const points = one.levels.map((level) => ({ level, ...differenceOf(level) }));
  const colour = isOpen(one) ? INK : REFERENCE_COLOUR;
  return {
    type: 'scatter',
    mode: one.levels.length > 1 ? 'lines+markers' : 'markers',
    ...axes,
    name: isOpen(one) ? 'level of K, inconclusive: do not use' : 'level of K, with its interval',
    x: points.map(({ level }) => Math.sqrt(level.candidate_mW[0] * level.candidate_mW[1])),
    y: points.map(({ value }) => placed(value, range).at),
    error_y: errorBars(points, { colour, thickness: 2 }),
    line: { color: colour, width: 1.5, dash: 'dash' },
    marker: {
      symbol: isOpen(one) ? 'x-thin-open' : 'line-ew-open',
      color: colour,
      size: 16,
      line: { width: 3, color: colour },
    },
    hoverinfo: 'text',
    hovertext: points.map(({ level }) => levelWords(level)),
  };
}

const levelWords = ({ factor, low, high, candidate_mW }: FactorLevel) =>
  `${rangeWords(candidate_mW)} mW: K = ${formatUncertain(factor, (high - low) / 2, { show: 'value' })}, ${formatReach(factor, low, high)}`;

function headingOf(one: WavelengthResult): string {
  const count = one.levels.length;
  const levels = count === 1 ? 'one level' : `${count} levels`;
  const differ = one.by_power.verdict === 'differ' ? ', K differs' : '';
  return `${formatNumber(one.wavelength_nm)} nm</b> ${count === 0 ? 'no K' : levels}${differ}<b>`;
}

function altOf(one: WavelengthResult, laps: readonly LapPoint[]): string {
  const own = lapsOfFactor(laps, one);
  const at = `At ${formatNumber(one.wavelength_nm)} nm ${counted(own.length, 'lap', 'laps')}`;
  const levels = one.levels.map(levelWords).join('; ');
  const words = {
    differ: 'K differs between the levels',
    'not-shown': 'no difference between the levels is shown',
    'one-level': 'one level only',
  }[one.by_power.verdict];
  return `${at}. ${levels === '' ? 'No factor' : `${levels}; ${words}`}${isOpen(one) ? '; inconclusive' : ''}.`;
}
