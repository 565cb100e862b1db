import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { argumentWrong } from '../error.js';
import { readable } from '../figures/figure.js';
import { embedJson, escapeHtml } from '../findings/escape.js';

/** A figure as plain data: what Plotly draws, and the words for those who cannot see it. */
export interface DrawableFigure {
  readonly data: readonly unknown[];
  readonly layout: unknown;
  readonly config?: unknown;
  readonly title: string;
  /** What the figure shows, in words. */
  readonly alt: string;
}

/** px; in a narrower output, as of a notebook on a phone, words would be cut off: there it scrolls sideways. */
const LEAST_WIDTH = 360;

/**
 * A figure as HTML that draws itself where the Plotly bundle is on the page.
 *
 * The name of the element follows from the figure's content, so that the same notebook gives the
 * same bytes; the script draws into every element of that name, so that a figure shown twice is
 * drawn twice.
 */
export function figureHtml(figure: DrawableFigure): string {
  const drawing = embedJson({
    data: figure.data,
    layout: figure.layout,
    config: { displaylogo: false, responsive: true, ...(figure.config ?? {}) },
  });
  const name = `figure-${createHash('sha256').update(drawing).digest('hex').slice(0, 16)}`;
  const label = escapeHtml(readable(`${figure.title}. ${figure.alt}`));
  return (
    `<div class="${name}" style="min-width:${LEAST_WIDTH}px" role="img" aria-label="${label}"><p>${label}</p></div>` +
    `<script>(function () {
  var drawing = ${drawing};
  function draw() {
    document.querySelectorAll('.${name}').forEach(function (place) {
      if (!window.Plotly || place.dataset.drawn) return;
      place.dataset.drawn = 'yes';
      place.textContent = '';
      window.Plotly.newPlot(place, drawing.data, drawing.layout, drawing.config);
    });
  }
  (window.meterpairPlots || Promise.resolve()).then(draw);
})();</script>`
  );
}

/**
 * The packed Plotly bundle as a script element, which unpacks it once a page: a third of its size in
 * the kept notebook. Plotly is a UMD module: classic Notebook and nbconvert's pages have require.js,
 * so `define`, `module` and `exports` are hidden from it and it falls back to `window.Plotly`.
 *
 * @param packed base64 of the gzipped bundle
 */
export function bundleHtml(packed: string): string {
  return `<script>(function () {
  if (window.meterpairPlots) return;
  var bytes = Uint8Array.from(atob('${packed}'), function (c) { return c.charCodeAt(0); });
  var plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  window.meterpairPlots = new Response(plain).text().then(function (code) {
    var script = document.createElement('script');
    script.textContent = '(function (define, module, exports) {' + code + '\\n}).call(window);';
    document.head.appendChild(script);
  });
})();</script>`;
}

/**
 * The minified Plotly bundle that the build makes, for a page.
 *
 * @throws argument-wrong when the project has not been built
 */
export function plotlyBundle(): string {
  return built('plotly.min.js').toString();
}

/** The same, gzipped and in base64, for a notebook. */
export function packedBundle(): string {
  return built('plotly.min.js.gz').toString('base64');
}

function built(name: string): Buffer {
  try {
    return readFileSync(fileURLToPath(new URL(`../../dist/${name}`, import.meta.url)));
  } catch {
    throw argumentWrong('The plotting bundle is missing: run `npm run build` first.');
  }
}
