import type { Data, Layout } from 'plotly.js';
import { limitsOfAgreement } from '../../../agree/limitsOfAgreement.js';
import type { PairedReadings } from '../../../agree/pairedLevels.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  wavelengthStyle,
} from '../../../figures/figure.js';
import { type AxisRecord, stackedPanels } from '../../../figures/panels.js';
import { formatInterval } from '../../../findings/formatNumber.js';
import { percentDifferences } from '../pairs.js';

export interface NamedPairs {
  readonly name: string;
  readonly pairs: PairedReadings;
}

/**
 * The same pairs of readings looked at twice: candidate against reference with the line of equality,
 * and their difference in percent with the limits of agreement. The first picture hides what the
 * second one is about.
 *
 * Source of the second picture: Bland and Altman 1986, Lancet 327:307, figure 2.
 */
export function metersFigure(list: readonly NamedPairs[]): Figure {
  const panels = stackedPanels([230, 230], 62, 82 + legendHeight(list.length + 2));
  const shown = list.map((one) => {
    const percent = percentDifferences(one.pairs);
    return { ...one, percent, limits: limitsOfAgreement(percent) };
  });
  const all = list.flatMap(({ pairs }) => [...pairs.reference, ...pairs.candidate]);
  const most = 1.04 * Math.max(...all);
  const axes: AxisRecord = {
    xaxis: {
      ...AXIS,
      anchor: 'y',
      range: [0, most],
      title: { text: 'reference / mW', standoff: 4 },
      nticks: 7,
    },
    yaxis: {
      ...AXIS,
      anchor: 'x',
      domain: panels.domain(0),
      range: [0, most],
      title: { text: 'candidate / mW', standoff: 6 },
      nticks: 7,
    },
    xaxis2: {
      ...AXIS,
      anchor: 'y2',
      range: [0, most],
      title: { text: 'reference / mW', standoff: 4 },
      nticks: 7,
    },
    yaxis2: {
      ...AXIS,
      anchor: 'x2',
      domain: panels.domain(1),
      title: { text: 'difference / %', standoff: 6 },
      nticks: 7,
    },
  };
  const data: Data[] = shown.flatMap(({ name, pairs, percent }, index) => {
    const style = wavelengthStyle(index);
    const common = {
      type: 'scatter' as const,
      mode: 'markers' as const,
      name,
      legendgroup: name,
      x: [...pairs.reference],
      marker: { symbol: style.symbol, color: style.colour, size: 8, opacity: 0.85 },
      hoverinfo: 'x+y' as const,
    };
    return [
      { ...common, ...panels.axes(0), y: [...pairs.candidate] },
      { ...common, ...panels.axes(1), y: [...percent], showlegend: false },
    ];
  });
  const layout: Partial<Layout> = {
    ...baseLayout(panels.height),
    ...axes,
    annotations: [
      panels.heading(0, 'One against the other'),
      panels.heading(1, 'Candidate − reference, in percent'),
    ],
    shapes: [
      {
        type: 'line',
        layer: 'below',
        x0: 0,
        y0: 0,
        x1: most,
        y1: most,
        line: { color: INK, width: 1.2, dash: 'dot' },
        showlegend: true,
        name: 'both show the same',
      },
      ...shown.flatMap(({ limits }, index) =>
        [limits.low, limits.high].flatMap((at, place) =>
          at === null
            ? []
            : [
                {
                  type: 'line' as const,
                  layer: 'below' as const,
                  xref: 'paper' as const,
                  yref: 'y2' as const,
                  x0: 0,
                  x1: 1,
                  y0: at,
                  y1: at,
                  line: {
                    color: wavelengthStyle(index).colour,
                    width: 1.4,
                    dash: 'dash' as const,
                  },
                  ...(index === 0 && place === 0
                    ? { showlegend: true, name: 'limits of agreement' }
                    : {}),
                },
              ],
        ),
      ),
    ],
  };
  return {
    title: 'Two meters, plotted twice',
    alt: `Candidate against reference, and the difference in percent of the reference. ${shown
      .map(
        ({ name, limits }) =>
          `${name}: limits of agreement ${formatInterval(limits.low, limits.high)} %.`,
      )
      .join(' ')}`,
    data,
    layout,
    config: CONFIG,
  };
}
