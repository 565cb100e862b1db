/** opinions.json: values for a source from elsewhere. */
import type { ErrorParts } from '../error.js';
import { suggestion } from '../statistics/didYouMean.js';
import type { Opinion, Source, Warning } from '../vocabulary.js';
import { either, whileShown } from './faults.js';
import { jsonValue } from './jsonText.js';
import { shapeFaults, unknownFields } from './shapeFaults.js';
import { opinionsSchema } from './studySchema.js';

const FILE = 'opinions.json';

/** The value of opinions.json: JSON text parsed, anything else as it is; `undefined` for none. */
export function opinionsValue(given: unknown, faults: ErrorParts[]): unknown {
  if (given === undefined || given === null) return undefined;
  if (typeof given !== 'string') return given;
  if (given.trim() === '') return undefined;
  return jsonValue(given, { code: 'opinions-invalid', file: FILE }, faults);
}

/** Checks the value of opinions.json against its form and the names of the sources. */
export function opinionList(
  value: unknown,
  sources: readonly Source[],
  faults: ErrorParts[],
  warnings: Warning[],
): Opinion[] {
  if (value === undefined) return [];
  const place = { code: 'opinions-invalid', file: FILE } as const;
  const checked = opinionsSchema.safeParse(value);
  if (!checked.success) {
    faults.push(...shapeFaults(checked.error.issues, opinionsSchema, value, place));
    return [];
  }
  warnings.push(...unknownFields(opinionsSchema, value, FILE));
  const names = sources.map((source) => source.name);
  const known = new Set(names);
  checked.data.forEach(({ source }, index) => {
    if (!known.has(source)) {
      faults.push({
        ...place,
        message: `Entry ${index + 1} is about a source that the study does not have.${whileShown(faults, () => suggestion(source, names))}`,
        found: `"${source}"`,
        expected: either(names),
      });
    }
  });
  return checked.data;
}
