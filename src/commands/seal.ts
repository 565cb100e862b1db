import { createHash } from 'node:crypto';

/** Text of each file by its name. */
export type OutputFiles = Readonly<Record<string, string>>;

/** Bytes of each file by its name: a page has more than a megabyte, and is compared, not read. */
export type FileBytes = Readonly<Record<string, Buffer>>;

/** Bytes of the seal of a page. */
const SEAL_LENGTH = 85;
const COMMENT = /^\n<!-- meterpair ([0-9a-f]{64}) -->\n$/;
/** What the reports of versions without a seal end with. */
const REPORT_END = 'End of the comparison report.';

/** Every text sealed as its name asks. */
export function sealedFiles(files: OutputFiles): FileBytes {
  return Object.fromEntries(
    Object.entries(files).map(([name, text]) => [name, sealed(name, text)]),
  );
}

/**
 * A text with a digest of itself where the kind of file has room for one: at the end of a page, in
 * the metadata of a notebook. JSON and tables stay as they are.
 */
export function sealed(name: string, text: string): Buffer {
  if (isMarkup(name)) {
    const page = Buffer.from(text);
    return Buffer.concat([page, Buffer.from(`\n<!-- meterpair ${digest(page)} -->\n`)]);
  }
  const notebook = name.endsWith('.ipynb') ? asObject(parsed(text)) : null;
  if (notebook === null) return Buffer.from(text);
  const meterpair = { sha256: digest(notebookText(notebook)) };
  const metadata = { ...asObject(notebook.metadata), meterpair };
  return Buffer.from(notebookText({ ...notebook, metadata }));
}

const isMarkup = (name: string) => /\.(?:html|svg)$/.test(name);

/** A table to share: its name carries the fingerprint of its data, so nobody else's is written over. */
const OF_ONE_DATA = /-[0-9a-f]{8}\.csv$/;

/** Whether a file of that name is of our making, worked on or not; told without a digest. */
export function isOurs(name: string, bytes: Buffer): boolean {
  if (OF_ONE_DATA.test(name)) return true;
  if (isMarkup(name)) return sealOf(bytes) !== null || bytes.includes(REPORT_END);
  if (name.endsWith('.csv')) return isCorrectedTable(bytes.toString());
  if (name.endsWith('.ipynb')) return bytes.includes('meterpair');
  const schema = asObject(parsed(bytes.toString()))?.schema;
  return typeof schema === 'string' && schema.startsWith('meterpair.');
}

/** Whether a table begins with the heading that `correct` writes. */
export function isCorrectedTable(text: string): boolean {
  return /^[^\n]*\bcorrected_mW([,;\t])U_mW\1k\1low_mW\1high_mW\1cautions\r?\n/.test(text);
}

/** Whether somebody worked on a file of ours since. JSON and tables cannot tell. */
export function isChanged(name: string, bytes: Buffer): boolean {
  if (isMarkup(name)) return digest(bytes.subarray(0, -SEAL_LENGTH)) !== sealOf(bytes);
  if (!name.endsWith('.ipynb')) return false;
  const notebook = asObject(parsed(bytes.toString()));
  const { meterpair, ...metadata } = asObject(notebook?.metadata) ?? {};
  return digest(notebookText({ ...notebook, metadata })) !== asObject(meterpair)?.sha256;
}

/** The digest that a page carries at its end; `null` where it carries none. */
function sealOf(page: Buffer): string | null {
  return COMMENT.exec(page.subarray(-SEAL_LENGTH).toString())?.[1] ?? null;
}

/** A notebook as its file has it. */
export function notebookText(notebook: object): string {
  return `${JSON.stringify(notebook, null, 1)}\n`;
}

function digest(content: string | Buffer): string {
  return createHash('sha256').update(content).digest('hex');
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
