import type { Data, Layout, Shape } from 'plotly.js';
import { MeterpairError } from '../error.js';
import { correct } from '../factors/correct.js';
import { formatInterval, formatNumber } from '../findings/formatNumber.js';
import type { FactorEntry, Factors } from '../vocabulary.js';
import { SAME_WAVELENGTH_NM } from '../wavelengths/atWavelength.js';
import { padding, ticksFor } from './factorAxes.js';
import {
  ALARM,
  AXIS,
  BAND,
  baseLayout,
  CONFIG,
  emptyNote,
  type Figure,
  INK,
  legendHeight,
  NOTHING,
  REFERENCE_COLOUR,
  wavelengthsOf,
} from './figure.js';
import { type IntervalPoint, intervalPoints } from './intervalPoints.js';

const STYLE = { size: 10, thickness: 1.5 } as const;

/**
 * What a candidate reading is multiplied by, against wavelength, with the interval of the corrected
 * reading: points where it was measured, boxes where the neighbours bound it, nothing beyond.
 *
 * @param reading_mW the reading that it is drawn for; scatter and display step are in the intervals.
 *   Where no factor is given at this power, the middle of the measured ones stands in
 */
export function envelopeFigure(factors: Factors, reading_mW: number): Figure {
  const at = (nm: number): IntervalPoint[] => {
    const corrected = correctedAt(factors, nm, reading_mW);
    if (corrected === null) return [];
    const { found, shown_mW } = corrected;
    const place = {
      nm,
      value: found.factor,
      low: found.low / shown_mW,
      high: found.high / shown_mW,
    };
    const elsewhere =
      shown_mW === reading_mW
        ? ''
        : ` Drawn for ${formatNumber(shown_mW)} mW: no factor is given at the power asked for.`;
    return [{ ...place, text: `${altOf(place)}${elsewhere}` }];
  };
  const measured = wavelengthsOf(factors.factors);
  const settled = factors.factors.filter((one) => one.verdict !== 'inconclusive');
  const points = measured.flatMap(at);
  const gaps = measured.flatMap(
    (from, i): readonly (readonly [number, number, IntervalPoint])[] => {
      const to = measured[i + 1];
      // So near each other that every wavelength between counts as measured.
      if (to === undefined || to - from <= 2 * SAME_WAVELENGTH_NM) return [];
      return at((from + to) / 2).map((place) => [
        from + SAME_WAVELENGTH_NM,
        to - SAME_WAVELENGTH_NM,
        place,
      ]);
    },
  );
  const isSettled = (place: IntervalPoint) => settled.some((one) => one.wavelength_nm === place.nm);
  const data = [
    intervalPoints(points.filter(isSettled), 'measured', {
      ...STYLE,
      symbol: 'diamond',
      colour: REFERENCE_COLOUR,
    }),
    intervalPoints(
      points.filter((place) => !isSettled(place)),
      'measured, inconclusive: do not use',
      { ...STYLE, symbol: 'x-open', colour: ALARM },
    ),
  ].filter((trace) => trace.x.length > 0);
  const ends = [...points, ...gaps.map(([, , place]) => place)];
  const low = Math.min(1, ...ends.map((place) => place.low));
  const high = Math.max(1, ...ends.map((place) => place.high));
  const range = measured.length === 0 ? 0 : measured[measured.length - 1] - measured[0];
  const layout: Partial<Layout> = {
    ...baseLayout(330 + legendHeight(data.length + 1)),
    ...(data.length === 0 ? emptyNote('There is no factor.') : {}),
    xaxis: {
      ...AXIS,
      title: { text: 'wavelength / nm', standoff: 8 },
      zeroline: false,
      ...ticksFor(measured),
      range:
        measured.length === 0
          ? [0, 1]
          : [measured[0] - padding(range), measured[measured.length - 1] + padding(range)],
    },
    yaxis: {
      ...AXIS,
      title: { text: 'K = corrected power ÷ reading', standoff: 8 },
      range: [low - 0.08 * (high - low), high + 0.08 * (high - low)],
      zeroline: false,
    },
    shapes: gaps.flatMap(([from, to, place], i) => [
      {
        ...box(from, to, place.low, place.high),
        fillcolor: BAND,
        line: { width: 1, color: '#8b949e', dash: 'dot' as const },
        ...(i === 0 ? { showlegend: true, name: 'bounded by the neighbours only' } : {}),
      },
      {
        ...box(from, to, place.value, place.value),
        type: 'line' as const,
        line: { color: INK, width: 1 },
      },
    ]),
  };
  const drawn: Data[] = data;
  return {
    title: 'What a reading is multiplied by, against wavelength',
    alt: `For a reading of ${formatNumber(reading_mW)} mW. ${points.map((place) => `At ${place.text}`).join(' ')} ${gaps.map(([, , place]) => `Around ${place.text}`).join(' ')} Nothing beyond.`,
    data: drawn.length === 0 ? [NOTHING] : drawn,
    layout,
    config: CONFIG,
  };
}

function box(x0: number, x1: number, y0: number, y1: number): Partial<Shape> {
  return { type: 'rect', layer: 'below', x0, x1, y0, y1 };
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
