import type { Opinion } from '../vocabulary.js';

const WORDS: Readonly<Record<Opinion['kind'], string>> = {
  certificate: 'a certificate',
  maker: 'the maker’s value',
  'third-meter': 'a third meter',
};

/** Who says a value from elsewhere, in words for the middle of a sentence. */
export function saidBy(kind: Opinion['kind']): string {
  return WORDS[kind];
}
