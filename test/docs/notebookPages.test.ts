import { readdirSync, readFileSync, statSync } from 'node:fs';
import { posix } from 'node:path';
import { expect, test } from 'vitest';
import { htmlToMarkdown } from '../../scripts/pages/htmlToMarkdown.mjs';
import { aboutNotebook, indexPage, markdownPage } from '../../scripts/pages/markdownPage.mjs';
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
        { cell_type: 'code', source: 'const a = 1;\nshow(a);', outputs: [shown(tableHtml(rows))] },
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

| nm | word | K |
| ---: | --- | ---: |
| 405 | a \\| b_c | 0.912 ± 0.011 |

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
