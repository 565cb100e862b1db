import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { appendixFigures, reportFigures } from '../../src/figures/reportFigures.js';
import { reportId } from '../../src/findings/reportId.js';
import { appendixPage } from '../../src/report/appendixPage.js';
import { cardPage } from '../../src/report/cardPage.js';
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
    .replaceAll('&lt;', '<')
    .replaceAll(/\s+/g, ' ');
}

describe('the report page', () => {
  const page = pageOf(example());
  const text = visible(page);

  it('is one document in English that gives the same bytes for the same input', () => {
    expect(page.startsWith('<!doctype html>\n<html lang="en">')).toBe(true);
    expect(pageOf(example())).toBe(page);
  });

  it('begins with the answer, then says why to believe it, then the record', () => {
    const order = [
      'The answer',
      'More hazardous than labelled',
      'Reasons for doubt',
      'Hazard of the sources',
      'Further warnings',
      'Where the uncertainty comes from',
      'Evidence',
      'The record',
    ];
    const headings = [...page.matchAll(/<h2[^>]*>([^<]*)/g)].map((match) => match[1] ?? '');
    expect(headings.map((heading) => order.find((one) => heading.startsWith(one)))).toEqual(order);
  });

  const first = page.slice(page.indexOf('id="answer"'), page.indexOf('id="hazard"'));

  it('says on page one what was compared, when, by whom and against which certificate', () => {
    const top = visible(first);
    expect(top).toContain(
      `Comparison report ${reportId(exampleResult())}, not a calibration certificate`,
    );
    for (const name of ['Compared', 'Date', 'By', 'Certificate of the reference']) {
      expect(top).toMatch(new RegExp(`${name} \\S`));
    }
  });

  it('states factor, uncertainty, range and verdict on page one, and no number where it cannot tell', () => {
    expect(visible(first)).toMatch(/405 \d+ to \d+ 1\.1\d\d 3\.\d 4\.0 correct it/);
    expect(visible(first)).toContain('532 — — — — this data cannot tell you');
    expect(visible(first)).toContain('for 95 % confidence');
    expect(visible(first)).toContain(
      'The next step worth most. 532 nm: Repeat with a steadier source',
    );
  });

  it('says which way the factor goes, what the page is not, and who decides', () => {
    expect(visible(first)).toContain('K = reference ÷ candidate');
    expect(visible(first)).toContain('IEC 60825-1');
    expect(visible(first)).toContain('laser safety officer');
    expect(visible(first)).toContain('Never look into the beam');
    expect(text).toContain('A comparison report, not a calibration certificate');
    expect(text).toContain('relate only to the items compared');
    expect(text).toContain(`End of comparison report ${reportId(exampleResult())}.`);
  });

  it('says "relative to this reference only" exactly when the reference states no uncertainty', () => {
    expect(text).not.toContain('relative to this reference only');
    expect(visible(pageOf(emptyExample()))).toContain('relative to this reference only');
  });

  it('puts a contradicted reference, a bend, a moved factor and re-checks out of control on page one', () => {
    const { study, result, factors } = example();
    const warnings = [
      'reference-contradicted',
      'reads-low-at-the-top',
      'certificate-out-of-date',
      'factor-moved',
      're-checks-out-of-control',
    ].map((code) => ({ code, message: `About ${code}.` }));
    const whole = pageOf({ study, factors, result: { ...result, warnings } });
    const top = visible(whole.slice(0, whole.indexOf('id="hazard"')));
    for (const { message } of warnings) expect(top).toContain(message);
  });

  it('shows what is needed to check and rerun it', () => {
    expect(text).toContain(exampleResult().data_sha256);
    expect(text).toContain('meterpair 0.1.0, Node v20');
    // Nothing in an analysis is drawn.
    expect(text).not.toMatch(/seed|Monte Carlo/i);
    expect(text).toContain('npm start -- FOLDER --out DIR');
    for (const warning of exampleResult().warnings) expect(text).toContain(warning.message);
  });

  it('keeps a number and its unit together', () => {
    const parted = /\d (?:mW|nm|%)(?![\w])/;
    const words = page
      .replaceAll(/<(script|style)\b[^>]*>[\s\S]*?<\/\1>/g, '')
      .replaceAll(/aria-label="[^"]*"/g, '')
      .replaceAll(/<figcaption>[\s\S]*?<\/figcaption>/g, '');
    expect(words).not.toMatch(parted);
    expect(words).toMatch(/\d\u00a0nm/);
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
    expect(bare).toContain('this data cannot tell you');
    expect(bare).toContain('Too few laps are left.');
    expect(bare).toContain('not stated');
    expect(bare).toContain('not stated: the default');
  });

  it('gives every table scoped headings and every figure words', () => {
    expect(page).not.toMatch(/<th(?![^>]*scope=)[\s>]/);
    const tables = page.match(/<table/g)?.length ?? 0;
    expect(tables).toBeGreaterThan(4);
    expect(page.match(/<caption>/g)).toHaveLength(tables);
    const figures = page.match(/<figure>/g)?.length ?? 0;
    expect(figures).toBeGreaterThan(2);
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

describe('the card and the appendix', () => {
  const card = visible(cardPage(exampleStudy(), exampleResult()));
  const { study, result, factors } = example();
  const appendix = (of: typeof result) =>
    appendixPage({
      study,
      result: of,
      factors,
      figures: [...reportFigures(study, of), ...appendixFigures(study, of)],
      plotlyBundle: BUNDLE,
      versions: {},
    });

  it('say which comparison they belong to', () => {
    expect(card).toContain(reportId(result));
    expect(visible(appendix(result))).toContain(`End of the appendix to ${reportId(result)}.`);
  });

  it('the card has the date, until when to check again, each factor and what it is not', () => {
    expect(card).toContain('a day not stated ; check again by 12 months after the comparison');
    expect(card).toMatch(/405 \d+ to \d+ 1\.1\d\d 3\.\d correct it/);
    expect(card).toContain('532 — — — this data cannot tell you');
    expect(card).toContain('2 sources are more hazardous than labelled');
    expect(card).toContain('no classification of a laser');
  });

  it('the card says how the candidate has to be read, and that there are warnings', () => {
    expect(card).toContain('Multiply what it shows 25 s after switch-on, in the range');
    const [of, about] = [exampleStudy(), exampleResult()];
    const warnings = [{ code: 'read-too-early', message: '' }, ...about.warnings];
    expect(visible(cardPage(of, { ...about, warnings }))).toMatch(
      /\d warnings? bears? on its use: see report\.html/,
    );
  });

  it('the appendix has power, opinions, change and re-checks exactly where there is something to say', () => {
    const parts = ['power', 'opinions', 'then-and-now', 're-checks'];
    const whole = appendix(result);
    for (const id of parts) expect(whole).toContain(`id="table-${id}"`);
    expect(whole).toContain('638\u00a0nm, has moved');
    const bare = appendix({
      ...result,
      power: { ...result.power, by_wavelength: [] },
      opinions: [],
      then_and_now: null,
      re_checks: null,
    });
    for (const id of parts) expect(bare).not.toContain(`id="table-${id}"`);
  });

  it('run no text of a file either', () => {
    const bad = hostileExample();
    for (const made of [
      cardPage(bad.study, bad.result),
      appendixPage({
        ...bad,
        figures: [
          ...reportFigures(bad.study, bad.result),
          ...appendixFigures(bad.study, bad.result),
        ],
        plotlyBundle: BUNDLE,
        versions: {},
      }),
    ]) {
      expect(made).not.toContain(HOSTILE);
      expect(made).not.toMatch(/<img/i);
      expect(made).not.toContain('<script>window.hacked');
    }
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
