import type { Result } from '../../vocabulary.js';
import { versions } from '../versions.js';

/** Which data and which programs a result came from: enough to find it again. */
export function recordSentences(result: Result): readonly string[] {
  const used = versions();
  return [
    `SHA-256 of the data: ${result.data_sha256}`,
    `meterpair ${used.meterpair}, Node.js ${used.node}, tslab ${used.tslab}`,
  ];
}
