import type { Data } from 'plotly.js';
import { counted, formatNumber } from '../findings/formatNumber.js';
import { formatKnown } from '../findings/formatUncertain.js';
import { rangeWords } from '../findings/words.js';
import type { FactorLevel, Result, Study, WavelengthResult } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  nothingDrawn,
  onceInLegend,
  plainText,
  REFERENCE_COLOUR,
} from './figure.js';
import { type LapPoint, lapPoints, lapsOfFactor } from './laps.js';
import { drawn, type MarksTrace, marks } from './marks.js';
import { type GridHeading, gridAxes, gridPanels } from './panels.js';
import { type AxisNames, panelBands } from './shapes.js';
import { logAxis, placed, sharedRange, upOrDown } from './sharedScale.js';
import { toleranceStyle } from './toleranceBand.js';

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
  const tolerance = 100 * study.tolerance;
  const grid = gridPanels(shown.map(headingOf), PANEL, 30, 84 + legendHeight(5));
  const bands = shown.map((_, i) => ({ axes: grid.axes(i), ends: [-tolerance, tolerance] }));
  return figureOf({
    title,
    alt: shown.map((one) => altOf(one, laps)).join(' '),
    height: grid.height,
    data: onceInLegend(shown.flatMap((one, index) => tracesOf(one, laps, range, grid.axes(index)))),
    layout: {
      margin: { l: 50, r: 12, t: 12, b: 48 },
      ...gridAxes(
        grid,
        shown.length,
        axis(['reading / mW', 6], powerAxis(shown, laps)),
        axis(null, { range, nticks: 5 }),
      ),
      shapes: panelBands(bands, toleranceStyle(tolerance)),
      annotations: [...grid.headings, grid.scaleTitle('candidate − reference / %')],
    },
  });
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
  const own = lapsOfFactor(laps, one).map((lap) => {
    const { at: y, beyond } = placed(lap.percent, range);
    const percent = formatNumber(lap.percent, { digits: 2, unit: '%' });
    const text = `${plainText(lap.series)}, lap ${lap.lap}: ${percent}`;
    return { x: lap.candidate_mW, y, text, beyond };
  });
  const far = own.filter(({ beyond }) => beyond !== null);
  return drawn([
    levelTrace(one, axes, range),
    marks(
      'lap',
      own.filter(({ beyond }) => beyond === null),
      { symbol: 'circle-open', colour: CANDIDATE_COLOUR, size: 6, rim: 1 },
      axes,
    ),
    marks(
      'lap beyond the scale',
      far,
      { symbol: far.map(upOrDown), colour: INK, size: 9 },
      { ...axes, cliponaxis: false },
    ),
  ]);
}

function levelTrace(one: WavelengthResult, axes: AxisNames, range: [number, number]): MarksTrace {
  const points = one.levels.map((level) => ({ level, ...differenceOf(level) }));
  const colour = isOpen(one) ? INK : REFERENCE_COLOUR;
  return marks(
    isOpen(one) ? 'level of K, inconclusive: do not use' : 'level of K, with its interval',
    points.map(({ level, value }) => ({
      x: Math.sqrt(level.candidate_mW[0] * level.candidate_mW[1]),
      y: placed(value, range).at,
      text: levelWords(level),
    })),
    { symbol: isOpen(one) ? 'x-thin-open' : 'line-ew-open', colour, size: 16, rim: 3 },
    {
      ...axes,
      mode: one.levels.length > 1 ? 'lines+markers' : 'markers',
      error_y: errorBars(points, { colour, thickness: 2 }),
      line: { color: colour, width: 1.5, dash: 'dash' },
    },
  );
}

const levelWords = ({ factor, low, high, candidate_mW }: FactorLevel) =>
  `${rangeWords(candidate_mW)} mW: K = ${formatKnown(factor, low, high)}`;

function headingOf(one: WavelengthResult): GridHeading {
  const count = one.levels.length;
  const levels = count === 1 ? 'one level' : `${count} levels`;
  const differ = one.by_power.verdict === 'differ' ? ', K differs' : '';
  return [`${formatNumber(one.wavelength_nm)} nm`, `${count === 0 ? 'no K' : levels}${differ}`];
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
