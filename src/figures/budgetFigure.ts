import type { Data, Layout } from 'plotly.js';
import { formatNumber, formatRelative } from '../findings/formatNumber.js';
import type { Contribution, Result, WavelengthResult } from '../vocabulary.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  plainText,
  REFERENCE_COLOUR,
  wrappedText,
} from './figure.js';
import { type AxisRecord, stackedPanels } from './panels.js';

const ROW = 30;
/** Characters a name may take beside the bars, narrow enough for a phone. */
const NAME_WIDTH = 20;

/**
 * The uncertainty budget as bars: relative standard uncertainty of each contribution, one panel a
 * wavelength, the combined uncertainty below.
 *
 * @param wavelengths the ones to draw in nm; all that have a budget when left out
 */
export function budgetFigure(result: Result, wavelengths?: readonly number[]): Figure {
  const shown = result.wavelengths.filter(
    (one) =>
      one.budget.length > 0 &&
      (wavelengths === undefined || wavelengths.includes(one.wavelength_nm)),
  );
  const panels = stackedPanels(
    shown.map((one) => rowsOf(one).length * ROW + 8),
    50,
    58 + legendHeight(STYLES.length),
  );
  const axes: AxisRecord = {};
  shown.forEach((one, index) => {
    const rows = rowsOf(one);
    const last = index === shown.length - 1;
    axes[panels.key('x', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'y' : (`y${index + 1}` as 'y2'),
      range: [0, 1.3 * scaleOf(result, one)],
      nticks: 5,
      ...(last ? { title: { text: 'u / %', standoff: 6 } } : {}),
    };
    axes[panels.key('y', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'x' : (`x${index + 1}` as 'x2'),
      domain: panels.domain(index),
      range: [rows.length - 0.45, -0.55],
      tickvals: rows.map((_, i) => i),
      ticktext: rows.map((row) => row.label),
      tickfont: { size: 11 },
      automargin: false,
      showgrid: false,
      zeroline: false,
      ticks: '',
    };
  });
  const layout: Partial<Layout> = {
    ...baseLayout(panels.height),
    barmode: 'overlay',
    // Set, not automatic: names beside narrow bars make the automatic margin hunt.
    margin: { l: 7 * NAME_WIDTH, r: 14, t: 12, b: 48 },
    ...axes,
    annotations: shown.map((one, index) => panels.heading(index, headingOf(result, one))),
  };
  return {
    title: `Where the uncertainty comes from${shown.length === 1 ? ` at ${formatNumber(shown[0].wavelength_nm)} nm` : ''}`,
    alt: shown.map(altOf).join(' '),
    data: shown.flatMap((one, index) => barsOf(one, panels.axes(index), index === 0)),
    layout,
    config: CONFIG,
  };
}

/**
 * Settled wavelengths share one scale, so that their bars compare; an inconclusive one, whose bars
 * would dwarf the others, has its own.
 */
function scaleOf(result: Result, one: WavelengthResult): number {
  const group =
    one.verdict === 'inconclusive'
      ? [one]
      : result.wavelengths.filter((other) => other.verdict !== 'inconclusive');
  return Math.max(1e-9, ...group.flatMap((other) => rowsOf(other).map((row) => row.percent)));
}

function headingOf(result: Result, one: WavelengthResult): string {
  const others = result.wavelengths.some((other) => other.verdict !== 'inconclusive');
  const own = one.verdict === 'inconclusive' && others ? ' (a scale of its own)' : '';
  return `${formatNumber(one.wavelength_nm)} nm${own}`;
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
  const share = `${formatRelative(part.share)} %`;
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
      width: 0.62,
      ...axes,
      name,
      legendgroup: kind,
      showlegend: first,
      x: mine.map((row) => row.percent),
      y: mine.map((row) => row.place),
      text: mine.map((row) => `${formatRelative(row.percent / 100)} %`),
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
      (part) => `${plainText(part.name)} ${formatRelative(part.relative_standard_uncertainty)} %`,
    )
    .join(', ');
  const combined = formatRelative(one.relative_standard_uncertainty);
  return `At ${formatNumber(one.wavelength_nm)} nm the largest contributions are ${largest}; combined ${combined} %.`;
}
