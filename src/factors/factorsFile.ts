import { finiteJson } from '../record/finiteJson.js';
import { FACTORS } from '../record/recordShapes.js';
import { requireShape } from '../statistics/shapes.js';
import type { Factors } from '../vocabulary.js';

/**
 * The text of factors.json, which `parseFactors` reads back. The same factors give the same bytes.
 *
 * @throws argument-wrong that names the path of a number that is NaN or infinite
 */
export function factorsFile(factors: Factors): string {
  requireShape(factors, 'Factors', FACTORS);
  return finiteJson(factors, 'factors');
}
