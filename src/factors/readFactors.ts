/** Reads factors.json from disk. */
import { basename } from 'node:path';
import { regularText } from '../record/regularFile.js';
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
  const text = await regularText(path, path, 'the factors.json that an analysis wrote');
  return parseFactors(text, basename(path));
}
