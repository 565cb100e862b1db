import { finiteJson } from '../record/finiteJson.js';
import type { Result } from '../vocabulary.js';

/**
 * The text of result.json. The same result gives the same bytes.
 *
 * @throws argument-wrong that names the path of a number that is NaN or infinite
 */
export function resultFile(result: Result): string {
  return finiteJson(result, 'result');
}
