/** Figures on the page: a place for each, their data once, and the script that draws them. */
import { readable } from '../figures/figure.js';
import { embedJson, withoutControls } from '../findings/escape.js';
import { type Html, html, trustedHtml } from './html.js';

/** A figure as plain data: what the plotting library draws, and the words for it. */
export interface ReportFigure {
  readonly title: string;
  readonly alt: string;
  readonly data: readonly unknown[];
  readonly layout: unknown;
  readonly config?: unknown;
}

export type FigureSlot = ReportFigure | readonly ReportFigure[] | undefined;

/** Collects the figures in the order they stand on the page. */
export interface FigureShelf {
  /** The figures of one slot as markup; nothing when there are none. */
  readonly place: (slot: FigureSlot, caption: string) => Html;
  /** The data element that belongs before the drawing script. */
  readonly data: () => Html;
}

export function figureShelf(): FigureShelf {
  const kept: ReportFigure[] = [];
  return {
    place: (slot, caption) => {
      const list = figureList(slot);
      return html`${list.map((figure, i) => {
        kept.push(figure);
        const part = list.length > 1 ? ` (part ${i + 1} of ${list.length})` : '';
        return block(figure, kept.length - 1, part, i === 0 ? caption : '');
      })}`;
    },
    data: () =>
      trustedHtml(
        `<script type="application/json" id="figures">${embedJson(
          kept.map(({ data, layout, config }) => ({ data, layout, config: config ?? {} })),
        )}</script>`,
      ),
  };
}

/** The figures of a slot, none, one or several. */
function figureList(slot: FigureSlot): readonly ReportFigure[] {
  if (slot === undefined) return [];
  return isList(slot) ? slot : [slot];
}

function isList(slot: ReportFigure | readonly ReportFigure[]): slot is readonly ReportFigure[] {
  return Array.isArray(slot);
}

function block(figure: ReportFigure, index: number, part: string, caption: string): Html {
  // Names inside a figure are already made safe for the plotting library; here they are text again.
  const label = withoutControls(`${figure.title}. ${readable(figure.alt)}`);
  return html`<figure>
<figcaption><strong>${figure.title}${part}.</strong> ${caption}</figcaption>
<div class="plot" id="plot-${index}" role="img" aria-label="${label}" style="height:${heightOf(figure)}px"></div>
<noscript><p class="none">${label}</p></noscript>
</figure>`;
}

/** The place keeps its height before and without the drawing. */
function heightOf(figure: ReportFigure): number {
  const { layout } = figure;
  const height =
    typeof layout === 'object' && layout !== null && 'height' in layout ? layout.height : null;
  return typeof height === 'number' && Number.isFinite(height) ? Math.round(height) : 420;
}

/** Draws every figure, follows the window, and fits the page when it is printed. */
export const DRAW_SCRIPT = `(function () {
  'use strict';
  var figures = JSON.parse(document.getElementById('figures').textContent);
  var places = figures.map(function (figure, i) {
    var place = document.getElementById('plot-' + i);
    window.Plotly.newPlot(place, figure.data, figure.layout, figure.config);
    return place;
  });
  window.addEventListener('beforeprint', function () {
    places.forEach(function (place) {
      window.Plotly.relayout(place, { autosize: false, width: 670 });
    });
  });
  window.addEventListener('afterprint', function () {
    places.forEach(function (place) {
      window.Plotly.relayout(place, { autosize: true, width: null });
    });
  });
})();`;
