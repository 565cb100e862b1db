import type { Annotations, Data } from 'plotly.js';
import { formatEstimate, formatNumber } from '../findings/formatNumber.js';
import { formatUncertainty } from '../findings/formatUncertain.js';
import { confidenceWords } from '../findings/words.js';
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import { errorBars, type Spread } from './errorBars.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  GRID,
  INK,
  legendHeight,
  note,
  nothingDrawn,
  OVER_LINES,
  REFERENCE_COLOUR,
  rowAxis,
} from './figure.js';
import { type LapPoint, lapPoints, lapsOfFactor } from './laps.js';
import { drawn, marks } from './marks.js';
import { levelLine } from './shapes.js';
import { placed, sharedRange } from './sharedScale.js';
import { toleranceBand } from './toleranceBand.js';

type When = 'before' | 'after';

const WHENS: readonly When[] = ['before', 'after'];
const ROW = 54;

/** Where in its row it is drawn, above before and below after: the laps outside, the bars inside. */
const LANE: Readonly<Record<When, number>> = { before: -0.15, after: 0.15 };
const LAP_LANE: Readonly<Record<When, number>> = { before: -0.33, after: 0.33 };

const STYLES = {
  before: { colour: CANDIDATE_COLOUR, mark: 'diamond-open', lap: 'circle-open', words: 'as read' },
  after: { colour: REFERENCE_COLOUR, mark: 'square', lap: 'line-ns-open', words: 'corrected' },
} as const;

/**
 * Error of candidate readings in percent before and after the correction, one row a wavelength, with
 * the tolerance as a band around zero. Before: 1/K − 1 with the interval of K. After: zero with the U
 * of a reading corrected on another day, its own scatter and display step aside. Behind both the kept
 * laps, corrected by the factor of their level of power. Inconclusive wavelengths are not corrected.
 *
 * The laps after the correction are the ones the factor comes from, so their centre is zero by
 * construction: how far a *new* reading may be off is what the bar and new data say.
 */
export function beforeAfterFigure(study: Study, result: Result): Figure {
  const shown = result.wavelengths.filter((one) => one.factor !== null);
  const title = 'How far off candidate readings are, before and after the correction';
  if (shown.length === 0) return nothingDrawn(title, 'There is no factor to correct with.');
  const laps = lapErrors(study, result, shown);
  const range = rangeOf(study, shown, laps);
  const data: Data[] = [
    ...WHENS.map((when) => lapTrace(laps, when, range)),
    ...WHENS.map((when) => errorTrace(shown, when, result.confidence, range)),
    ...beyondTrace(shown, laps, range),
  ];
  return figureOf({
    title,
    alt: altOf(study, shown),
    height: 70 + ROW * shown.length + legendHeight(data.length + 1),
    data,
    layout: {
      xaxis: axis(['error of the reading / %', 6], { range, nticks: 6 }),
      yaxis: rowAxis(
        shown.map((one) => `${formatNumber(one.wavelength_nm)} nm`),
        [shown.length - 0.45, -0.55],
      ),
      shapes: [
        toleranceBand(100 * study.tolerance),
        ...shown.slice(1).map((_, i) => levelLine(i + 0.5, { colour: GRID })),
      ],
      annotations: shown.flatMap(uncorrectedNote),
    },
  });
}

/** An inconclusive factor must not look as if it corrected anything. */
function uncorrectedNote(one: WavelengthResult, i: number): Partial<Annotations>[] {
  if (one.verdict !== 'inconclusive') return [];
  const place = { xref: 'paper', x: 0.5, y: i + 0.22, ...OVER_LINES } as const;
  return [note('not corrected: inconclusive', place)];
}

/** Error and its ends in percent; `null` where there is none to show. */
function errorOf(one: WavelengthResult, when: When): Spread | null {
  const { factor, low, high, corrected_reading_relative_U: U } = one;
  if (when === 'after') {
    if (one.verdict === 'inconclusive' || U === null) return null;
    return { value: 0, low: -100 * U, high: 100 * U };
  }
  if (factor === null || low === null || high === null) return null;
  const percent = (k: number) => 100 * (1 / k - 1);
  return { value: percent(factor), low: percent(high), high: percent(low) };
}

type LapErrors = Readonly<Record<When, readonly { readonly x: number; readonly row: number }[]>>;

function lapErrors(study: Study, result: Result, shown: readonly WavelengthResult[]): LapErrors {
  const laps = lapPoints(study, result);
  const points = shown.flatMap((one, row) =>
    lapsOfFactor(laps, one).map((point) => ({ point, row, one })),
  );
  const settled = points.filter(({ one }) => one.verdict !== 'inconclusive');
  return {
    before: points.map(({ point, row }) => ({ x: point.percent, row })),
    after: settled.map(({ point, row, one }) => ({
      x: 100 * ((factorFor(one, point) * point.candidate_mW) / point.reference_mW - 1),
      row,
    })),
  };
}

function factorFor(one: WavelengthResult, point: LapPoint): number {
  const level = one.levels.find((each) => each.series.includes(point.series));
  return level?.factor ?? one.factor ?? Number.NaN;
}

/** What is settled is seen in full; an inconclusive wavelength must not flatten it. */
function rangeOf(study: Study, shown: readonly WavelengthResult[], laps: LapErrors) {
  const ends = (one: WavelengthResult) =>
    WHENS.flatMap((when) => {
      const error = errorOf(one, when);
      return error === null ? [] : [error.low, error.high];
    });
  const settled = shown.filter((one) => one.verdict !== 'inconclusive');
  const isSettled = (row: number) => settled.includes(shown[row]);
  const lapsOf = (settledOnes: boolean) =>
    WHENS.flatMap((when) =>
      laps[when].filter((lap) => isSettled(lap.row) === settledOnes).map((lap) => lap.x),
    );
  const tolerance = [-100 * study.tolerance, 100 * study.tolerance];
  return sharedRange(
    [...tolerance, ...settled.flatMap(ends), ...lapsOf(true)],
    [...shown.flatMap(ends), ...lapsOf(false)],
  );
}

function lapTrace(laps: LapErrors, when: When, range: [number, number]): Data {
  const { colour, lap, words } = STYLES[when];
  const points = laps[when].map(({ x, row }) => ({
    x: placed(x, range).at,
    y: row + LAP_LANE[when],
    text: formatNumber(x, { digits: 2, unit: '%' }),
  }));
  return marks(`laps, ${words}`, points, { symbol: lap, colour, size: 6, rim: 1 });
}

function errorTrace(
  shown: readonly WavelengthResult[],
  when: When,
  confidence: number,
  range: readonly [number, number],
): Data {
  const { colour, mark, words } = STYLES[when];
  const errors = shown.flatMap((one, row) => {
    const error = errorOf(one, when);
    return error === null ? [] : [{ row, nm: one.wavelength_nm, ...error }];
  });
  const bar = when === 'before' ? `${confidenceWords(confidence)} interval` : '± U on another day';
  const points = errors.map(({ row, nm, value, low, high }) => ({
    x: placed(value, range).at,
    y: row + LANE[when],
    text: `${formatNumber(nm)} nm, ${words}: ${formatEstimate(value, low, high, { unit: '%' })}`,
  }));
  return marks(
    `${words}, ${bar}`,
    points,
    { symbol: mark, colour, size: 11, rim: 2 },
    { error_x: errorBars(errors, { colour, thickness: 2.5, width: 7 }) },
  );
}

/** An arrow where a lap lies, or an interval runs, out of the picture. */
function beyondTrace(
  shown: readonly WavelengthResult[],
  laps: LapErrors,
  range: readonly [number, number],
): Data[] {
  const ends = shown.flatMap((one, row) => {
    const error = errorOf(one, 'before');
    const y = row + LANE.before;
    return error === null ? [] : [error.low, error.high].map((end) => ({ y, end }));
  });
  const far = WHENS.flatMap((when) =>
    laps[when].map(({ x, row }) => ({ y: row + LAP_LANE[when], end: x })),
  );
  const marked = [...ends, ...far].flatMap(({ y, end }) => {
    const { at: x, beyond } = placed(end, range);
    const text = `at ${formatNumber(end, { digits: 2, unit: '%' })}`;
    return beyond === null ? [] : [{ x, y, text, beyond }];
  });
  const symbol = marked.map((one) => (one.beyond === 'low' ? 'triangle-left' : 'triangle-right'));
  return drawn([marks('beyond the picture', marked, { symbol, colour: INK, size: 11 })]);
}

function altOf(study: Study, shown: readonly WavelengthResult[]): string {
  const tolerance = formatNumber(study.tolerance, { as: 'percent' });
  return `Error of candidate readings against the tolerance of ± ${tolerance}. ${shown.map(wordsOf).join(' ')}`;
}

function wordsOf(one: WavelengthResult): string {
  const before = errorOf(one, 'before');
  const after = errorOf(one, 'after');
  const at = `At ${formatNumber(one.wavelength_nm)} nm`;
  if (before === null) return `${at}: no interval.`;
  const off = `off by ${formatNumber(before.value, { digits: 2, unit: '%' })} before`;
  if (one.verdict === 'inconclusive') return `${at}: ${off}; inconclusive, so not corrected.`;
  if (after === null) return `${at}: ${off}; how far after the correction is not known.`;
  return `${at}: ${off}, ${formatUncertainty(after.high, { unit: '%' })} after the correction.`;
}
