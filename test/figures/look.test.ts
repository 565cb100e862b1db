/** What a figure means must not hang on a colour, nor fade in grey or behind a filter. */
import type { Data, PlotData } from 'plotly.js';
import { describe, expect, it } from 'vitest';
import type { Figure } from '../../src/figures/figure.js';
import { appendixFigures, reportFigures } from '../../src/figures/reportFigures.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';

const study = exampleStudy();
const result = exampleResult();
const listed = [...reportFigures(study, result), ...appendixFigures(study, result)];
const figures = listed.map((one) => [one.id, one.figure] as const);

const trace = (data: Data) => data as Partial<PlotData>;

/** What tells a trace from another where colours cannot be seen. */
function lookOf(data: Data): string {
  const { mode = '', marker, line } = trace(data);
  const pattern = (marker as { pattern?: { shape: string } } | undefined)?.pattern?.shape;
  const symbol = mode.includes('markers') ? marker?.symbol : '';
  const dash = mode.includes('lines') ? (line?.dash ?? 'solid') : '';
  return JSON.stringify([symbol, dash, pattern]);
}

describe.each(figures)('%s', (_, figure) => {
  it('gives every name in the legend a mark, dash or pattern of its own', () => {
    const byName = new Map<string, string>();
    for (const data of figure.data) {
      const { name, showlegend } = trace(data);
      if (name !== undefined && showlegend !== false) byName.set(name, lookOf(data));
    }
    expect(new Set(byName.values()).size).toBe(byName.size);
  });

  it('draws marks that stand out from white in grey, in red and in green', () => {
    for (const colour of colours(figure)) {
      for (const seen of ['grey', 'red', 'green'] as const) {
        // WCAG 2.2, 1.4.11: 3 to 1 for what has to be seen.
        expect(contrastWithWhite(colour, seen), `${colour} in ${seen}`).toBeGreaterThan(3);
      }
    }
  });

  it('uses no type smaller than 12 px, which is 9 pt', () => {
    const sizes = [...JSON.stringify(figure.layout).matchAll(/"font":\{[^}]*"size":(\d+)/g)];
    for (const [, size] of sizes) expect(Number(size)).toBeGreaterThanOrEqual(12);
  });
});

/** Colours of marks, bars and lines of traces. */
function colours(figure: Figure): readonly string[] {
  const found = figure.data.flatMap((data) => {
    const { marker, line, error_x, error_y } = trace(data);
    return [marker?.color, line?.color, error_x?.color, error_y?.color];
  });
  return [...new Set(found.filter((one): one is string => typeof one === 'string'))];
}

/** Contrast ratio of WCAG 2.2 with white, both seen through the same filter. */
function contrastWithWhite(colour: string, seen: 'grey' | 'red' | 'green'): number {
  const parts = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);
  const linear = parts.map((part) =>
    part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4,
  );
  const [red, green, blue] = linear;
  const light = { grey: 0.2126 * red + 0.7152 * green + 0.0722 * blue, red, green }[seen];
  return 1.05 / (light + 0.05);
}
