import { readdirSync, readFileSync, statSync } from 'node:fs';
import { posix } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { htmlToMarkdown } from '../../scripts/pages/htmlToMarkdown.mjs';
import { aboutNotebook, indexPage, markdownPage } from '../../scripts/pages/markdownPage.mjs';
import { readPng, smallPng } from '../../scripts/pages/smallPng.mjs';
import { figureHtml } from '../../src/notebook/figureHtml.js';
import { tableHtml } from '../../src/notebook/tableHtml.js';

const places = {
  notebook: 'notebooks/lessons/9-tiny.ipynb',
  page: 'docs/lessons/9-tiny.md',
  pages: new Map([
    ['notebooks/1-first.ipynb', 'docs/notebooks/1-first.md'],
    ['notebooks/lessons/9-tiny.ipynb', 'docs/lessons/9-tiny.md'],
  ]),
  isThere: (path: string) => path === 'docs/guide.md',
  clean: (text: string) => text.replaceAll('/secret/', ''),
};
const shown = (html: string, plain = '') => ({
  output_type: 'display_data',
  data: { 'text/html': [html], 'text/plain': plain },
});

const FIGURE = {
  data: [{ x: [1, 2], y: [0.1 + 0.2, 4] }],
  layout: { height: 300 },
  title: 'K < 1',
  alt: 'Two points [a, b].',
};

function tiny(y = 0.1 + 0.2) {
  const figure = { ...FIGURE, data: [{ x: [1, 2], y: [y, 4] }] };
  const rows = [{ nm: 405, word: 'a | b_c', K: '0.912 ± 0.011' }];
  const prose =
    '# Tiny\n\n**Do.** Look. Again.\n\nSee `1-first`, `docs/guide.md`, [csv](../x.csv).';
  return markdownPage(
    {
      cells: [
        { cell_type: 'markdown', source: prose },
        {
          cell_type: 'code',
          source: 'const a = 1;\nshow(a);',
          outputs: [shown(`<p>1 * 2</p>${tableHtml(rows)}<p>So.</p><ol><li>a</li><li>b</li></ol>`)],
        },
        {
          cell_type: 'code',
          source: ['a\n', 'b\n', 'c\n', 'd\n', 'e\n'],
          outputs: [
            shown(`<script>bundle</script>${figureHtml(figure)}`, '[figure] K < 1'),
            { output_type: 'stream', name: 'stdout', text: ['at /secret/place\n'] },
          ],
        },
      ],
    },
    places,
  );
}

test('a tiny notebook becomes the page that was written by hand', () => {
  const { markdown, figures } = tiny();
  const id = figures[0]?.id ?? '';
  expect(id).toMatch(/^9-tiny-1-[0-9a-f]{8}$/);
  expect(figures).toMatchObject([{ title: 'K < 1', height: 300, figure: { data: FIGURE.data } }]);
  expect(markdown).toBe(`# Tiny

*The notebook [\`notebooks/lessons/9-tiny.ipynb\`](../../notebooks/lessons/9-tiny.ipynb), run from top to bottom.*

**Do.** Look. Again.

See [\`1-first\`](../notebooks/1-first.md), [\`docs/guide.md\`](../guide.md), [csv](../../notebooks/x.csv).

\`\`\`ts
const a = 1;
show(a);
\`\`\`

> 1 \\* 2

| nm | word | K |
| ---: | --- | ---: |
| 405 | a \\| b_c | 0.912 ± 0.011 |

> So.
>
> 1. a
> 2. b

<details><summary>Code (5 lines)</summary>

\`\`\`ts
a
b
c
d
e
\`\`\`

</details>

![K &lt; 1. Two points \\[a, b\\].](figures/${id}.png)

\`\`\`text
at place
\`\`\`
`);
});

test('a picture changes its name with its numbers, but not with their last digits', () => {
  const id = (y: number) => tiny(y).figures[0]?.id;
  expect(id(0.3)).toBe(id(0.1 + 0.2));
  expect(id(0.3001)).not.toBe(id(0.3));
});

test('what cells show is read as text, and an unknown element is an error', () => {
  expect(htmlToMarkdown('<h1>One</h1>\n<p>1 * 2 &lt; 3 &amp; <em>so</em></p>')).toBe(
    '**One**\n\n1 \\* 2 &lt; 3 & *so*',
  );
  expect(htmlToMarkdown('<ol><li># a</li><li>- b</li></ol><p>2. c</p>')).toBe(
    '1. \\# a\n2. \\- b\n\n2\\. c',
  );
  expect(htmlToMarkdown('<p>A ____ <code>a_b*</code> &amp;lt;</p>')).toBe('A ____ `a_b*` &amp;lt;');
  expect(htmlToMarkdown('<p><a download="s.html" href="data:,x">Sheet</a></p>')).toBe('Sheet');
  expect(() => htmlToMarkdown('<p><video></video></p>')).toThrow('video');
});

test('the index has one line for each', () => {
  const about = aboutNotebook({ cells: [{ source: '# T\n\n**Do.** Look at it. Then go.' }] });
  expect(about).toEqual({ title: 'T', does: 'Look at it.' });
  const index = indexPage([{ heading: 'Lessons', pages: [{ ...about, link: 't.md' }] }]);
  expect(index).toContain('## Lessons\n\n- [T](t.md): Look at it.\n');
});

/** A PNG of RGBA rows, each with its filter byte, as clause 5 of the PNG recommendation has it. */
function png(width: number, rows: readonly (readonly number[])[]): Buffer {
  const chunk = (name: string, data: Buffer) => {
    const out = Buffer.alloc(12 + data.length);
    out.writeUInt32BE(data.length);
    out.write(name, 4, 'latin1');
    data.copy(out, 8);
    out.writeUInt32BE(crc32(out.subarray(4, 8 + data.length)), 8 + data.length);
    return out;
  };
  const header = Buffer.from([0, 0, 0, width, 0, 0, 0, rows.length, 8, 6, 0, 0, 0]);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.from(rows.flat()))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

test('a small picture has the pixels of the large one, on white, whatever filter its rows used', () => {
  // Two pixels a row, by hand: red and half-transparent black; then sums with left, above, mean, Paeth.
  const rows = [
    [0, 255, 0, 0, 255, 0, 0, 0, 51],
    [1, 10, 20, 30, 255, 1, 2, 3, 0],
    [2, 1, 1, 1, 0, 1, 1, 1, 0],
    [3, 0, 0, 0, 128, 0, 0, 0, 0],
    [4, 1, 0, 0, 0, 0, 1, 0, 0],
  ];
  const byHand = [0xff0000, 0xcccccc, 0x0a141e, 0x0b1621, 0x0b151f, 0x0c1722, 0x050a0f, 0x081018];
  // Row 5: Paeth of (0, 5, 0) is 5 for the first pixel; of the second, left 6, above 8, corner 5: 8.
  const last = [0x060a0f, 0x081118];
  const small = smallPng(png(2, rows));
  expect([...readPng(png(2, rows)).pixels]).toEqual([...byHand, ...last]);
  expect(readPng(small)).toEqual(readPng(png(2, rows)));
  expect(small[25]).toBe(3);
});

test('with more than 256 colours the rarest go to their nearest', () => {
  // White in each row, and 400 colours once each, of which 255 find room: 127 pairs and one more.
  const rows = Array.from({ length: 200 }, (_, y) =>
    [[0], [255, 255, 255, 255], [y, 0, 7, 255], [y, 90, 7, 255]].flat(),
  );
  const { pixels } = readPng(smallPng(png(3, rows)));
  expect(new Set(pixels).size).toBe(256);
  expect([...pixels.slice(0, 3)]).toEqual([0xffffff, 0x000007, 0x005a07]);
  expect([...pixels.slice(-3)]).toEqual([0xffffff, 0x7f0007, 0x7e5a07]);
  expect(() => readPng(Buffer.alloc(60))).toThrow('no PNG');
});

const root = new URL('../../', import.meta.url);
const kept = ['docs/notebooks', 'docs/lessons'].flatMap((folder) =>
  readdirSync(new URL(folder, root))
    .filter((name) => name.endsWith('.md'))
    .map((name) => `${folder}/${name}`),
);
const pageOf = (name: string) => readFileSync(new URL(name, root), 'utf8');

test('each notebook has its page, and the index leads to all of them', () => {
  const names = (folder: string) =>
    readdirSync(new URL(folder, root)).filter((name) => name.endsWith('.ipynb'));
  const wanted = [
    'docs/notebooks/README.md',
    ...names('notebooks').map((name) => `docs/notebooks/${name.replace('.ipynb', '.md')}`),
    ...names('notebooks/lessons').map((name) => `docs/lessons/${name.replace('.ipynb', '.md')}`),
  ];
  expect([...kept].sort()).toEqual([...wanted].sort());
  const index = pageOf('docs/notebooks/README.md');
  const listed = [...index.matchAll(/\]\(([^)]*)\)/g)].map(([, to = '']) => to);
  expect(listed.map((to) => posix.join('docs/notebooks', to)).sort()).toEqual(
    wanted.slice(1).sort(),
  );
});

test.each(kept)('%s leads nowhere that is not there, and weighs at most 400 KB', (name) => {
  const text = pageOf(name).replaceAll(/^```[\s\S]*?^```$/gm, '');
  const targets = [...text.matchAll(/(?<!\\)\]\((?![a-z]+:)([^)#]+)(?:#[^)]*)?\)/g)].map(
    ([, to = '']) => new URL(to, new URL(name, root)),
  );
  const sizes = targets.map((to) => [to.pathname, statSync(to).size] as const);
  const pictures = sizes.filter(([path]) => path.endsWith('.png'));
  const total = pictures.reduce((sum, [, size]) => sum + size, pageOf(name).length);
  expect(targets.length).toBeGreaterThan(0);
  expect(total).toBeLessThanOrEqual(400 * 1024);
  expect(pageOf(name)).not.toMatch(/file:\/\/|(?<![\w.…])\/(?:tmp|home|root|work|var|Users)\//);
});
