import type { Result } from '../vocabulary.js';

/**
 * The identification of a report: the first 48 bits of the data's fingerprint in groups, the same on
 * every page and every file of one set of data. The whole fingerprint stands in the record.
 */
export function reportId({ data_sha256: sha }: Pick<Result, 'data_sha256'>): string {
  return (sha.slice(0, 12).match(/.{1,4}/g) ?? []).join('-');
}
