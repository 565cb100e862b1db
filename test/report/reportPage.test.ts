import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { appendixFigures, reportFigures } from '../../src/figures/index.js';
import { reportPage } from '../../src/report/reportPage.js';
import { STYLES } from '../../src/report/styles.js';
import { exampleFactors, exampleResult, exampleStudy } from './exampleResult.js';
import { type Example, emptyExample, HOSTILE, hostileExample } from './hostile.js';

const BUNDLE = 'window.Plotly = { newPlot: function () {} }; "</script>"; "<!--";';

function pageOf({ study, result, factors }: Example): string {
  return reportPage({
    study,
    result,
    factors,
    figures: [...reportFigures(study, result), ...appendixFigures(study, result)],
    plotlyBundle: BUNDLE,
    versions: { meterpair: '0.1.0', Node: 'v20' },
  });
}

const example = (): Example => ({
  study: exampleStudy(),
  result: exampleResult(),
  factors: exampleFactors(),
});

/** What a reader sees: no scripts, no styles, no tags. */
function visible(page: string): string {
  return page
    .replaceAll(/<(script|style)\b[^>]*>[\s\S]*?<\/\1>/g, ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');
}

describe('the report page', () => {
  const page = pageOf(example());
  const text = visible(page);

  it('is one document in English that gives the same bytes for the same input', () => {
    expect(page.startsWith('<!doctype html>\n<html lang="en">')).toBe(true);
    expect(pageOf(example())).toBe(page);
  });

  it('begins with the answer, then the cautions, then the evidence in the order of the work', () => {
    const order = [
      'Correction card',
      'Before you act on this with a laser',
      'What was measured',
      'The runs in the order they happened',
      'What was left out, and why',
      'How far apart the meters are',
      'Drift, and what the order of runs does',
      'Factors',
      'Where the uncertainty comes from',
      'Before and after the correction',
      'Wavelength settings',
      'Hazard of the sources',
      'Warnings in full',
      'The record',
    ];
    const headings = [...page.matchAll(/<h2[^>]*>([^<]*)/g)].map((match) => match[1]);
    const places = order.map((start) => headings.findIndex((heading) => heading.startsWith(start)));
    expect(places).not.toContain(-1);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  it('states factor, uncertainty, coverage factor, range and verdict on the card', () => {
    const card = visible(page.slice(page.indexOf('id="answer"'), page.indexOf('id="cautions"')));
    expect(card).toMatch(
      /405 nm 1\.1\d\d (± 0\.04\d|1\.\d+ to 1\.\d+) \(± 3\.\d %\) 2\.10 ± 4\.0 % \d+ to \d+ mW correct it/,
    );
    expect(card).toContain('expanded uncertainty U for 95 % confidence');
    expect(card).toContain('Multiply the candidate reading by');
    expect(card).toContain('532 nm: this data cannot tell you.');
    expect(card).toContain('What would: Repeat with a steadier source');
    expect(card).toContain('Tolerance ± 5 % (stated in the study)');
  });

  it('says on the card where a corrected reading is not known to the tolerance', () => {
    const { result, ...rest } = example();
    const wavelengths = result.wavelengths.map((one, i) =>
      i === 0 ? { ...one, corrected_reading_relative_U: 0.074 } : one,
    );
    const other = visible(pageOf({ ...rest, result: { ...result, wavelengths } }));
    expect(other).toMatch(/± 7\.4 % beyond the tolerance/);
    expect(visible(page)).not.toContain('beyond the tolerance');
  });

  it('offers no number to multiply by where the verdict is inconclusive', () => {
    const table = page.slice(page.indexOf('id="answer"'), page.indexOf('</table>'));
    expect(table).not.toContain('532 nm');
  });

  it('says which way the factor goes, what the page is not, and who decides', () => {
    expect(text.match(/K = reference ÷ candidate/g)?.length).toBeGreaterThanOrEqual(2);
    expect(text).toContain('Comparison report, not a certificate');
    expect(text.match(/IEC 60825-1/g)?.length).toBeGreaterThanOrEqual(2);
    expect(text.match(/laser safety officer/g)?.length).toBeGreaterThanOrEqual(2);
    expect(text).toContain('Never look into the beam');
  });

  it('says "relative to this reference only" exactly when the reference states no uncertainty', () => {
    expect(text).not.toContain('relative to this reference only');
    expect(visible(pageOf(emptyExample()))).toContain('relative to this reference only');
  });

  it('names three zones and the label in words', () => {
    expect(text).toContain('Class 4: above the limit of class 3B.');
    expect(text).toContain('below its limit with uncertainty to spare');
    expect(text).toContain('Cannot exclude class 3B');
    expect(text).toContain('more hazardous than labelled');
    expect(text).toContain('may be more hazardous than labelled: treat it as such');
  });

  it('rounds an upper bound of power upwards', () => {
    const { study, result, factors } = example();
    const hazard = result.hazard.map((one) => ({ ...one, upper_mW: 5.00001 }));
    expect(visible(pageOf({ study, factors, result: { ...result, hazard } }))).toContain(
      '5.001 mW',
    );
  });

  it('shows what is needed to check and rerun it', () => {
    expect(text).toContain(exampleResult().data_sha256);
    expect(text).toContain('meterpair 0.1.0, Node v20');
    // Nothing in an analysis is drawn.
    expect(text).not.toMatch(/seed|Monte Carlo/i);
    expect(text).toContain('npm start -- FOLDER --out DIR');
    for (const warning of exampleResult().warnings) expect(text).toContain(warning.code);
  });

  it('has the sections on power, opinions, change and re-checks exactly where there is something to say', () => {
    const parts = ['means', 'power', 'opinions', 'then-and-now', 're-checks'];
    for (const id of parts) {
      expect(page).toContain(`<section id="${id}"`);
      expect(page).toContain(`href="#${id}"`);
    }
    expect(text).toContain('445 nm');
    expect(text).toContain('candidate reads low at the top');
    expect(text).toContain('638 nm, has moved');
    const { study, result, factors } = example();
    const bare = pageOf({
      study,
      factors,
      result: {
        ...result,
        agreement: { ...result.agreement, series: 1 },
        power: { ...result.power, by_wavelength: [] },
        opinions: [],
        then_and_now: null,
        re_checks: null,
      },
    });
    for (const id of parts) {
      expect(bare).not.toContain(`<section id="${id}"`);
      expect(bare).not.toContain(`href="#${id}"`);
    }
  });

  it('puts a contradicted reference, a bend, a moved factor and re-checks out of control on the card', () => {
    const { study, result, factors } = example();
    const warnings = [
      'reference-contradicted',
      'reads-low-at-the-top',
      'factor-moved',
      're-checks-out-of-control',
    ].map((code) => ({ code, message: `About ${code}.` }));
    const card = (shown: typeof result) => {
      const whole = pageOf({ study, factors, result: shown });
      return visible(whole.slice(whole.indexOf('id="answer"'), whole.indexOf('id="cautions"')));
    };
    for (const { message } of warnings) {
      expect(card({ ...result, warnings })).toContain(`Before you use a factor. ${message}`);
    }
    expect(card({ ...result, warnings: [] })).not.toContain('Before you use a factor');
  });

  it('asks nothing of the network', () => {
    const outside = page.replace(BUNDLE, '');
    expect(outside).not.toMatch(/<(link|iframe|img|object|embed|base|form|video|audio)\b/i);
    expect(outside).not.toMatch(/\bsrc\s*=/i);
    expect(outside).not.toMatch(/https?:\/\//i);
    expect(outside).not.toMatch(/@import|url\(/i);
    expect([...page.matchAll(/href="([^"]*)"/g)].every((match) => match[1].startsWith('#'))).toBe(
      true,
    );
  });

  it('lets only its own scripts run, by their digests', () => {
    const scripts = [...page.matchAll(/<script>([\s\S]*?)<\/script>/g)].map((match) => match[1]);
    expect(scripts).toHaveLength(2);
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? '';
    for (const script of scripts) {
      const digest = createHash('sha256').update(script, 'utf8').digest('base64');
      expect(policy.replaceAll('&#39;', "'")).toContain(`'sha256-${digest}'`);
    }
    expect(policy).toContain('default-src &#39;none&#39;');
  });

  it('escapes every text that came from a file, also inside the figures', () => {
    const hostile = pageOf(hostileExample());
    expect(hostile).not.toContain(HOSTILE);
    expect(hostile).not.toContain('<script>window.hacked');
    expect(hostile).not.toMatch(/<img/i);
    expect(hostile.match(/<script/gi)).toHaveLength(3);
    expect(hostile.match(/<\/script/gi)).toHaveLength(3);
    expect(hostile).toContain('&lt;/script&gt;&lt;script&gt;window.hacked=1');
    const figures = /id="figures">([\s\S]*?)<\/script>/.exec(hostile)?.[1] ?? '';
    expect(figures).not.toContain('<');
    // Inside the figures the text is escaped once more, for the plotting library's own markup.
    expect(JSON.stringify(JSON.parse(figures))).not.toMatch(/<(script|img)/i);
    expect(figures.length).toBeGreaterThan(1000);
  });

  it('never shows null, NaN, undefined or Infinity, with everything missing', () => {
    const bare = visible(pageOf(emptyExample()));
    expect(bare).not.toMatch(/\b(null|NaN|undefined|Infinity)\b/);
    expect(text).not.toMatch(/\b(null|NaN|undefined|Infinity)\b/);
    expect(bare).toContain('This data cannot tell you a factor at any wavelength.');
    expect(bare).toContain('Too few laps are left.');
    expect(bare).toContain('not stated');
    expect(bare).toContain('default, because the study states none');
  });

  it('gives every table scoped headings and every figure words', () => {
    expect(page).not.toMatch(/<th(?![^>]*scope=)[\s>]/);
    const tables = page.match(/<table/g)?.length ?? 0;
    expect(tables).toBeGreaterThan(10);
    expect(page.match(/<caption>/g)).toHaveLength(tables);
    const figures = page.match(/<figure>/g)?.length ?? 0;
    expect(figures).toBeGreaterThan(5);
    expect(page.match(/role="img" aria-label="[^"]{40,}"/g)).toHaveLength(figures);
    expect(page.match(/<figcaption>/g)).toHaveLength(figures);
    expect(page).toContain('<noscript>');
  });

  it('works without any figure', () => {
    const { study, result, factors } = example();
    const bare = reportPage({
      study,
      result,
      factors,
      figures: [],
      plotlyBundle: BUNDLE,
      versions: {},
    });
    expect(bare).not.toContain('<figure>');
    expect(bare).toContain('id="figures">[]</script>');
  });

  it('adds less than a megabyte to the plotting library', () => {
    expect(page.length - BUNDLE.length).toBeLessThan(1e6);
  });
});

describe('the colours', () => {
  // WCAG 2.2, definitions of relative luminance and contrast ratio.
  const luminance = (hex: string) => {
    const [r, g, b] = [1, 3, 5]
      .map((i) => Number.parseInt(hex.slice(i, i + 2), 16) / 255)
      .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a: string, b: string) => {
    const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (high + 0.05) / (low + 0.05);
  };
  const named = (name: string) => new RegExp(`--${name}: (#[0-9a-f]{6})`).exec(STYLES)?.[1] ?? '';

  // WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
  it.each(['ink', 'soft', 'accent', 'alarm'])(
    '--%s is readable on white and on the wash',
    (name) => {
      expect(contrast(named(name), '#ffffff')).toBeGreaterThanOrEqual(4.5);
      expect(contrast(named(name), named('wash'))).toBeGreaterThanOrEqual(4.5);
    },
  );
});
