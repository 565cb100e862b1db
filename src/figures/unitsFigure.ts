import type { SeveralUnitsResult, UnitFactor } from '../factors/severalUnits.js';
import { formatInterval, formatNumber, formatRelative } from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import { errorBars, type Spread } from './errorBars.js';
import {
  axis,
  BAND,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  padded,
  REFERENCE_COLOUR,
  shortName,
  shortText,
} from './figure.js';
import { drawn, marks } from './marks.js';
import { uprightBand, uprightLine } from './shapes.js';

export interface UnitsShown {
  readonly units: readonly UnitFactor[];
  readonly found: SeveralUnitsResult;
  readonly confidence: number;
  /** True factors of these units, for invented data. */
  readonly truth?: readonly number[] | undefined;
  /** True factors of further units that nobody compared, for invented data. */
  readonly further?: readonly number[] | undefined;
}

/**
 * Factors of several units of one model, one line a unit; the interval of their mean, and the far
 * wider one in which a further unit is to be expected.
 */
export function unitsFigure(shown: UnitsShown): Figure {
  const { units, found, confidence, truth = [], further = [] } = shown;
  const percent = formatNumber(confidence, { as: 'percent', digits: 3 });
  const spreads = spreadsOf(units, confidence);
  const data = unitTraces(shown, spreads);
  const rows = units.length + (further.length > 0 ? 1 : 0);
  const ends = spreads.flatMap(({ low, high }) => [low, high]);
  return figureOf({
    title: 'Factors of several units',
    alt: `Mean factor ${formatNumber(found.factor)}, its ${percent} interval ${formatInterval(...found.meanInterval)}; that of a further unit ${formatInterval(...found.furtherUnit)}. ${units.map((unit) => `${shortText(unit.name, 40)}: ${formatNumber(unit.factor)}.`).join(' ')}`,
    height: 120 + 26 * rows + legendHeight(data.length + 3),
    data,
    layout: {
      xaxis: axis('factor K = reference ÷ candidate', {
        range: padded([...found.furtherUnit, ...ends, ...truth, ...further], 0.05, 0.01),
        showgrid: false,
        zeroline: false,
        nticks: 6,
      }),
      yaxis: axis(null, {
        range: [rows + 0.6, 0.4],
        tickmode: 'array',
        tickvals: Array.from({ length: rows }, (_, i) => i + 1),
        ticktext: [...units.map(({ name }) => shortName(name, 18, 9)), 'further units'].slice(
          0,
          rows,
        ),
        showgrid: false,
        zeroline: false,
      }),
      shapes: [
        uprightBand(found.furtherUnit, { fill: BAND, name: `a further unit, ${percent}` }),
        uprightBand(found.meanInterval, { fill: MEAN_BAND, name: `mean of all units, ${percent}` }),
        uprightLine(found.factor, { name: 'mean of these units' }),
      ],
    },
  });
}

const MEAN_BAND = 'rgba(29, 39, 51, 0.28)';

/** ± k u of each unit, without the reference. */
function spreadsOf(units: readonly UnitFactor[], confidence: number): readonly Spread[] {
  const k = coverageFactor(confidence, KNOWN_EXACTLY);
  return units.map(({ factor: value, relative_standard_uncertainty: u }) => {
    const half = Math.exp(k * u);
    return { value, low: value / half, high: value * half };
  });
}

function unitTraces({ units, truth = [], further = [] }: UnitsShown, spreads: readonly Spread[]) {
  const style = (symbol: string, colour: string, size = 10) => ({ symbol, colour, size, rim: 1.8 });
  const error_x = errorBars(spreads, { colour: REFERENCE_COLOUR, thickness: 1.5 });
  const truthAt = (x: number, y: number) => ({ x, y, text: `truth ${formatNumber(x)}` });
  const compared = units.map((unit, i) => ({
    x: unit.factor,
    y: i + 1,
    text: `${shortText(unit.name, 40)}: K = ${formatNumber(unit.factor)}, u = ${formatRelative(unit.relative_standard_uncertainty)} %`,
  }));
  return drawn([
    marks(
      'compared unit, ± k u without the reference',
      compared,
      style('diamond', REFERENCE_COLOUR),
      { error_x },
    ),
    marks(
      'true factor to this reference',
      truth.map((value, i) => truthAt(value, i + 1)),
      style('x-thin-open', CANDIDATE_COLOUR),
    ),
    marks(
      'units that nobody compared',
      further.map((value) => truthAt(value, units.length + 1)),
      style('circle-open', INK, 7),
    ),
  ]);
}
