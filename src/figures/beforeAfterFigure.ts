import type { Data, Layout } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  emptyNote,
  type Figure,
  legendHeight,
  NOTHING,
  REFERENCE_COLOUR,
  TOLERANCE_BAND,
} from './figure.js';
import { lapPoints } from './laps.js';

type When = 'before' | 'after';

/** How far to the side of its wavelength the readings before and after are drawn. */
const SIDE: Record<When, number> = { before: -0.17, after: 0.17 };

/**
 * Error of the candidate in percent before and after the correction, per wavelength: the estimate
 * with its interval, 1/K − 1 before and what the interval of K leaves open after; the kept laps
 * behind them. Inconclusive wavelengths are not corrected. The
 * tolerance is the band around zero.
 *
 * The laps after the correction are the ones the factor comes from, so their centre is zero by
 * construction: how far a *new* reading may be off is what the interval and new data say.
 */
export function beforeAfterFigure(study: Study, result: Result): Figure {
  const shown = result.wavelengths.filter((one) => one.factor !== null);
  const tolerance = 100 * study.tolerance;
  const layout: Partial<Layout> = {
    ...baseLayout(330 + legendHeight(5)),
    xaxis: {
      ...AXIS,
      title: { text: 'wavelength / nm', standoff: 8 },
      ...(shown.length === 0
        ? { showticklabels: false }
        : {
            tickvals: shown.map((_, i) => i),
            ticktext: shown.map((one) => formatNumber(one.wavelength_nm)),
          }),
      range: [-0.6, Math.max(shown.length, 1) - 0.4],
      showgrid: false,
      zeroline: false,
    },
    yaxis: {
      ...AXIS,
      title: { text: 'candidate − reference / %', standoff: 8 },
      ...(shown.length === 0 ? { range: [-2 * tolerance, 2 * tolerance] } : {}),
    },
    ...(shown.length === 0 ? emptyNote('There is no factor to correct with.') : {}),
    shapes: [
      {
        type: 'rect',
        layer: 'below',
        xref: 'paper',
        x0: 0,
        x1: 1,
        y0: -tolerance,
        y1: tolerance,
        fillcolor: TOLERANCE_BAND,
        line: { width: 0 },
        showlegend: true,
        name: `tolerance ± ${formatNumber(tolerance)} %`,
      },
    ],
  };
  return {
    title: 'Before and after the correction',
    alt:
      shown.length === 0
        ? 'Nothing is drawn: there is no factor to correct with.'
        : shown.map(altOf).join(' '),
    data: shown.length === 0 ? [NOTHING] : tracesOf(study, result, shown),
    layout,
    config: CONFIG,
  };
}

function tracesOf(study: Study, result: Result, shown: readonly WavelengthResult[]): Data[] {
  const confidence = formatNumber(result.confidence, { as: 'percent', digits: 3 });
  return [
    lapTrace(study, result, shown, 'before'),
    lapTrace(study, result, shown, 'after'),
    estimateTrace(shown, 'before', `uncorrected, ${confidence} interval`),
    estimateTrace(shown, 'after', `corrected, ${confidence} interval`),
  ];
}

/** Error of the estimate and its ends, in percent. */
function errorOf(one: WavelengthResult, when: When) {
  const { factor, low, high } = one;
  if (factor === null || low === null || high === null) return null;
  // An inconclusive factor must not look as if it corrected anything.
  if (when === 'after' && one.verdict === 'inconclusive') return null;
  const scale = when === 'before' ? 1 : factor;
  const percent = (k: number) => 100 * (scale / k - 1);
  return { at: percent(factor), low: percent(high), high: percent(low) };
}

function estimateTrace(shown: readonly WavelengthResult[], when: When, name: string): Data {
  const points = shown.flatMap((one, i) => {
    const error = errorOf(one, when);
    return error === null ? [] : [{ x: i + SIDE[when], nm: one.wavelength_nm, ...error }];
  });
  const colour = when === 'before' ? CANDIDATE_COLOUR : REFERENCE_COLOUR;
  return {
    type: 'scatter',
    mode: 'markers',
    name,
    x: points.map((point) => point.x),
    y: points.map((point) => point.at),
    error_y: {
      type: 'data',
      symmetric: false,
      array: points.map((point) => point.high - point.at),
      arrayminus: points.map((point) => point.at - point.low),
      color: colour,
      thickness: 2,
      width: 6,
    },
    marker: {
      symbol: when === 'before' ? 'diamond-open' : 'diamond',
      color: colour,
      size: 12,
      line: { width: 2, color: colour },
    },
    hoverinfo: 'text',
    hovertext: points.map(
      (point) =>
        `${formatNumber(point.nm)} nm, ${when === 'before' ? 'uncorrected' : 'corrected'}: ${formatNumber(point.at, { digits: 2, unit: '%' })} (${formatNumber(point.low, { digits: 2 })} to ${formatNumber(point.high, { digits: 2 })})`,
    ),
  };
}

function lapTrace(
  study: Study,
  result: Result,
  shown: readonly WavelengthResult[],
  when: When,
): Data {
  const points = lapPoints(study, result).flatMap((point) => {
    const place = shown.findIndex((one) => one.wavelength_nm === point.wavelength_nm);
    const factor = shown[place]?.factor ?? null;
    if (factor === null) return [];
    if (when === 'after' && shown[place].verdict === 'inconclusive') return [];
    const scale = when === 'before' ? 1 : factor;
    return [
      {
        x: place + 1.75 * SIDE[when],
        y: 100 * ((scale * point.candidate_mW) / point.reference_mW - 1),
      },
    ];
  });
  return {
    type: 'scatter',
    mode: 'markers',
    name: when === 'before' ? 'laps, uncorrected' : 'laps, corrected',
    x: points.map((point) => point.x),
    y: points.map((point) => point.y),
    marker: {
      symbol: when === 'before' ? 'circle-open' : 'circle',
      color: when === 'before' ? CANDIDATE_COLOUR : REFERENCE_COLOUR,
      size: 5,
      opacity: 0.55,
    },
    hoverinfo: 'skip',
  };
}

function altOf(one: WavelengthResult): string {
  const before = errorOf(one, 'before');
  const after = errorOf(one, 'after');
  const at = `At ${formatNumber(one.wavelength_nm)} nm`;
  if (before === null) return `${at}: no interval.`;
  const percent = (value: number) => formatNumber(value, { digits: 2, unit: '%' });
  if (after === null)
    return `${at}: off by ${percent(before.at)} before; inconclusive, so not corrected.`;
  return `${at}: off by ${percent(before.at)} before; after the correction between ${percent(after.low)} and ${percent(after.high)}.`;
}
