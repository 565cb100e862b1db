import type { Shape } from 'plotly.js';
import { MeterpairError } from '../error.js';
import { correct } from '../factors/correct.js';
import { formatInterval, formatNumber } from '../findings/formatNumber.js';
import type { FactorEntry, Factors } from '../vocabulary.js';
import { SAME_WAVELENGTH_NM } from '../wavelengths/atWavelength.js';
import { ticksFor } from './factorAxes.js';
import {
  ALARM,
  axis,
  BAND,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  padded,
  REFERENCE_COLOUR,
  wavelengthsOf,
} from './figure.js';
import { type IntervalPoint, intervalPoints } from './intervalPoints.js';
import { drawn, type MarksTrace } from './marks.js';

const STYLE = { size: 10, thickness: 1.5 } as const;

/**
 * What a candidate reading is multiplied by, against wavelength, with the interval of the corrected
 * reading: points where it was measured, boxes where the neighbours bound it, nothing beyond.
 *
 * @param reading_mW the reading that it is drawn for; scatter and display step are in the intervals.
 *   Where no factor is given at this power, the middle of the measured ones stands in
 */
export function envelopeFigure(factors: Factors, reading_mW: number): Figure {
  const measured = wavelengthsOf(factors.factors);
  const at = (nm: number) => envelopeAt(factors, nm, reading_mW);
  const points = measured.flatMap(at);
  const gaps = gapsBetween(measured, at);
  const data = measuredTraces(factors, points);
  const ends = [...points, ...gaps.map(([, , place]) => place)].flatMap((one) => [
    one.low,
    one.high,
  ]);
  return figureOf({
    title: 'What a reading is multiplied by, against wavelength',
    alt: `For a reading of ${formatNumber(reading_mW)} mW. ${points.map((place) => `At ${place.text}`).join(' ')} ${gaps.map(([, , place]) => `Around ${place.text}`).join(' ')} Nothing beyond.`,
    height: 330 + legendHeight(data.length + 1),
    data,
    empty: 'There is no factor.',
    layout: {
      xaxis: axis('wavelength / nm', { range: [0, 1], zeroline: false, ...ticksFor(measured) }),
      yaxis: axis('K = corrected power ÷ reading', {
        range: padded([1, ...ends], 0.08),
        zeroline: false,
      }),
      shapes: gaps.flatMap(gapShapes),
    },
  });
}

/** Factor and interval of the corrected reading at a wavelength; nothing where none is given. */
function envelopeAt(factors: Factors, nm: number, reading_mW: number): IntervalPoint[] {
  const corrected = correctedAt(factors, nm, reading_mW);
  if (corrected === null) return [];
  const { found, shown_mW } = corrected;
  const place = { nm, value: found.factor, low: found.low / shown_mW, high: found.high / shown_mW };
  const elsewhere =
    shown_mW === reading_mW
      ? ''
      : ` Drawn for ${formatNumber(shown_mW)} mW: no factor is given at the power asked for.`;
  return [{ ...place, text: `${altOf(place)}${elsewhere}` }];
}

type Gap = readonly [from: number, to: number, middle: IntervalPoint];

/** What the neighbours bound; none where every wavelength between counts as measured. */
function gapsBetween(
  measured: readonly number[],
  at: (nm: number) => readonly IntervalPoint[],
): readonly Gap[] {
  return measured.slice(1).flatMap((to, i): readonly Gap[] => {
    const from = measured[i];
    if (to - from <= 2 * SAME_WAVELENGTH_NM) return [];
    const ends = [from + SAME_WAVELENGTH_NM, to - SAME_WAVELENGTH_NM] as const;
    return at((from + to) / 2).map((middle) => [...ends, middle]);
  });
}

function measuredTraces(factors: Factors, points: readonly IntervalPoint[]): MarksTrace[] {
  const settled = factors.factors.filter((one) => one.verdict !== 'inconclusive');
  const isSettled = (place: IntervalPoint) => settled.some((one) => one.wavelength_nm === place.nm);
  const open = points.filter((place) => !isSettled(place));
  const [good, bad] = [
    { symbol: 'diamond', colour: REFERENCE_COLOUR, ...STYLE },
    { symbol: 'x-open', colour: ALARM, ...STYLE },
  ];
  return drawn([
    intervalPoints(points.filter(isSettled), 'measured', good),
    intervalPoints(open, 'measured, inconclusive: do not use', bad),
  ]);
}

/** A box over the interval, with a line at the factor. */
function gapShapes([x0, x1, { value, low, high }]: Gap, i: number): Partial<Shape>[] {
  const name = i === 0 ? { showlegend: true, name: 'bounded by the neighbours only' } : {};
  const place = { layer: 'below', x0, x1 } as const;
  const edge = { width: 1, color: '#8b949e', dash: 'dot' } as const;
  return [
    { ...place, type: 'rect', y0: low, y1: high, fillcolor: BAND, line: edge, ...name },
    { ...place, type: 'line', y0: value, y1: value, line: { color: INK, width: 1 } },
  ];
}

function altOf({ nm, value, low, high }: Omit<IntervalPoint, 'text'>): string {
  return `${formatNumber(nm)} nm: ${formatNumber(value)}, ${formatInterval(low, high)}.`;
}

/** Corrected at the reading, or where that is refused at the middle of measured powers; `null`: at none. */
function correctedAt(factors: Factors, nm: number, reading_mW: number) {
  const middle = ({ candidate_range_mW: [low, high] }: FactorEntry) => Math.sqrt(low * high);
  const near = ({ wavelength_nm }: FactorEntry) =>
    Math.abs(wavelength_nm - nm) <= SAME_WAVELENGTH_NM;
  const own = factors.factors.filter(near).map(middle);
  for (const shown_mW of [reading_mW, ...own, ...factors.factors.map(middle)]) {
    try {
      return { found: correct(factors, { reading_mW: shown_mW, wavelength_nm: nm }), shown_mW };
    } catch (error) {
      if (!(error instanceof MeterpairError && error.code === 'power-out-of-range')) throw error;
    }
  }
  return null;
}
