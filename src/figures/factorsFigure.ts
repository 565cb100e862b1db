import type { Shape } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import { formatKnown } from '../findings/formatUncertain.js';
import type { Result, Study, WavelengthResult } from '../vocabulary.js';
import { known } from './errorBars.js';
import { padding, ticksFor, valueRange } from './factorAxes.js';
import {
  ALARM,
  axis,
  type Figure,
  figureOf,
  legendHeight,
  REFERENCE_COLOUR,
  SOFT,
  shortText,
  TOLERANCE_BAND,
} from './figure.js';
import { type IntervalPoint, intervalPoints } from './intervalPoints.js';
import { drawn, type MarksTrace } from './marks.js';
import { levelBand, levelLine } from './shapes.js';

/**
 * Factor against wavelength: K with its interval, the factors of the single series behind it, and
 * the band in which an uncorrected reading would be within tolerance, 1/(1 + τ) to 1/(1 − τ).
 */
export function factorsFigure(study: Study, result: Result): Figure {
  const confidence = formatNumber(result.confidence, { as: 'percent', digits: 3 });
  const data = pointTraces(result, confidence);
  return figureOf({
    title: 'Factor against wavelength',
    alt: `Factor K, by which a candidate reading is multiplied, with its ${confidence} interval. ${result.wavelengths.map(altOf).join(' ')}`,
    height: 330 + legendHeight(data.length + 1),
    data,
    empty: 'There is no factor.',
    layout: {
      xaxis: axis('wavelength / nm', {
        zeroline: false,
        ...ticksFor(result.wavelengths.map((one) => one.wavelength_nm)),
      }),
      yaxis: axis('factor K = reference ÷ candidate', {
        range: valueRange(study, result),
        zeroline: false,
      }),
      shapes: [asItIs(study.tolerance), levelLine(1, { dash: 'dot' })],
    },
  });
}

/** Where a reading is within the tolerance without a correction. */
function asItIs(tolerance: number): Partial<Shape> {
  return levelBand([1 / (1 + tolerance), 1 / (1 - tolerance)], {
    fill: TOLERANCE_BAND,
    edge: { width: 0 },
    name: `reading within ± ${formatNumber(tolerance, { as: 'percent' })} as it is`,
  });
}

function pointTraces(result: Result, confidence: string): MarksTrace[] {
  const settled = result.wavelengths.filter((one) => one.verdict !== 'inconclusive');
  const open = result.wavelengths.filter((one) => one.verdict === 'inconclusive');
  return drawn([
    intervalPoints(seriesPoints(result), 'single series', {
      symbol: 'circle-open',
      colour: SOFT,
      size: 7,
      thickness: 1,
    }),
    intervalPoints(factorPoints(settled), `factor K, ${confidence} interval`, {
      symbol: 'diamond-open',
      colour: REFERENCE_COLOUR,
      size: 14,
      thickness: 2,
    }),
    intervalPoints(factorPoints(open), 'inconclusive: do not use', {
      symbol: 'x-open',
      colour: ALARM,
      size: 11,
      thickness: 1.5,
    }),
  ]);
}

function factorPoints(wavelengths: readonly WavelengthResult[]): readonly IntervalPoint[] {
  return wavelengths.flatMap(({ wavelength_nm: nm, factor, low, high }) =>
    known(factor, low, high).map((spread) => {
      const text = `${formatNumber(nm)} nm: K = ${formatKnown(spread.value, spread.low, spread.high)}`;
      return { nm, ...spread, text };
    }),
  );
}

/** Series are set a little beside the wavelength, in their order, so that none hides another. */
function seriesPoints(result: Result): readonly IntervalPoint[] {
  const all = result.wavelengths.map((one) => one.wavelength_nm);
  const range = all.length === 0 ? 0 : Math.max(...all) - Math.min(...all);
  const step = 0.012 * (range + 2 * padding(range));
  return result.series.flatMap((series) => {
    const { value, low, high } = series.factor;
    if (value === null || low === null || high === null) return [];
    const mates = result.series.filter((one) => one.wavelength_nm === series.wavelength_nm);
    const place = mates.indexOf(series);
    const side = (Math.floor(place / 2) + 1) * (place % 2 === 0 ? 1 : -1);
    const text = `${shortText(series.id, 40)}: K = ${formatKnown(value, low, high)}, relative to this reference`;
    return [{ nm: series.wavelength_nm + side * step, value, low, high, text }];
  });
}

function altOf(one: WavelengthResult): string {
  const at = `At ${formatNumber(one.wavelength_nm)} nm`;
  if (one.factor === null || one.low === null || one.high === null) return `${at}: no factor.`;
  const factor = formatKnown(one.factor, one.low, one.high);
  return `${at}: ${factor}${one.verdict === 'inconclusive' ? ', inconclusive' : ''}.`;
}
