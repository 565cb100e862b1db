/** HTML that is safe by construction: a text set into a template is always escaped. */
import { escapeHtml } from '../findings/escape.js';

/** A piece of markup; the only way to make one from a text is `html` or `trustedHtml`. */
export interface Html {
  readonly markup: string;
}

type Part = Html | readonly Html[] | string | number | null;

/** Template tag: texts are escaped, markup and lists of markup pass, `null` is nothing. */
export function html(strings: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return {
    markup: strings.reduce((text, string, i) => text + markupOf(parts[i - 1] ?? null) + string),
  };
}

/** Markup of our own making that is not a template: styles, scripts, embedded data. */
export function trustedHtml(markup: string): Html {
  return { markup };
}

function markupOf(part: Part): string {
  if (part === null) return '';
  if (typeof part === 'string' || typeof part === 'number') return escapeHtml(String(part));
  return 'markup' in part ? part.markup : part.map((one) => one.markup).join('\n');
}
