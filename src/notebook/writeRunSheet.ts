import { mkdir, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import MarkdownIt from 'markdown-it';
import { argumentWrong } from '../error.js';
import { escapeHtml } from '../findings/escape.js';
import { runSheet } from '../plan/runSheet.js';
import { type RunSheetTextOptions, runSheetText } from '../plan/runSheetText.js';

export interface WrittenRunSheet {
  readonly folder: string;
  /** Paths of runs.csv and of the page to print. */
  readonly files: readonly string[];
  /** The sheet as HTML, every text in it escaped: to show below a cell. */
  readonly html: string;
}

const markdown = new MarkdownIt({ html: false, typographer: false });

/**
 * Writes the plan of a measurement: runs.csv with empty cells, and the sheet to print for the bench.
 * A file that is there already and says something else is left alone: it may hold readings.
 *
 * @param options.folder where to; `null`: a fresh folder under the system's temporary folder
 * @throws argument-wrong as `runSheet` and `runSheetText`, and for a file that is there already
 */
export async function writeRunSheet({
  folder: wanted,
  ...options
}: RunSheetTextOptions & { readonly folder: string | null }): Promise<WrittenRunSheet> {
  const html = sheetHtml(runSheetText(options));
  const contents = {
    'runs.csv': runSheet(options),
    'run-sheet.html': sheetPage(options.title ?? 'Run sheet', html),
  };
  const folder = wanted ?? (await mkdtemp(join(tmpdir(), 'meterpair-plan-')));
  await mkdir(folder, { recursive: true });
  const files = Object.entries(contents).map(([name, text]) => ({
    path: join(folder, name),
    text,
  }));
  for (const { path, text } of files) {
    const there = await contentOf(path);
    if (there === null || there === text) continue;
    throw argumentWrong(
      'This file is there already and may hold readings; nothing was written.',
      path,
      'another folder, or the file moved away first',
    );
  }
  for (const { path, text } of files) await writeFile(path, text);
  return { folder, files: files.map(({ path }) => path), html };
}

async function contentOf(path: string): Promise<string | null> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

function sheetHtml(text: string): string {
  // A box to tick stands in the place of the bullet.
  return markdown
    .render(text.replace(/^- \[ \] /gm, '- ☐ '))
    .replace(/<ul>(?=\s*<li>☐)/g, '<ul style="list-style:none;padding-left:0.5em">');
}

function sheetPage(title: string, html: string): string {
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(title)}</title>
<style>
body { font: 11pt/1.4 system-ui, "Segoe UI", "DejaVu Sans", sans-serif; max-width: 60em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.5em; } h2 { font-size: 1.15em; break-after: avoid; }
table { border-collapse: collapse; width: 100%; } thead { display: table-header-group; }
th, td { border: 1px solid #555; padding: 0.3em 0.5em; height: 1.5em; text-align: left; }
tr { break-inside: avoid; } li { margin: 0.2em 0; }
@page { size: A4; margin: 14mm; }
</style></head><body>
${html}</body></html>
`;
}
