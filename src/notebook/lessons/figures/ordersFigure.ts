import type { Data } from 'plotly.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  legendHeight,
  REFERENCE_COLOUR,
} from '../../../figures/figure.js';
import { axesOf, stackedPanels } from '../../../figures/panels.js';
import type { AxisNames } from '../../../figures/shapes.js';
import { formatNumber } from '../../../findings/formatNumber.js';
import { runOrder } from '../../../plan/runOrder.js';
import { METERS } from '../../../record/meters.js';
import { simulateSeries } from '../../../simulate/bench.js';
import type { BenchOptions } from '../../../simulate/benchOptions.js';
import { seededRandom } from '../../../statistics/random.js';
import { mean } from '../../../statistics/summary.js';
import type { MeterRole, RunOrder } from '../../../vocabulary.js';

/** A source and how it changes; nothing else of the bench matters here. */
export type DriftingSource = Pick<BenchOptions, 'laps' | 'source'>;

/** What each meter is given of a drifting source in one order. */
export interface PowerSeen {
  readonly order: RunOrder;
  readonly meters: readonly MeterRole[];
  /** Power of each run in percent above or below the mean of the series; no noise. */
  readonly percent: readonly number[];
  /** Mean of each meter's runs. */
  readonly mean: Readonly<Record<MeterRole, number>>;
}

/** Power of the source at each run, without any noise, and what each meter sees of it on average. */
export function powerSeen(source: DriftingSource, order: RunOrder): PowerSeen {
  const { drift } = source.source ?? {};
  const steady = { ...source, source: drift === undefined ? {} : { drift } };
  const { truth } = simulateSeries({ ...steady, order, level_mW: 1, factor: 1 }, seededRandom(1));
  const centre = mean(truth.power_mW);
  const percent = truth.power_mW.map((power) => 100 * (power / centre - 1));
  const meters = runOrder(order, source.laps);
  const of = (meter: MeterRole) => mean(percent.filter((_, i) => meters[i] === meter));
  const seen = { reference: of('reference'), candidate: of('candidate') };
  return { order, meters, percent, mean: seen };
}

const STYLE = {
  reference: { colour: REFERENCE_COLOUR, symbol: 'circle', dash: 'solid' },
  candidate: { colour: CANDIDATE_COLOUR, symbol: 'diamond-open', dash: 'dash' },
} as const;

/**
 * One panel an order: the power of the source at each run, by the meter that was in the beam, and
 * the mean that each meter gets of it. The gap between the two lines is what the order leaves.
 */
export function ordersFigure(source: DriftingSource, orders: readonly RunOrder[]): Figure {
  const shown = orders.map((order) => powerSeen(source, order));
  const panels = stackedPanels(
    shown.map(() => 128),
    44,
    92 + legendHeight(4),
  );
  return figureOf({
    title: 'What each meter gets of a drifting source',
    alt: `Power of the source without noise at each run. On average: ${shown.map((one) => `${one.order}, ${gapText(one)}`).join('; ')}.`,
    height: panels.height,
    data: shown.flatMap((one, index) => tracesOf(one, panels.axes(index), index === 0)),
    layout: {
      ...axesOf(panels, shown.length, (index) => [
        axis(index === shown.length - 1 ? ['run / number', 6] : null, {
          range: endsOf(shown[index]),
          nticks: 9,
          zeroline: false,
        }),
        axis(['power / %', 6], { nticks: 5, zeroline: false }),
      ]),
      annotations: shown.map((one, i) => panels.heading(i, `${one.order}: ${gapText(one)}`)),
    },
  });
}

const endsOf = ({ meters }: PowerSeen): [number, number] => [0.3, meters.length + 0.7];

function tracesOf(one: PowerSeen, axes: AxisNames, showlegend: boolean): Data[] {
  return METERS.flatMap((meter): Data[] => {
    const { colour, symbol, dash } = STYLE[meter];
    const runs = one.meters.flatMap((own, i) => (own === meter ? [i] : []));
    const common = { type: 'scatter', ...axes, showlegend, hoverinfo: 'y' } as const;
    return [
      {
        ...common,
        mode: 'markers',
        name: `source while the ${meter} is in the beam`,
        x: runs.map((i) => i + 1),
        y: runs.map((i) => one.percent[i]),
        marker: { symbol, color: colour, size: 9, line: { width: 1.6, color: colour } },
      },
      {
        ...common,
        mode: 'lines',
        name: `mean of what the ${meter} gets`,
        x: endsOf(one),
        y: [one.mean[meter], one.mean[meter]],
        line: { color: colour, width: 1.8, dash },
      },
    ];
  });
}

/** Said as more or less, because a gap of the power and the error of K have opposite signs. */
function gapText({ mean: seen }: PowerSeen): string {
  const gap = seen.candidate - seen.reference;
  const size = Math.abs(gap);
  if (size < 0.0005) return 'both get the same';
  const text = formatNumber(size, { digits: size < 0.1 ? 1 : 2, unit: '%' });
  return `the candidate gets ${text} ${gap < 0 ? 'less' : 'more'}`;
}
