import * as z from 'zod';
import { studySchema } from './studySchema.js';

/**
 * JSON Schema (draft 2020-12) of study.json with a description on every field, for editors that
 * complete and explain the file. Fields it does not know are allowed, as `parseStudy` only warns of
 * them.
 */
export function studyJsonSchema(): Record<string, unknown> {
  return { ...z.toJSONSchema(studySchema, { io: 'input', target: 'draft-2020-12' }) };
}
