import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { argumentWrong } from '../error.js';
import { readable } from '../figures/figure.js';
import { embedJson, embedScript, escapeHtml } from '../findings/escape.js';

/** A figure as plain data: what Plotly draws, and the words for those who cannot see it. */
export interface DrawableFigure {
  readonly data: readonly unknown[];
  readonly layout: unknown;
  readonly config?: unknown;
  readonly title: string;
  /** What the figure shows, in words. */
  readonly alt: string;
}

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
  const label = escapeHtml(`${figure.title}. ${readable(figure.alt)}`);
  return (
    `<div class="${name}" role="img" aria-label="${label}"><p>${label}</p></div>` +
    `<script>(function () {
  var drawing = ${drawing};
  document.querySelectorAll('.${name}').forEach(function (place) {
    if (!window.Plotly || place.dataset.drawn) return;
    place.dataset.drawn = 'yes';
    place.textContent = '';
    window.Plotly.newPlot(place, drawing.data, drawing.layout, drawing.config);
  });
})();</script>`
  );
}

/**
 * The Plotly bundle as a script element. Plotly is a UMD module: classic Notebook and nbconvert's
 * pages have require.js, so `define`, `module` and `exports` are hidden from it and it falls back
 * to `window.Plotly`.
 */
export function bundleHtml(bundle: string): string {
  return `<script>(function (define, module, exports) {${embedScript(bundle)}\n}).call(window);</script>`;
}

/**
 * The minified Plotly bundle that the build makes.
 *
 * @throws argument-wrong when the project has not been built
 */
export function plotlyBundle(): string {
  const path = fileURLToPath(new URL('../../dist/plotly.min.js', import.meta.url));
  try {
    return readFileSync(path, 'utf8');
  } catch {
    throw argumentWrong('The plotting bundle is missing: run `npm run build` first.');
  }
}
