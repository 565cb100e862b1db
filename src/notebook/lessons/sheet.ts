import { join } from 'node:path';
import MarkdownIt from 'markdown-it';
import { escapeHtml } from '../../findings/escape.js';
import { FONT } from '../../findings/font.js';
import { showHtml } from '../display.js';
import { type Notebook, readNotebook, sourceText } from '../notebookFile.js';

const markdown = new MarkdownIt({ html: false, typographer: false });

/**
 * Shows a link to the lesson as one sheet of paper: prediction, exercise and ten readings of one's
 * own, with room to write. The page is in the link itself; nothing is written to the disk.
 *
 * @param name of the notebook, without its ending, in the working folder
 * @param question of the exercise as it was posed, numbers of one's own included
 * @throws file-unreadable
 */
export async function sheet(name: string, question: string): Promise<void> {
  const page = sheetPage(await readNotebook(join(process.cwd(), `${name}.ipynb`)), question);
  const data = Buffer.from(page).toString('base64');
  const file = `${name}.html`;
  showHtml(
    `<p><a download="${escapeHtml(file)}" href="data:text/html;charset=utf-8;base64,${data}">This lesson as a sheet to print: ${escapeHtml(file)}</a></p>`,
  );
}

/** The sheet as a page of its own, one side of A4. */
export function sheetPage(notebook: Notebook, question: string): string {
  const prose = (id: string) => {
    const cell = notebook.cells.find((one) => one.id === id);
    return cell === undefined ? [] : sourceText(cell).split(/\n{2,}/);
  };
  const [title = '', todo = ''] = prose('opening');
  const name = title.replace(/^#\s*/, '');
  // The last paragraph says what to type, which paper has no use for.
  const asked = prose('predict-heading').slice(1, -1).join('\n\n');
  const row = `<tr>${'<td></td>'.repeat(4)}</tr>`;
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(name)}</title>
<style>
body { font: 10.5pt/1.35 ${FONT}; max-width: 46em; margin: 1em auto; }
h1 { font-size: 1.5em; margin: 0 0 0.3em; } h2 { font-size: 1.1em; margin: 0.9em 0 0.2em; } p { margin: 0.3em 0; }
.room { border: 1px solid #555; height: 4.2em; margin: 0.4em 0; padding: 0.2em 0.5em; color: #555; font-size: 0.85em; }
.line { border-bottom: 1px solid #555; height: 1.7em; }
table { border-collapse: collapse; width: 100%; } th, td { border: 1px solid #555; height: 1.35em; padding: 0 0.5em; text-align: left; font-weight: normal; }
@page { size: A4; margin: 13mm; }
</style></head><body>
<h1>${escapeHtml(name)}</h1>
<p>Name ____________________________ Date ______________</p>
${markdown.render(todo)}
<h2>Your prediction</h2>
${markdown.render(asked)}
<div class="room">I expect, and because:</div>
<div class="room">What came out, and what I had not thought of:</div>
<h2>Exercise</h2>
<p>${escapeHtml(question)}</p>
<div class="room" style="height:6em">How I found it:</div>
<h2>Ten readings of our own</h2>
<p>Where and with what: ____________________________________________ all in ______ (unit)</p>
<table><tr><th>lap</th><th>reference</th><th>candidate</th><th>what happened, written at once</th></tr>
${Array.from({ length: 10 }, (_, i) => row.replace('<td></td>', `<td>${i + 1}</td>`)).join('\n')}</table>
<p>What we found, with its uncertainty:</p><div class="line"></div>
<p>What cannot be shown with these readings:</p><div class="line"></div>
<p><small>Eyewear for every wavelength in the beam; IEC 60825-1, local rules and a laser safety officer decide, not this sheet.</small></p>
</body></html>
`;
}
