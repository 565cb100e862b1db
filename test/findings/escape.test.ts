import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { embedJson, embedScript, escapeHtml, withoutControls } from '../../src/findings/escape.js';
import { html } from '../../src/report/html.js';

describe('escaping', () => {
  it('leaves no character that HTML reads as markup', () => {
    expect(escapeHtml(`<b a="1" c='2'>&`)).toBe('&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp;');
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        expect(escapeHtml(text)).not.toMatch(/[<>"']/);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('embeds JSON that reads back the same and cannot end a script element', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = embedJson(value);
        expect(text).not.toMatch(/[<\u2028\u2029]/);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
      }),
      { seed: 8, numRuns: 300 },
    );
    expect(embedJson('</script><!--')).toBe('"\\u003c/script>\\u003c!--"');
  });

  it('embeds a script that means the same and cannot end its element', () => {
    const code = 'return "</script><!-- </SCRIPT >" + /<\\/script/.source;';
    const safe = embedScript(code);
    expect(safe).not.toMatch(/<\/script|<!--/i);
    expect(new Function(safe)()).toBe(new Function(code)());
  });

  it('takes out what could steer a terminal', () => {
    expect(withoutControls('a\u001b[31mred\u0007\u009b2J\r\nb\u202egnp')).toBe('a[31mred2J bgnp');
  });

  it('escapes every text set into a template, and no markup', () => {
    const part = html`<i>${'<x>'}</i>`;
    expect(html`<p title="${'"'}">${part}${[part, part]}${null}${3}</p>`.markup).toBe(
      '<p title="&quot;"><i>&lt;x&gt;</i><i>&lt;x&gt;</i>\n<i>&lt;x&gt;</i>3</p>',
    );
  });
});
