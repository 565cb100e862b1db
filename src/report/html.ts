/** HTML that is safe by construction: a text set into a template is always escaped. */
import { escapeHtml } from '../findings/escape.js';
import { unbroken, wholeDates } from '../findings/unbroken.js';

/** A piece of markup; the only way to make one from a text is `html` or `trustedHtml`. */
export interface Html {
  readonly markup: string;
}

type Part = Html | readonly Html[] | string | number | null;

/**
 * Template tag: texts are escaped and keep number and unit together, markup and lists of markup pass,
 * `null` is nothing.
 */
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
  if (typeof part === 'string' || typeof part === 'number')
    return escapeHtml(wholeDates(unbroken(String(part))));
  return 'markup' in part ? part.markup : part.map((one) => one.markup).join('\n');
}

/** A list of texts, nothing where there are none. */
export function list(texts: readonly string[]): Html | null {
  return texts.length === 0 ? null : html`<ul>${texts.map((text) => html`<li>${text}</li>`)}</ul>`;
}

/** Names and values, as in a record. */
export function pairs(entries: readonly (readonly [string, string])[]): Html {
  return html`<dl>${entries.map(([name, value]) => html`<div><dt>${name}</dt><dd>${value}</dd></div>`)}</dl>`;
}
