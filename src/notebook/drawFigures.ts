/** Figures as pictures to share: SVG or PNG, drawn by a Chromium of the user's own. */
import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { argumentWrong, MeterpairError } from '../error.js';
import type { ListedFigure } from '../figures/reportFigures.js';
import { embedJson, embedScript, escapeHtml } from '../findings/escape.js';
import { chromiumPath, DRAWING_NEEDS } from './chromiumPath.js';
import { plotlyBundle } from './figureHtml.js';

export type PictureFormat = 'svg' | 'png';

export interface PictureOptions {
  readonly format: PictureFormat;
  /** Width in px; the height is that of each figure. Text keeps its size. */
  readonly width: number;
  /** Pixels of a PNG for each px (default 2); an SVG has none. */
  readonly scale?: number;
  /** Path of Chromium (default: `chromiumPath()`). */
  readonly chromium?: string | null;
}

export interface Picture {
  /** `before-after.svg` */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Narrower, the labels run into each other; wider, no browser draws. */
const WIDTHS = [320, 4000] as const;
/** Longest time for all figures of a study, ms. */
const LONGEST = 120_000;
const MOST_BYTES = 256 * 1024 * 1024;

/**
 * Draws figures without a window and without a network. An SVG carries the words of its figure.
 *
 * @throws command-line where Chromium is missing, and says what is needed; argument-wrong for a width
 *   outside 320 to 4000 px, and where the browser draws nothing
 */
export async function drawFigures(
  figures: readonly ListedFigure[],
  options: PictureOptions,
): Promise<readonly Picture[]> {
  const { format, width } = options;
  if (!(width >= WIDTHS[0] && width <= WIDTHS[1])) {
    throw argumentWrong(
      'A picture cannot be that wide.',
      `${width} px`,
      `${WIDTHS.join(' to ')} px`,
    );
  }
  const chromium = options.chromium === undefined ? chromiumPath() : options.chromium;
  if (chromium === null) {
    const message = 'Figures are drawn by Chromium, and there is none.';
    throw new MeterpairError({ code: 'command-line', message, expected: DRAWING_NEEDS });
  }
  if (figures.length === 0) return [];
  const drawn = await drawnIn(chromium, pageFor(figures, options));
  return figures.map((figure, i) => ({
    name: `${figure.id}.${format}`,
    bytes: bytesOf(drawn[i] ?? '', figure, format),
  }));
}

/** A page that draws every figure and leaves the pictures as data addresses in one element. */
function pageFor(figures: readonly ListedFigure[], options: PictureOptions): string {
  const { format, width, scale = 2 } = options;
  const jobs = embedJson(
    figures.map(({ figure, height }) => ({
      figure: {
        data: figure.data,
        layout: { ...figure.layout, width, height },
        config: figure.config,
      },
      options: { format, width, height, scale: format === 'svg' ? 1 : scale },
    })),
  );
  return `<!doctype html><meta charset="utf-8"><body><script>${embedScript(plotlyBundle())}</script><script>
(async function () {
  var pictures = [];
  for (var job of ${jobs}) pictures.push(await window.Plotly.toImage(job.figure, job.options));
  var place = document.createElement('pre');
  place.id = 'pictures';
  place.textContent = JSON.stringify(pictures);
  document.body.replaceChildren(place);
})();</script>`;
}

async function drawnIn(chromium: string, page: string): Promise<readonly string[]> {
  const folder = await mkdtemp(join(tmpdir(), 'meterpair-figures-'));
  try {
    const file = join(folder, 'figures.html');
    await writeFile(file, page);
    const { stdout } = await promisify(execFile)(
      chromium,
      [
        ...SWITCHES,
        `--user-data-dir=${join(folder, 'profile')}`,
        '--dump-dom',
        pathToFileURL(file).href,
      ],
      { maxBuffer: MOST_BYTES, timeout: LONGEST },
    );
    const found = /<pre id="pictures">([^<]*)<\/pre>/.exec(stdout)?.[1];
    if (found === undefined) throw argumentWrong('The browser drew nothing.', chromium);
    return JSON.parse(found.replaceAll('&quot;', '"').replaceAll('&amp;', '&')) as string[];
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

const SWITCHES = [
  '--headless',
  // In a container without user namespaces Chromium starts only so; it opens one page of our own.
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // Waits until the drawing is done, and no longer.
  '--virtual-time-budget=60000',
];

function bytesOf(address: string, figure: ListedFigure, format: PictureFormat): Uint8Array {
  const comma = address.indexOf(',');
  const [head, body] = [address.slice(0, comma), address.slice(comma + 1)];
  if (comma < 0) throw argumentWrong('The browser drew nothing.', figure.id);
  const bytes = head.endsWith(';base64')
    ? Buffer.from(body, 'base64')
    : Buffer.from(decodeURIComponent(body), 'utf8');
  return format === 'png' ? bytes : Buffer.from(withWords(bytes.toString('utf8'), figure), 'utf8');
}

/** The title and what is seen, for those who do not see it. */
function withWords(svg: string, { title, alt }: ListedFigure): string {
  const words = `<title>${escapeHtml(title)}</title><desc>${escapeHtml(alt)}</desc>`;
  return svg.replace(/^(<svg[^>]*)>/, (_, start: string) => `${start} role="img">${words}`);
}
