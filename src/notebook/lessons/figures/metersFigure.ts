import type { Data, Shape } from 'plotly.js';
import { limitsOfAgreement } from '../../../agree/limitsOfAgreement.js';
import type { PairedReadings } from '../../../agree/pairedLevels.js';
import {
  axis,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  wavelengthStyle,
} from '../../../figures/figure.js';
import { axesOf, stackedPanels } from '../../../figures/panels.js';
import { levelLine } from '../../../figures/shapes.js';
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
  const power = (text: string, standoff: number) =>
    axis([text, standoff], { range: [0, most], nticks: 7 });
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
  const words = shown.map(
    ({ name, limits: { low, high } }) =>
      `${name}: limits of agreement ${formatInterval(low, high)} %.`,
  );
  return figureOf({
    title: 'Two meters, plotted twice',
    alt: `Candidate against reference, and the difference in percent of the reference. ${words.join(' ')}`,
    height: panels.height,
    data,
    layout: {
      ...axesOf(panels, 2, (index) => [
        power('reference / mW', 4),
        index === 0 ? power('candidate / mW', 6) : axis(['difference / %', 6], { nticks: 7 }),
      ]),
      annotations: [
        panels.heading(0, 'One against the other'),
        panels.heading(1, 'Candidate − reference, in percent'),
      ],
      shapes: [equality(most), ...shown.flatMap(({ limits }, index) => limitLines(limits, index))],
    },
  });
}

function equality(most: number): Partial<Shape> {
  const line = { color: INK, width: 1.2, dash: 'dot' } as const;
  const ends = { x0: 0, y0: 0, x1: most, y1: most };
  return {
    type: 'line',
    layer: 'below',
    ...ends,
    line,
    showlegend: true,
    name: 'both show the same',
  };
}

/** In the lower panel; the first stands in the legend for all. */
function limitLines(
  { low, high }: ReturnType<typeof limitsOfAgreement>,
  index: number,
): Partial<Shape>[] {
  const { colour } = wavelengthStyle(index);
  return [low, high].flatMap((at, place) => {
    const name = index === 0 && place === 0 ? 'limits of agreement' : undefined;
    if (at === null) return [];
    return [{ ...levelLine(at, { colour, width: 1.4, dash: 'dash', name }), yref: 'y2' as const }];
  });
}
