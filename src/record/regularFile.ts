/** Reading a file that somebody names, without waiting for what never ends. */
import { readFile, stat } from 'node:fs/promises';
import { MeterpairError } from '../error.js';
import { fileText } from './fileText.js';

/** Tables and JSON larger than this were not written by hand, nor by a logger in an evening. */
const MOST_MEBIBYTES = 256;

/**
 * The bytes of a regular file.
 *
 * @param path where it lies
 * @param name what an error calls it
 * @param expected what would be right in its place
 * @throws file-missing, file-unreadable
 */
export async function regularFile(
  path: string,
  name: string,
  expected?: string,
): Promise<Uint8Array> {
  await requireRegular(path, name, expected);
  return readFile(path).catch((error: unknown) => {
    throw unreadable(name, error, expected);
  });
}

/**
 * A pipe or a device may never end, so it is refused before it is opened.
 *
 * @throws file-missing, file-unreadable
 */
export async function requireRegular(path: string, name: string, expected?: string): Promise<void> {
  const found = await stat(path).catch((error: unknown) => {
    throw unreadable(name, error, expected);
  });
  if (found.isDirectory()) throw unreadable(name, { code: 'EISDIR' }, expected);
  if (!found.isFile()) {
    throw new MeterpairError({
      code: 'file-unreadable',
      file: name,
      message: 'This is a pipe or a device, which may never end.',
      expected: 'a regular file',
    });
  }
  if (found.size > MOST_MEBIBYTES * 2 ** 20) {
    throw new MeterpairError({
      code: 'file-unreadable',
      file: name,
      message: 'The file is too large to be read.',
      found: `${Math.ceil(found.size / 2 ** 20)} MiB`,
      expected: `at most ${MOST_MEBIBYTES} MiB; keep of a long trace what the sensor needs to settle`,
    });
  }
}

/** The same as text. */
export async function regularText(path: string, name: string, expected?: string): Promise<string> {
  return fileText(await regularFile(path, name, expected), name).text;
}

const REASONS: Readonly<Record<string, string>> = {
  EISDIR: 'This is a folder, and a file is expected.',
  EACCES: 'You have no permission to read this.',
  EPERM: 'You have no permission to read this.',
  ELOOP: 'This is a link that leads back to itself.',
};

/** What the system says about a file or folder, as the one error. */
export function unreadable(file: string, error: unknown, expected?: string): MeterpairError {
  const code = codeOf(error);
  const missing = code === 'ENOENT' || code === 'ENOTDIR';
  return new MeterpairError({
    code: missing ? 'file-missing' : 'file-unreadable',
    file,
    message: missing
      ? 'There is no such file.'
      : (REASONS[code] ?? `This cannot be read (${code}).`),
    ...(expected === undefined ? {} : { expected }),
  });
}

/** The system's word for what went wrong, such as ENOENT. */
export function codeOf(error: unknown): string {
  return typeof error === 'object' && error !== null && 'code' in error
    ? String(error.code)
    : 'unknown reason';
}
