import type { Data, Layout } from 'plotly.js';
import { formatNumber } from '../../report/formatNumber.js';
import type { Contribution, Result, WavelengthResult } from '../../vocabulary.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  type Figure,
  INK,
  plainText,
  REFERENCE_COLOUR,
  wrappedText,
} from './figure.js';
import { type AxisRecord, stackedPanels } from './panels.js';

const ROW = 34;
/** Characters a name may take beside the bars, narrow enough for a phone. */
const NAME_WIDTH = 20;

/**
 * The uncertainty budget as bars: relative standard uncertainty of each contribution, one panel a
 * wavelength, all on one scale, the combined uncertainty below.
 *
 * @param wavelengths the ones to draw in nm; all that have a budget when left out
 */
export function budgetFigure(result: Result, wavelengths?: readonly number[]): Figure {
  const shown = result.wavelengths.filter(
    (one) =>
      one.budget.length > 0 &&
      (wavelengths === undefined || wavelengths.includes(one.wavelength_nm)),
  );
  const largest = Math.max(
    1e-9,
    ...result.wavelengths.flatMap((one) => rowsOf(one).map((row) => row.percent)),
  );
  const panels = stackedPanels(
    shown.map((one) => rowsOf(one).length * ROW + 8),
    50,
    92,
  );
  const axes: AxisRecord = {};
  shown.forEach((one, index) => {
    const rows = rowsOf(one);
    const last = index === shown.length - 1;
    axes[panels.key('x', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'y' : (`y${index + 1}` as 'y2'),
      range: [0, 1.3 * largest],
      nticks: 5,
      ...(last ? { title: { text: 'relative standard uncertainty / %', standoff: 6 } } : {}),
    };
    axes[panels.key('y', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'x' : (`x${index + 1}` as 'x2'),
      domain: panels.domain(index),
      range: [rows.length - 0.45, -0.55],
      tickvals: rows.map((_, i) => i),
      ticktext: rows.map((row) => row.label),
      tickfont: { size: 11 },
      showgrid: false,
      zeroline: false,
      ticks: '',
    };
  });
  const layout: Partial<Layout> = {
    ...baseLayout(panels.height),
    barmode: 'overlay',
    bargap: 0.35,
    ...axes,
    annotations: shown.map((one, index) =>
      panels.heading(index, `${formatNumber(one.wavelength_nm)} nm`),
    ),
  };
  return {
    title: 'Where the uncertainty comes from',
    alt: shown.map(altOf).join(' '),
    data: shown.flatMap((one, index) => barsOf(one, panels.axes(index), index === 0)),
    layout,
    config: CONFIG,
  };
}

type Kind = 'A' | 'B' | 'combined';

interface Row {
  readonly label: string;
  readonly percent: number;
  readonly kind: Kind;
  readonly hover: string;
}

function rowsOf(one: WavelengthResult): readonly Row[] {
  const rows = one.budget.map(
    (part): Row => ({
      label: wrappedText(part.name, NAME_WIDTH),
      percent: 100 * part.relative_standard_uncertainty,
      kind: part.type,
      hover: hoverOf(part),
    }),
  );
  if (one.relative_standard_uncertainty === null) return rows;
  const percent = 100 * one.relative_standard_uncertainty;
  return [...rows, { label: '<b>combined</b>', percent, kind: 'combined', hover: 'combined' }];
}

function hoverOf(part: Contribution): string {
  const share = formatNumber(part.share, { as: 'percent', digits: 2 });
  return `${plainText(part.name)}: ${share} of the variance<br>${wrappedText(part.note, 50)}`;
}

const STYLES: readonly {
  readonly kind: Kind;
  readonly name: string;
  readonly colour: string;
  readonly pattern: '' | '/' | 'x';
}[] = [
  {
    kind: 'A',
    name: 'type A: from the scatter of this data',
    colour: REFERENCE_COLOUR,
    pattern: '',
  },
  { kind: 'B', name: 'type B: from other knowledge', colour: CANDIDATE_COLOUR, pattern: '/' },
  { kind: 'combined', name: 'combined', colour: INK, pattern: 'x' },
];

/** Every kind gets its entry in the legend once, from the first panel, drawn or not. */
function barsOf(
  one: WavelengthResult,
  axes: { readonly xaxis: string; readonly yaxis: string },
  first: boolean,
): Data[] {
  const rows = rowsOf(one);
  return STYLES.map(({ kind, name, colour, pattern }) => {
    const mine = rows.map((row, place) => ({ ...row, place })).filter((row) => row.kind === kind);
    return {
      type: 'bar',
      orientation: 'h',
      ...axes,
      name,
      legendgroup: kind,
      showlegend: first,
      x: mine.map((row) => row.percent),
      y: mine.map((row) => row.place),
      text: mine.map((row) => formatNumber(row.percent, { digits: 2, unit: '%' })),
      textposition: 'outside',
      textfont: { size: 11 },
      cliponaxis: false,
      hoverinfo: 'text',
      hovertext: mine.map((row) => row.hover),
      marker: {
        color: colour,
        line: { color: colour, width: 1 },
        pattern: { shape: pattern, fillmode: 'replace', size: 6, solidity: 0.45 },
      },
    };
  });
}

function altOf(one: WavelengthResult): string {
  const parts = [...one.budget].sort((a, b) => b.share - a.share).slice(0, 3);
  const largest = parts
    .map(
      (part) =>
        `${plainText(part.name)} ${formatNumber(part.relative_standard_uncertainty, { as: 'percent', digits: 2 })}`,
    )
    .join(', ');
  const combined = formatNumber(one.relative_standard_uncertainty, { as: 'percent', digits: 2 });
  return `At ${formatNumber(one.wavelength_nm)} nm the largest contributions are ${largest}; combined ${combined}.`;
}
