/** The sheet for the bench, from Markdown to a page to print. */
import MarkdownIt from 'markdown-it';
import { escapeHtml } from './escape.js';
import { FONT } from './font.js';

const markdown = new MarkdownIt({ html: false, typographer: false });

/** The sheet as HTML, every text in it escaped. */
export function runSheetHtml(text: string): string {
  // A box to tick stands in the place of the bullet.
  return markdown
    .render(text.replace(/^- \[ \] /gm, '- ☐ '))
    .replace(/<ul>(?=\s*<li>☐)/g, '<ul style="list-style:none;padding-left:0.5em">');
}

export function runSheetPage(title: string, text: string): string {
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(title)}</title>
<style>
body { font: 11pt/1.4 ${FONT}; max-width: 60em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.5em; } h2 { font-size: 1.15em; } h2, h2 + p { break-after: avoid; }
table { border-collapse: collapse; width: 100%; } thead { display: table-header-group; }
th, td { border: 1px solid #555; padding: 0.3em 0.5em; height: 1.5em; text-align: left; }
table, tr { break-inside: avoid; } li { margin: 0.2em 0; }
@media screen and (max-width: 45em) { table { display: block; overflow-x: auto; } }
@page { size: A4; margin: 14mm; }
</style></head><body>
${runSheetHtml(text)}</body></html>
`;
}
