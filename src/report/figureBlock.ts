/** Figures on a page: a place for each, their data once, and the script that draws them. */

import type { FigurePlace, PlacedFigure } from '../figures/reportFigures.js';
import { embedJson, withoutControls } from '../findings/escape.js';
import { type Html, html, trustedHtml } from './html.js';

/** A page is as wide as this in print, in px; beside the card there is less room. */
const PRINTED = 670;
const PRINTED_BESIDE = 248;
/** As high as the card, so that page one keeps to one page. */
const PRINTED_BESIDE_HEIGHT = 400;

/** Figures as markup by their place, numbered in the order of the list. */
export function figuresAt(
  figures: readonly PlacedFigure[],
  ...places: readonly FigurePlace[]
): Html {
  return html`${figures.map((one, i) => (places.includes(one.place) ? block(one, i) : html``))}`;
}

/** The data element that belongs before the drawing script; only what stands on the page. */
export function figureData(figures: readonly PlacedFigure[], places: readonly FigurePlace[]): Html {
  const kept = figures.map(({ place, figure: { data, layout, config } }) =>
    places.includes(place) ? { data, layout, config } : null,
  );
  return trustedHtml(`<script type="application/json" id="figures">${embedJson(kept)}</script>`);
}

function block({ figure, caption, place }: PlacedFigure, index: number): Html {
  // Names inside a figure are already made safe for the plotting library; here they are text again.
  const label = withoutControls(`${figure.title}. ${plain(figure.alt)}`);
  const beside = place === 'answer';
  const width = beside ? PRINTED_BESIDE : PRINTED;
  return html`<figure>
<figcaption><strong>${plain(figure.title)}.</strong> ${caption}</figcaption>
<div class="plot" id="plot-${index}" role="img" aria-label="${label}" data-printed="${width}"${beside ? html` data-printed-height="${PRINTED_BESIDE_HEIGHT}"` : null} style="height:${heightOf(figure.layout.height)}px"></div>
<noscript><p class="none">${label}</p></noscript>
</figure>`;
}

function plain(text: string): string {
  return text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
}

/** The place keeps its height before and without the drawing. */
function heightOf(height: number | undefined): number {
  return height !== undefined && Number.isFinite(height) ? Math.round(height) : 420;
}

/** Draws every figure, follows the window, and fits the page when it is printed. */
export const DRAW_SCRIPT = `(function () {
  'use strict';
  var figures = JSON.parse(document.getElementById('figures').textContent);
  var places = [];
  figures.forEach(function (figure, i) {
    var place = document.getElementById('plot-' + i);
    if (!figure || !place) return;
    window.Plotly.newPlot(place, figure.data, figure.layout, figure.config);
    places.push(place);
  });
  window.addEventListener('beforeprint', function () {
    places.forEach(function (place) {
      var size = { autosize: false, width: Number(place.dataset.printed) };
      if (place.dataset.printedHeight) size.height = Number(place.dataset.printedHeight);
      window.Plotly.relayout(place, size);
    });
  });
  window.addEventListener('afterprint', function () {
    places.forEach(function (place) {
      window.Plotly.relayout(place, { autosize: true, width: null, height: parseFloat(place.style.height) });
    });
  });
})();`;
