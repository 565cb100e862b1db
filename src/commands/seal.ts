import { createHash } from 'node:crypto';

/** Whose a file is: `whole` is ours as we wrote it, `changed` ours and worked on since, `foreign` not ours. */
export type Seal = 'whole' | 'changed' | 'foreign';

const COMMENT = /\n<!-- meterpair ([0-9a-f]{64}) -->\n$/;
/** What the reports of versions without a seal end with. */
const REPORT_END = 'End of the comparison report.';

/**
 * A text with a digest of itself where the kind of file has room for one: at the end of a page, in
 * the metadata of a notebook. JSON and tables stay as they are.
 */
export function sealed(name: string, text: string): string {
  if (isMarkup(name)) return `${text}\n<!-- meterpair ${digest(text)} -->\n`;
  if (!name.endsWith('.ipynb')) return text;
  const notebook = asObject(parsed(text));
  if (notebook === null) return text;
  const meterpair = { sha256: digest(notebookText(notebook)) };
  const metadata = { ...asObject(notebook.metadata), meterpair };
  return notebookText({ ...notebook, metadata });
}

const isMarkup = (name: string) => /\.(?:html|svg)$/.test(name);

/** A table to share: its name carries the fingerprint of its data, so nobody else's is written over. */
const OF_ONE_DATA = /-[0-9a-f]{8}\.csv$/;

/** Whose the file is, from its name and its text. */
export function sealOf(name: string, text: string): Seal {
  if (OF_ONE_DATA.test(name)) return 'whole';
  if (isMarkup(name)) {
    const seal = COMMENT.exec(text);
    if (seal === null) return text.includes(REPORT_END) ? 'changed' : 'foreign';
    return digest(text.slice(0, seal.index)) === seal[1] ? 'whole' : 'changed';
  }
  if (name.endsWith('.csv'))
    return /^.*\bcorrected_mW\b.*\bU_mW\b/.test(text) ? 'whole' : 'foreign';
  const content = asObject(parsed(text));
  if (content === null) return 'foreign';
  if (name.endsWith('.ipynb')) return sealOfNotebook(content, text);
  const { schema } = content;
  return typeof schema === 'string' && schema.startsWith('meterpair.') ? 'whole' : 'foreign';
}

function sealOfNotebook(notebook: Readonly<Record<string, unknown>>, text: string): Seal {
  const { meterpair, ...metadata } = asObject(notebook.metadata) ?? {};
  const seal = asObject(meterpair)?.sha256;
  if (seal === undefined) return text.includes('meterpair') ? 'changed' : 'foreign';
  return digest(notebookText({ ...notebook, metadata })) === seal ? 'whole' : 'changed';
}

/** A notebook as its file has it. */
export function notebookText(notebook: object): string {
  return `${JSON.stringify(notebook, null, 1)}\n`;
}

function digest(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function asObject(value: unknown): Readonly<Record<string, unknown>> | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Readonly<Record<string, unknown>>)
    : null;
}
