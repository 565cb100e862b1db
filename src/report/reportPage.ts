/** The report: one self-contained page that begins with the answer. */

import { createHash } from 'node:crypto';
import { embedScript } from '../findings/escape.js';
import { FACTORS, RESULT, STUDY } from '../record/recordShapes.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import type { Factors, Result, Study } from '../vocabulary.js';
import { card } from './card.js';
import { cautions } from './cautions.js';
import { evidence, type ReportFigures, sectionsOf } from './evidence.js';
import { DRAW_SCRIPT, figureShelf } from './figureBlock.js';
import { type Html, html, trustedHtml } from './html.js';
import { record } from './record.js';
import { STYLES } from './styles.js';

export interface ReportPageInput {
  readonly study: Study;
  readonly result: Result;
  readonly factors: Factors;
  /** Figures as plain data for the plotting library. */
  readonly figures: ReportFigures;
  /** Source text of the plotting library; set into the page once. */
  readonly plotlyBundle: string;
  /** Versions by name, for example of the package and of Node. */
  readonly versions: Readonly<Record<string, string>>;
}

const INPUT: Shape = {
  fields: {
    study: STUDY,
    result: RESULT,
    factors: FACTORS,
    figures: { fields: {} },
    plotlyBundle: 'text',
    versions: { fields: {} },
  },
};

/**
 * The report as one HTML file that opens without a network, on a phone and on paper.
 *
 * The page allows only its own two scripts to run, by their digests, and no request to anywhere, so
 * that a text from a data file could not act even if it got through as markup.
 *
 * @returns the text of report.html; the same input gives the same bytes
 */
export function reportPage(input: ReportPageInput): string {
  requireShape(input, 'The report', INPUT);
  const { study, result, factors, figures, versions } = input;
  const shelf = figureShelf();
  const body = evidence(study, result, figures, shelf);
  const library = embedScript(input.plotlyBundle);
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy([library, DRAW_SCRIPT])}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${result.title} – comparison report</title>
<style>${trustedHtml(STYLES)}</style>
</head>
<body>
<header>
<p class="kicker">Comparison report, not a certificate</p>
<h1>${result.title}</h1>
<p>How <strong>${result.candidate}</strong> (candidate) compares with <strong>${result.reference}</strong> (reference), and what to multiply its readings by.</p>
<noscript><p class="notice">Scripts are off, so the figures are not drawn. Every number stands in the tables.</p></noscript>
</header>
<main>
${card(study, result)}
${cautions(factors)}
${contents(result)}
${body}
${record(study, result, versions)}
</main>
<footer><p class="small">End of the comparison report. Not a certificate; not a classification of any laser.</p></footer>
${shelf.data()}
<!-- The next script is plotly.js. Copyright Plotly, Inc. MIT licence. -->
<script>${trustedHtml(library)}</script>
<script>${trustedHtml(DRAW_SCRIPT)}</script>
</body>
</html>
`;
  return page.markup;
}

function contents(result: Result): Html {
  return html`<nav aria-label="Contents"><ul>${sectionsOf(result).map(([id, name]) => html`<li><a href="#${id}">${name}</a></li>`)}</ul></nav>`;
}

/** Nothing from anywhere; scripts only with these digests; styles in the page. */
function policy(scripts: readonly string[]): string {
  const digests = scripts.map(
    (script) => `'sha256-${createHash('sha256').update(script, 'utf8').digest('base64')}'`,
  );
  return `default-src 'none'; script-src ${digests.join(' ')}; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'`;
}
