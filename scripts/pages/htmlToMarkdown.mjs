// The HTML that cells show, as Markdown. It knows the elements that this package writes and no others.

const ENTITIES = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'", nbsp: '\u00a0' };
const BLOCK = /<(p|h[1-6]|table|ul|ol)\b([^>]*)>([\s\S]*?)<\/\1>/g;

/**
 * Paragraphs, headings (as bold lines: the page's outline is that of its prose), lists and tables.
 *
 * @param {string} html
 * @returns {string} blocks with an empty line between them
 * @throws Error for an element that it does not know
 */
export function htmlToMarkdown(html) {
  const blocks = [];
  let end = 0;
  for (const match of html.matchAll(BLOCK)) {
    blocks.push(inline(html.slice(end, match.index)), block(match[1], match[3]));
    end = match.index + match[0].length;
  }
  blocks.push(inline(html.slice(end)));
  return blocks.filter((one) => one !== '').join('\n\n');
}

function block(name, inside) {
  if (name === 'p') return atStart(inline(inside));
  if (name === 'table') return table(inside);
  if (name === 'ul' || name === 'ol') {
    const items = [...inside.matchAll(/<li\b[^>]*>([\s\S]*?)<\/li>/g)];
    return items
      .map(([, text], i) => `${name === 'ul' ? '-' : `${i + 1}.`} ${atStart(inline(text))}`)
      .join('\n');
  }
  return `**${inline(inside)}**`;
}

/** A caption becomes a bold line; a column is set right as its head is. */
function table(inside) {
  const caption = /<caption\b[^>]*>([\s\S]*?)<\/caption>/.exec(inside)?.[1];
  const rows = [...inside.matchAll(/<tr\b[^>]*>([\s\S]*?)<\/tr>/g)].map(([, row]) =>
    [...row.matchAll(/<t([hd])\b([^>]*)>([\s\S]*?)<\/t\1>/g)].map(([, , style, text]) => ({
      right: style.includes('text-align:right'),
      text: inline(text).replaceAll('|', '\\|'),
    })),
  );
  const [head = [], ...body] = rows;
  const line = (cells) => `| ${cells.join(' | ')} |`;
  const lines = [
    line(head.map((cell) => cell.text)),
    line(head.map((cell) => (cell.right ? '---:' : '---'))),
    ...body.map((row) => line(row.map((cell) => cell.text))),
  ].join('\n');
  return caption === undefined ? lines : `**${inline(caption)}**\n\n${lines}`;
}

const MARKS = { strong: '**', b: '**', em: '*', i: '*' };

/** Text with its emphasis, code and links; what a link only holds for downloading is left out. */
function inline(html) {
  const links = [];
  return html
    .split(/(<code>[\s\S]*?<\/code>|<[^>]*>)/)
    .map((part) => {
      const code = /^<code>([\s\S]*)<\/code>$/.exec(part)?.[1];
      if (code !== undefined) return `\`${decode(code)}\``;
      return part.startsWith('<') ? tag(part, links) : escapeMarkdown(decode(part));
    })
    .join('')
    .replaceAll(/[ \t\n]+/g, ' ')
    .trim();
}

function tag(element, links) {
  const [, closing, name] = /^<(\/?)(\w+)/.exec(element) ?? [];
  if (name === 'br') return '<br>';
  if (name === 'sup' || name === 'sub') return element;
  if (MARKS[name] !== undefined) return MARKS[name];
  if (name !== 'a') throw new Error(`There is no Markdown for ${element.slice(0, 80)}.`);
  if (closing !== '/') {
    const address = /\shref="([^"]*)"/.exec(element)?.[1] ?? '';
    links.push(address.startsWith('data:') ? '' : decode(address));
    return links.at(-1) === '' ? '' : '[';
  }
  const address = links.pop() ?? '';
  return address === '' ? '' : `](${address})`;
}

function decode(html) {
  return html.replaceAll(/&(amp|lt|gt|quot|#39|nbsp);/g, (_, name) => ENTITIES[name]);
}

/** What would be read as a mark inside a line; an underscore inside a word is none. */
export function escapeMarkdown(text) {
  return text
    .replaceAll(/[\\*`[\]~$]/g, (mark) => `\\${mark}`)
    .replaceAll(/(?<![\p{L}\p{N}_])_(?=[\p{L}\p{N}])|(?<=[\p{L}\p{N}])_(?![\p{L}\p{N}_])/gu, '\\_')
    .replaceAll(/&(?=#?\w+;)/g, '&amp;')
    .replaceAll('<', '&lt;');
}

/** What would begin a heading, a quotation, a list or a rule at the start of a line. */
function atStart(text) {
  return text.replace(/^(?:[#>+-]|_{3,}\s*$)/, '\\$&').replace(/^(\d+)([.)]) /, '$1\\$2 ');
}
