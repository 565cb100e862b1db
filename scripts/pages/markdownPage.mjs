// An executed notebook as a page to read: prose as it is, code, and what each cell showed.
import { createHash } from 'node:crypto';
import { posix } from 'node:path';
import { htmlToMarkdown } from './htmlToMarkdown.mjs';

/** Code of more lines is folded away. */
const MOST_LINES = 4;

/**
 * @param {{ cells: readonly {
 *   cell_type: string, source: string | readonly string[], outputs?: readonly any[] }[] }} run
 * @param {object} places all with `/`, counted from the project's folder
 * @param {string} places.notebook `notebooks/1-plan.ipynb`
 * @param {string} places.page `docs/notebooks/1-plan.md`
 * @param {ReadonlyMap<string, string>} places.pages by notebook, its page
 * @param {(path: string) => boolean} places.isThere whether the project has such a file
 * @param {(text: string) => string} places.clean takes out what changes from run to run
 * @returns {{ markdown: string, figures: readonly {
 *   id: string, title: string, alt: string, figure: any, height: number }[] }}
 */
export function markdownPage(run, places) {
  const figures = [];
  const blocks = run.cells.flatMap((cell) => {
    const source = textOf(cell.source).trim();
    if (cell.cell_type !== 'code') return [withLinks(source, places)];
    const shown = (cell.outputs ?? []).map((output) => outputBlock(output, figures, places));
    return [codeBlock(source), ...shown];
  });
  const [first = '', ...rest] = blocks.filter((one) => one !== '');
  const [title, ...below] = first.split('\n');
  const whence = `*The notebook ${linked(places.notebook, places)}, run from top to bottom.*`;
  const page = [title, whence, below.join('\n').trim(), ...rest].filter((one) => one !== '');
  return { markdown: `${page.join('\n\n')}\n`, figures };
}

/**
 * The list of all pages.
 *
 * @param {readonly { heading: string, pages: readonly {
 *   title: string, link: string, does: string }[] }[]} parts
 */
export function indexPage(parts) {
  const lists = parts.map(({ heading, pages }) => {
    const lines = pages.map(({ title, link, does }) => `- [${title}](${link}): ${does}`);
    return `## ${heading}\n\n${lines.join('\n')}`;
  });
  const head = `# Notebooks and lessons, to read

Each page is a notebook as it comes out, with its tables, sentences and figures, on the invented studies of the project. \`npm run pages\` makes them, \`npm run notebooks\` opens the notebooks themselves. Code of more than ${MOST_LINES} lines is folded away.`;
  return `${[head, ...lists].join('\n\n')}\n`;
}

/** Title of a notebook and the first sentence of what one does in it. */
export function aboutNotebook({ cells }) {
  const first = textOf(cells[0]?.source ?? '');
  return {
    title: /^# (.+)$/m.exec(first)?.[1] ?? '',
    does: /^\*\*Do\.\*\* (.+?[.?!])(?: |$)/m.exec(first)?.[1] ?? '',
  };
}

const textOf = (text) => (typeof text === 'string' ? text : text.join(''));

function codeBlock(source) {
  const lines = source.split('\n').length;
  const fenced = `\`\`\`ts\n${source}\n\`\`\``;
  if (lines <= MOST_LINES) return fenced;
  return `<details><summary>Code (${lines} lines)</summary>\n\n${fenced}\n\n</details>`;
}

function outputBlock(output, figures, places) {
  if (output.output_type === 'stream') {
    return `\`\`\`text\n${places.clean(textOf(output.text)).trimEnd()}\n\`\`\``;
  }
  const html = places.clean(textOf(output.data['text/html'] ?? ''));
  const drawn = FIGURE.exec(html);
  if (drawn !== null) return figureBlock(drawn, output, figures, places);
  if (html.includes('<script')) throw new Error('A cell shows a script that draws no figure.');
  return quoted(htmlToMarkdown(html));
}

/** What a cell says is set off from the prose; its tables need no mark. */
function quoted(markdown) {
  const blocks = markdown.split('\n\n');
  const isTable = (block = '') => block.startsWith('|');
  const isCaption = (block, i) => block.startsWith('**') && isTable(blocks[i + 1]);
  return blocks
    .map((one, i) => (isTable(one) || isCaption(one, i) ? one : one.replaceAll(/^/gm, '> ')))
    .join('\n\n')
    .replaceAll(/^(>.*)\n\n(?=>)/gm, '$1\n>\n');
}

/** As src/notebook/figureHtml.ts writes it. */
const FIGURE = /aria-label="([^"]*)"><p>[^<]*<\/p><\/div><script>[\s\S]*?\bvar drawing = (.*);\n/;

function figureBlock([, label, json], output, figures, { page }) {
  const figure = JSON.parse(json);
  const name = posix.basename(page, '.md');
  const id = `${name}-${figures.length + 1}-${digest(figure)}`;
  const title = textOf(output.data['text/plain']).replace('[figure] ', '').trim();
  const alt = htmlToMarkdown(`<p>${label}</p>`);
  const height = figure.layout.height;
  figures.push({ id, title, alt, figure, height });
  return `![${alt}](figures/${id}.png)`;
}

/**
 * Tells whether a kept picture is of these numbers, in whatever order a record has its fields. Six
 * digits: the last ones of exp and log differ between versions of Node.
 */
function digest(figure) {
  const rounded = JSON.stringify(figure, (_, value) => {
    if (typeof value === 'number') {
      return Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(6));
    }
    if (value === null || typeof value !== 'object' || Array.isArray(value)) return value;
    return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
  return createHash('sha256').update(rounded).digest('hex').slice(0, 8);
}

/** Links lead from the page; a named document of the project or another notebook becomes a link. */
function withLinks(prose, places) {
  const here = posix.dirname(places.notebook);
  const named = new Map(
    [...places.pages.keys()].map((path) => [posix.basename(path, '.ipynb'), path]),
  );
  return prose
    .replaceAll(/\]\((?![a-z]+:|#)([^)#\s]+)(#[^)\s]*)?\)/g, (_, path, anchor = '') => {
      return `](${fromPage(posix.join(here, path), places)}${anchor})`;
    })
    .replaceAll(/(?<!\[)`([\w./-]+)`(?!\])/g, (whole, text) => {
      const path = named.get(text.replace(/^lessons\//, ''));
      if (path === places.notebook) return whole;
      if (path !== undefined) return `[\`${text}\`](${fromPage(path, places)})`;
      const isDocument = text.startsWith('docs/') && places.isThere(text);
      return isDocument ? `[\`${text}\`](${fromPage(text, places)})` : whole;
    });
}

function fromPage(path, { page, pages }) {
  return posix.relative(posix.dirname(page), pages.get(path) ?? path);
}

/** A link to the file itself, not to its page. */
function linked(path, { page }) {
  return `[\`${path}\`](${posix.relative(posix.dirname(page), path)})`;
}
