import type { Annotations, Data } from 'plotly.js';
import { formatNumber, formatRelative } from '../findings/formatNumber.js';
import type { Result, WavelengthResult } from '../vocabulary.js';
import { type BudgetPart, budgeted, budgetParts } from './budgetParts.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  note,
  nothingDrawn,
  plainText,
  REFERENCE_COLOUR,
  rowAxis,
  SOFT,
  shortText,
} from './figure.js';

const ROW = 58;
/** A bar that is no longer than this part of the axis leaves no room for its letter. */
const ROOM_FOR_LETTER = 0.06;
/** An inconclusive wavelength may make the others shorter by this much, and is cut there. */
const LONGEST = 2.5;

/** Pattern and tone; a letter stands above each part, so that neither has to be told apart. */
const FILLS = [
  { shape: '', tone: REFERENCE_COLOUR },
  { shape: '/', tone: CANDIDATE_COLOUR },
  { shape: '.', tone: INK },
  { shape: 'x', tone: '#2f6b3a' },
  { shape: '-', tone: '#5f3b7a' },
  { shape: '\\', tone: '#7f2233' },
  { shape: '+', tone: '#4f5a20' },
  { shape: '|', tone: SOFT },
] as const;

/**
 * What is the uncertainty made of? One bar a wavelength, as long as U of its factor, cut in proportion
 * to the share that each contribution has in the variance. (Standard uncertainties add as squares, so
 * lengths of their own would not add up to a bar.)
 */
export function budgetFigure(result: Result): Figure {
  const title = 'What the uncertainty of each factor is made of';
  const shown = budgeted(result);
  if (shown.length === 0) return nothingDrawn(title, 'No wavelength has an uncertainty budget.');
  const parts = budgetParts(shown);
  const bars = barsOf(shown);
  // Room for U beside the longest bar.
  const isCut = bars.some((bar) => bar.drawn < bar.percent);
  const end = (isCut ? 1.5 : 1.22) * Math.max(...bars.map((bar) => bar.drawn));
  const figure = figureOf({
    title,
    alt: shown.map((one, i) => altOf(one, i, parts)).join(' '),
    height: 62 + ROW * shown.length + legendHeight(parts.length),
    data: parts.map((part, place) => traceOf(part, place, bars)),
    layout: {
      barmode: 'stack',
      xaxis: axis(['expanded uncertainty U of K / %', 6], { range: [0, end], nticks: 7 }),
      yaxis: rowAxis(
        shown.map((one) => `${formatNumber(one.wavelength_nm)} nm`),
        [shown.length - 0.4, -0.75],
      ),
      annotations: [...letters(parts, bars, end), ...bars.map(lengthNote)],
    },
  });
  const legend = { ...figure.layout.legend, traceorder: 'normal' as const };
  return { ...figure, layout: { ...figure.layout, legend } };
}

interface Bar {
  readonly row: number;
  /** U in percent. */
  readonly percent: number;
  /** Length that is drawn: U, or less where an inconclusive one would dwarf the others. */
  readonly drawn: number;
}

function barsOf(shown: readonly WavelengthResult[]): readonly Bar[] {
  const percentOf = (one: WavelengthResult) => 100 * (one.relative_expanded_uncertainty ?? 0);
  const settled = shown.filter((one) => one.verdict !== 'inconclusive').map(percentOf);
  const longest = settled.length === 0 ? Number.POSITIVE_INFINITY : LONGEST * Math.max(...settled);
  return shown.map((one, row) => ({
    row,
    percent: percentOf(one),
    drawn: Math.min(percentOf(one), longest),
  }));
}

const letterOf = (place: number) => String.fromCharCode(97 + place);

function traceOf(part: BudgetPart, place: number, bars: readonly Bar[]): Data {
  const { shape, tone } = FILLS[place % FILLS.length];
  const own = bars.filter((bar) => part.shares[bar.row] > 0);
  return {
    type: 'bar',
    orientation: 'h',
    width: 0.4,
    name: `<b>${letterOf(place)}</b> ${shortText(part.name, 40)}`,
    x: own.map((bar) => part.shares[bar.row] * bar.drawn),
    y: own.map((bar) => bar.row),
    hoverinfo: 'text',
    hovertext: own.map(
      (bar) => `${plainText(part.name)}: ${formatRelative(part.shares[bar.row])} % of the variance`,
    ),
    marker: {
      color: tone,
      line: { color: INK, width: 1 },
      pattern: { shape, fillmode: 'replace', size: 7, solidity: 0.35 },
    },
  };
}

/** The letter of each part above it, where there is room. */
function letters(
  parts: readonly BudgetPart[],
  bars: readonly Bar[],
  end: number,
): Partial<Annotations>[] {
  return bars.flatMap((bar) =>
    parts.flatMap((part, place) => {
      const length = part.shares[bar.row] * bar.drawn;
      if (length < ROOM_FOR_LETTER * end) return [];
      const before = parts.slice(0, place).reduce((sum, one) => sum + one.shares[bar.row], 0);
      return [
        note(letterOf(place), {
          x: before * bar.drawn + length / 2,
          y: bar.row - 0.22,
          yanchor: 'bottom',
        }),
      ];
    }),
  );
}

/** U beside its bar; where the bar is cut short it says so. */
function lengthNote(bar: Bar): Partial<Annotations> {
  const cut = bar.drawn < bar.percent;
  const text = `${cut ? '<b>→</b> ' : ''}U ${formatRelative(bar.percent / 100)} %${cut ? ', cut' : ''}`;
  return note(text, { x: bar.drawn, xanchor: 'left', xshift: 4, y: bar.row });
}

function altOf(one: WavelengthResult, row: number, parts: readonly BudgetPart[]): string {
  const largest = [...parts]
    .sort((a, b) => b.shares[row] - a.shares[row])
    .slice(0, 3)
    .filter((part) => part.shares[row] > 0)
    .map((part) => `${plainText(part.name)} ${formatRelative(part.shares[row])} %`);
  return `At ${formatNumber(one.wavelength_nm)} nm U is ${formatRelative(one.relative_expanded_uncertainty)} %; of its variance ${largest.join(', ')}.`;
}
