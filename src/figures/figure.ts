/** What all figures share: the record, the look, and the handling of text from files. */
import type { Annotations, Config, Data, Layout, LayoutAxis } from 'plotly.js';
import { withoutControls } from '../findings/escape.js';
import { FONT } from '../findings/font.js';

/** A figure as plain data: what Plotly draws, and the words for those who cannot see it. */
export interface Figure {
  readonly title: string;
  /** What the figure shows, in words. */
  readonly alt: string;
  readonly data: Data[];
  readonly layout: Partial<Layout>;
  readonly config: Partial<Config>;
}

// Dark in red and in green as well, so that no mark fades in grey, or behind a red or green filter.
export const INK = '#1d2733';
export const SOFT = '#5f6b75';
export const REFERENCE_COLOUR = '#17456b';
export const CANDIDATE_COLOUR = '#6b3410';
export const ALARM = '#6e1414';
export const BAND = 'rgba(23, 69, 107, 0.10)';
export const TOLERANCE_BAND = 'rgba(90, 100, 110, 0.13)';
export const GRID = '#e3e6ea';

/** Shape and lightness differ as well as hue, so that grey prints and colour-blind readers do. */
const WAVELENGTH_STYLES = [
  { symbol: 'circle', colour: REFERENCE_COLOUR },
  { symbol: 'square', colour: CANDIDATE_COLOUR },
  { symbol: 'diamond', colour: '#2f6b3a' },
  { symbol: 'triangle-up', colour: '#5f3b7a' },
  { symbol: 'cross', colour: '#6b5413' },
  { symbol: 'triangle-down', colour: SOFT },
  { symbol: 'star', colour: '#7f2233' },
  { symbol: 'hexagon', colour: '#1f6d78' },
] as const;

/** Marker shape and colour of the i-th wavelength; hollow from the ninth on. */
export function wavelengthStyle(index: number): {
  readonly symbol: (typeof WAVELENGTH_STYLES)[number]['symbol'];
  readonly colour: string;
  readonly open: boolean;
} {
  const style = WAVELENGTH_STYLES[index % WAVELENGTH_STYLES.length];
  return { ...style, open: index >= WAVELENGTH_STYLES.length };
}

/** The calm part of every layout; height in px, width follows the page. */
function baseLayout(height: number): Partial<Layout> {
  return {
    autosize: true,
    height,
    font: { family: FONT, size: 12, color: INK },
    paper_bgcolor: '#ffffff',
    plot_bgcolor: '#ffffff',
    margin: { l: 48, r: 14, t: 12, b: 44 },
    hovermode: 'closest',
    dragmode: false,
    showlegend: true,
    legend: {
      orientation: 'h',
      x: 0,
      xanchor: 'left',
      y: 1,
      yanchor: 'top',
      yref: 'container',
      itemclick: false,
      itemdoubleclick: false,
    },
  };
}

/** Height in px that a legend takes where every entry needs a line of its own. */
export function legendHeight(entries: number): number {
  return 19 * entries + 14;
}

/** Axis settings that every figure uses. */
const AXIS = {
  type: 'linear',
  automargin: true,
  fixedrange: true,
  showline: true,
  linecolor: '#8b949e',
  ticks: 'outside',
  tickcolor: '#8b949e',
  ticklen: 4,
  gridcolor: GRID,
  zerolinecolor: '#8b949e',
  zerolinewidth: 1,
} as const;

/**
 * An axis with the look of them all.
 *
 * @param title its quantity and unit, or that with its distance from the ticks in px (8); `null`: none
 */
export function axis(
  title: string | readonly [text: string, standoff: number] | null,
  own: Partial<LayoutAxis> = {},
): Partial<LayoutAxis> {
  if (title === null) return { ...AXIS, ...own };
  const [text, standoff] = typeof title === 'string' ? [title, 8] : title;
  return { ...AXIS, title: { text, standoff }, ...own };
}

/** An upright axis with a name for each row, 0 at the top. */
export function rowAxis(names: readonly string[], range: [number, number]): Partial<LayoutAxis> {
  const ticks = { tickvals: names.map((_, i) => i), ticktext: [...names], ticks: '' as const };
  return axis(null, { range, ...ticks, showgrid: false, zeroline: false });
}

const CONFIG: Partial<Config> = {
  displayModeBar: false,
  displaylogo: false,
  responsive: true,
  scrollZoom: false,
};

/** Stands where there is nothing to draw: the library cannot draw axes without a trace. */
const NOTHING: Data = {
  type: 'scatter',
  mode: 'markers',
  x: [null],
  y: [null],
  hoverinfo: 'skip',
  showlegend: false,
};

/** Each name stands in the legend once, whichever panel has it first. */
export function onceInLegend(data: readonly Data[]): Data[] {
  const seen = new Set<string>();
  return data.map((trace) => {
    const name = String(trace.name);
    const first = !seen.has(name);
    seen.add(name);
    return { ...trace, legendgroup: name, showlegend: first };
  });
}

/**
 * A figure with the look of them all.
 *
 * @param parts.height px
 * @param parts.empty said in the middle where there is no trace
 */
export function figureOf(parts: {
  readonly title: string;
  readonly alt: string;
  readonly height: number;
  readonly data: readonly Data[];
  readonly layout?: Partial<Layout>;
  readonly empty?: string;
}): Figure {
  const { title, alt, height, data, layout, empty } = parts;
  const nothing = data.length === 0;
  const note = nothing && empty !== undefined ? emptyNote(empty) : {};
  return {
    title,
    alt,
    data: nothing ? [NOTHING] : [...data],
    layout: { ...baseLayout(height), ...note, ...layout },
    config: CONFIG,
  };
}

/** A figure with nothing to draw says why, in the picture and in words. */
export function nothingDrawn(title: string, why: string): Figure {
  return figureOf({ title, alt: `Nothing is drawn. ${why}`, height: 160, data: [], empty: why });
}

/** Says in the middle of a figure why it is empty. */
function emptyNote(text: string): Pick<Layout, 'annotations'> {
  const middle = { xref: 'paper', yref: 'paper', x: 0.5, y: 0.5 } as const;
  return { annotations: [{ text, ...middle, showarrow: false, font: { color: INK } }] };
}

/** Words in a picture. */
export const note = (text: string, place: Partial<Annotations>): Partial<Annotations> => ({
  text,
  showarrow: false,
  font: { size: 12, color: INK },
  ...place,
});

/** A note that lies over lines of the picture. */
export const OVER_LINES = { bgcolor: 'rgba(255, 255, 255, 0.8)', borderpad: 0 } as const;

/** From the least to the greatest and such a part of their distance beyond both; `alone`: of equal ones. */
export function padded(
  ends: readonly number[],
  part: number,
  alone = 1,
): [low: number, high: number] {
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const pad = part * (high - low) || alone;
  return [low - pad, high + pad];
}

/** Text from a file: Plotly reads a little markup, and must not find any in it. */
export function plainText(text: string): string {
  return withoutControls(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}

/** What `plainText` made of it, as text again. */
export function readable(text: string): string {
  return text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
}

/** Plain text, shortened to `length` characters. */
export function shortText(text: string, length: number): string {
  const characters = [...withoutControls(text)];
  return plainText(
    characters.length > length
      ? `${characters.slice(0, length - 1).join('')}…`
      : characters.join(''),
  );
}

/** Plain text in lines of about `width` characters. */
export function wrappedText(text: string, width: number): string {
  const lines: string[] = [];
  for (const word of withoutControls(text).split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && [...last].length + 1 + [...word].length <= width) {
      lines[lines.length - 1] = `${last} ${word}`;
    } else lines.push(word);
  }
  return lines.map(plainText).join('<br>');
}

/**
 * A long name by its beginning and its last `end` characters (a third, unless told), because names
 * of series and of units often differ there.
 */
export function shortName(
  text: string,
  length: number,
  end = Math.floor((length - 1) / 3),
): string {
  const characters = [...withoutControls(text)];
  if (characters.length <= length) return plainText(characters.join(''));
  return plainText(
    `${characters.slice(0, length - 1 - end).join('')}…${characters.slice(-end).join('')}`,
  );
}

/** The wavelengths of a list, ascending, each once. */
export function wavelengthsOf(
  list: readonly { readonly wavelength_nm: number }[],
): readonly number[] {
  return [...new Set(list.map((one) => one.wavelength_nm))].sort((a, b) => a - b);
}
