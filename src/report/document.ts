/** The frame of every page: head, look, header, end, and what may run in it. */
import { createHash } from 'node:crypto';
import type { ListedFigure } from '../figures/reportFigures.js';
import { embedScript } from '../findings/escape.js';
import { reportId } from '../findings/reportId.js';
import type { Result } from '../vocabulary.js';
import { DRAW_SCRIPT, type FigurePlace, figureData } from './figureBlock.js';
import { type Html, html, trustedHtml } from './html.js';
import { pageMarks, STYLES } from './styles.js';

export interface PageFrame {
  readonly result: Result;
  /** What the page is: "Comparison report". */
  readonly kind: string;
  readonly main: Html;
  readonly styles?: string;
  /** Figures of these places, drawn by this library; none when left out. */
  readonly drawing?: {
    readonly figures: readonly ListedFigure[];
    readonly places: readonly FigurePlace[];
    readonly library: string;
  };
}

/**
 * A page as one HTML file that opens without a network, on a phone and on paper.
 *
 * It allows only its own scripts to run, by their digests, and no request to anywhere, so that a text
 * from a data file could not act even if it got through as markup.
 */
export function pageOf({ result, kind, main, styles = '', drawing }: PageFrame): string {
  const library = drawing === undefined ? null : embedded(drawing.library);
  const digests = library === null ? [] : [library.digest, digestOf(DRAW_SCRIPT)];
  const id = reportId(result);
  const page = html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${trustedHtml(policy(digests).replaceAll("'", '&#39;'))}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${result.title} – ${kind.toLowerCase()}</title>
<style>${trustedHtml(STYLES + pageMarks(`${kind} ${id}`) + styles)}</style>
</head>
<body>
<main>
${main}
</main>
`;
  const end = '</body>\n</html>\n';
  if (drawing === undefined || library === null) return page.markup + end;
  const before = html`${figureData(drawing.figures, drawing.places)}
<!-- The next script is plotly.js. Copyright Plotly, Inc. MIT licence. -->
<script>`;
  const after = html`</script>
<script>${trustedHtml(DRAW_SCRIPT)}</script>
`;
  return page.markup + before.markup + library.script + after.markup + end;
}

interface EmbeddedScript {
  readonly library: string;
  readonly script: string;
  readonly digest: string;
}

let last: EmbeddedScript | null = null;

/** A library of a megabyte as it stands in a page; made once for all pages of a run. */
function embedded(library: string): EmbeddedScript {
  if (last?.library !== library) {
    const script = embedScript(library);
    last = { library, script, digest: digestOf(script) };
  }
  return last;
}

function digestOf(script: string): string {
  return createHash('sha256').update(script, 'utf8').digest('base64');
}

/** Nothing from anywhere; scripts only with these digests; styles in the page. */
function policy(digests: readonly string[]): string {
  const allowed =
    digests.length === 0 ? "'none'" : digests.map((one) => `'sha256-${one}'`).join(' ');
  return `default-src 'none'; script-src ${allowed}; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'`;
}
