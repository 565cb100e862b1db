/** Figures on a page: a place for each, their data once, and the script that draws them. */
import type { ListedFigure, ReportFigureId } from '../figures/reportFigures.js';
import { embedJson, withoutControls } from '../findings/escape.js';
import { type Html, html, trustedHtml } from './html.js';

/** Where a figure stands: beside the answer, in a section of the report, or in the appendix. */
export type FigurePlace = 'answer' | 'hazard' | 'budget' | 'left-out' | 'evidence' | 'appendix';

const PLACES: Readonly<Record<ReportFigureId, FigurePlace>> = {
  'before-after': 'answer',
  hazard: 'hazard',
  budget: 'budget',
  laps: 'evidence',
  power: 'evidence',
  'left-out': 'left-out',
};

/** What a figure does not say of itself. */
const CAPTIONS: Readonly<Record<string, string>> = {
  'before-after': 'What is inconclusive is not corrected.',
  hazard:
    'Beside each source its class by this data and its label. Bar: from the highest power to its upper bound. Cross strokes: the most that the label allows.',
  budget: 'The largest part is where an improvement pays.',
  laps: 'As read: the drift between the two runs of a lap is still in a mark, and not in the factor.',
  power: 'Each level with what its K says; the factor runs from one level to the next.',
  'left-out': 'Each kind of reason by itself.',
  'runs-1':
    'Readings in percent above or below the middle between the medians of both meters. Circles, solid line: reference. Diamonds, dotted line: candidate. Hollow: left out.',
  factors:
    'Diamonds: factor with the whole budget. Hollow circles: single series, relative to this reference. Crosses: inconclusive.',
  opinions: 'Bars: two standard uncertainties; none where none is stated.',
  agreement:
    'One mark a kept lap, shaped by wavelength. Lines and bars: bias, limits of agreement and their intervals.',
};

const placeOf = ({ id }: ListedFigure): FigurePlace =>
  (PLACES as Readonly<Record<string, FigurePlace>>)[id] ?? 'appendix';

/** A page is as wide as this in print, in px; beside the card there is less room. */
const PRINTED = 670;
const PRINTED_BESIDE = 248;
/** As high as the card, so that page one keeps to one page. */
const PRINTED_BESIDE_HEIGHT = 400;
/** Small multiples are drawn lower on paper than on a screen: their panels bear it, their words stay. */
const LOWER: Readonly<Record<string, number>> = { budget: 0.85, laps: 0.85, power: 0.8 };

/** Figures as markup by their place, numbered in the order of the list. */
export function figuresAt(
  figures: readonly ListedFigure[],
  ...places: readonly FigurePlace[]
): Html {
  return html`${figures.map((one, i) => (places.includes(placeOf(one)) ? block(one, i) : html``))}`;
}

/** The data element that belongs before the drawing script; only what stands on the page. */
export function figureData(figures: readonly ListedFigure[], places: readonly FigurePlace[]): Html {
  const kept = figures.map((one) => {
    const { data, layout, config } = one.figure;
    return places.includes(placeOf(one)) ? { data, layout, config } : null;
  });
  return trustedHtml(`<script type="application/json" id="figures">${embedJson(kept)}</script>`);
}

function block(one: ListedFigure, index: number): Html {
  const label = withoutControls(`${one.title}. ${one.alt}`);
  const beside = placeOf(one) === 'answer';
  const size = beside
    ? html` data-printed="${PRINTED_BESIDE}" data-printed-height="${PRINTED_BESIDE_HEIGHT}"`
    : html` data-printed="${PRINTED}" data-printed-height="${Math.round(one.height * (LOWER[one.id] ?? 1))}"`;
  return html`<figure>
<figcaption><strong>${one.title}.</strong> ${CAPTIONS[one.id] ?? ''}</figcaption>
<div class="plot" id="plot-${index}" role="img" aria-label="${label}"${size} style="height:${one.height}px"></div>
<noscript><p class="none">${label}</p></noscript>
</figure>`;
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
      window.Plotly.relayout(place, {
        autosize: false,
        width: Number(place.dataset.printed),
        height: Number(place.dataset.printedHeight)
      });
    });
  });
  window.addEventListener('afterprint', function () {
    places.forEach(function (place) {
      window.Plotly.relayout(place, { autosize: true, width: null, height: parseFloat(place.style.height) });
    });
  });
})();`;
