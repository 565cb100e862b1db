/** Reads factors.json from disk. */

import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { MeterpairError } from '../error.js';
import { requireShape } from '../statistics/shapes.js';
import type { Factors } from '../vocabulary.js';
import { parseFactors } from './parseFactors.js';

/**
 * Reads and checks a factors.json that an analysis has left.
 *
 * @param path path of the file
 * @throws file-missing, file-unreadable, factors-invalid
 */
export async function readFactors(path: string): Promise<Factors> {
  requireShape(path, 'The path of a factors.json', 'text');
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    const missing = code === 'ENOENT' || code === 'ENOTDIR';
    throw new MeterpairError({
      code: missing ? 'file-missing' : 'file-unreadable',
      message: missing ? 'There is no such file.' : 'The file cannot be read.',
      found: path,
      expected: 'the factors.json that an analysis wrote',
    });
  }
  return parseFactors(text.replace(/^\uFEFF/, ''), basename(path));
}
