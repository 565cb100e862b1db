import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { show, showSentences } from '../../src/notebook/display.js';
import { figureHtml } from '../../src/notebook/figureHtml.js';
import { tableHtml } from '../../src/notebook/tableHtml.js';

// The data frames take a while to load; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 120_000 });

describe('tableHtml', () => {
  test('sets columns of numbers right and texts left', () => {
    const html = tableHtml([
      { run: 1, note: 'cold' },
      { run: 2, note: null },
    ]);
    expect(html.match(/<th style="text-align:(\w+)/g)).toEqual([
      '<th style="text-align:right',
      '<th style="text-align:left',
    ]);
  });

  test('parts no number from its uncertainty and no date at the end of a line', () => {
    const html = tableHtml([{ K: '1.216 ± 0.045', day: '2025-01-20', note: 'two words' }]);
    const whole = [...html.matchAll(/<td[^>]*white-space:nowrap[^>]*>([^<]*)/g)];
    expect(whole.map(([, text]) => text)).toEqual(['1.216 ± 0.045', '2025-01-20']);
  });

  test('lets no text become markup, whatever it is', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (key, value) => {
        const html = tableHtml([{ [`k${key}`]: value }]);
        const tags = html.match(/<[^>]*>/g) ?? [];
        // Seven elements of our own, opened and closed.
        expect(tags).toHaveLength(14);
      }),
      { seed: 20, numRuns: 200 },
    );
  });

  test('survives an empty table', () => {
    expect(tableHtml([])).toContain('<tbody></tbody>');
  });
});

describe('figureHtml', () => {
  const figure = {
    data: [{ x: ['</script><script>alert(1)</script>'], y: [1] }],
    layout: { title: { text: '<!-- \u2028' } },
    title: 'A "quoted" title',
    alt: '<b>words</b>',
  };

  test('lets no text of the figure end the script', () => {
    const html = figureHtml(figure);
    expect(html.match(/<\/script/g)).toHaveLength(1);
    expect(html).not.toContain('<!--');
    expect(html).not.toContain('<b>');
  });

  test('is as wide as its words need, also in a narrow output', () => {
    // All figures of the notebooks were drawn so wide without a word cut off.
    expect(figureHtml(figure)).toContain('style="min-width:360px"');
  });

  test('carries its words for those who cannot see it', () => {
    expect(figureHtml(figure)).toContain(
      'aria-label="A &quot;quoted&quot; title. &lt;b&gt;words&lt;/b&gt;"',
    );
  });

  test('gives the same bytes for the same figure and another name for another one', () => {
    expect(figureHtml(figure)).toBe(figureHtml({ ...figure }));
    const name = (html: string) => /figure-[0-9a-f]+/.exec(html)?.[0];
    expect(name(figureHtml(figure))).not.toBe(name(figureHtml({ ...figure, data: [] })));
  });
});

test('a label of a figure is escaped once, whatever the figure made of it', () => {
  // Texts of a figure are safe for the plotting library already: < stands there as &lt;
  const html = figureHtml({ data: [], layout: {}, title: 'A &lt;b&gt; &amp; c', alt: 'd' });
  expect(html).toContain('aria-label="A &lt;b&gt; &amp; c. d"');
  expect(html).not.toContain('&amp;lt;');
});

test('showing outside a notebook is refused in words', () => {
  expect(() => showSentences(['text'])).toThrow(/inside a notebook cell/);
  expect(() => show({ data: [], layout: {}, title: '', alt: '' })).toThrow();
});
