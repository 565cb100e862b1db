import { readdirSync, readFileSync } from 'node:fs';

const FOLDER = new URL('../../src/vocabulary/', import.meta.url);

/** The texts of the files of src/vocabulary. */
export const vocabulary = () =>
  readdirSync(FOLDER).map((name) => readFileSync(new URL(name, FOLDER), 'utf8'));
