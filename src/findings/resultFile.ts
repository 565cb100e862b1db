import { finiteJson } from '../record/finiteJson.js';
import { RESULT } from '../record/recordShapes.js';
import { requireShape } from '../statistics/shapes.js';
import type { Result } from '../vocabulary.js';

/**
 * The text of result.json. The same result gives the same bytes.
 *
 * @throws argument-wrong for what is no result, and that names the path of a number that is NaN or infinite
 */
export function resultFile(result: Result): string {
  requireShape(result, 'A result', RESULT);
  return finiteJson(result, 'result');
}
