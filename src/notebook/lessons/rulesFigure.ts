import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  legendHeight,
  wavelengthStyle,
  wrappedText,
} from '../../figures/figure.js';
import { formatNumber } from '../../findings/formatNumber.js';
import type { RuleCoverage } from './ruleCoverage.js';
import { uprightLine } from './uprightLine.js';

/** Share of intervals that hold the truth, a row a rule, a mark for each kind of day. */
export function rulesFigure(days: readonly RuleCoverage[], confidence = 0.95): Figure {
  const rules = days[0]?.rules.map((one) => one.name) ?? [];
  const lowest = Math.min(
    confidence,
    ...days.flatMap((day) => day.rules.map(({ coverage }) => coverage.fraction)),
  );
  const data: Data[] = days.map((day, index) => {
    const style = wavelengthStyle(index);
    return {
      type: 'scatter',
      mode: 'markers',
      name: day.name,
      x: day.rules.map(({ coverage }) => 100 * coverage.fraction),
      y: day.rules.map((_, i) => i + 1 + 0.24 * (index - (days.length - 1) / 2)),
      marker: { symbol: style.symbol, color: style.colour, size: 10 },
      error_x: {
        type: 'data',
        array: day.rules.map(({ coverage }) => 200 * coverage.standardUncertainty),
        color: style.colour,
        thickness: 1.2,
        width: 4,
      },
      hoverinfo: 'text',
      hovertext: day.rules.map(
        ({ name, coverage }) => `${name}: ${coverage.held} of ${coverage.times}`,
      ),
    };
  });
  const layout: Partial<Layout> = {
    ...baseLayout(96 + 52 * rules.length + legendHeight(days.length + 1)),
    xaxis: {
      ...AXIS,
      title: { text: 'intervals that hold the truth / %', standoff: 8 },
      range: [Math.max(0, Math.floor(20 * lowest - 0.5) * 5), 101],
      zeroline: false,
    },
    yaxis: {
      ...AXIS,
      range: [rules.length + 0.6, 0.4],
      tickmode: 'array',
      tickvals: rules.map((_, i) => i + 1),
      ticktext: rules.map((name) => wrappedText(name, 18)),
      showgrid: false,
      zeroline: false,
    },
    shapes: [
      uprightLine(
        100 * confidence,
        `promised: ${formatNumber(confidence, { as: 'percent', digits: 3 })}`,
      ),
    ],
  };
  return {
    title: 'What leaving laps out does to the promise',
    alt: days
      .map(
        (day) =>
          `${day.name}: ${day.rules.map(({ name, coverage }) => `${name} ${formatNumber(coverage.fraction, { as: 'percent', digits: 3 })}`).join(', ')}.`,
      )
      .join(' '),
    data,
    layout,
    config: CONFIG,
  };
}
