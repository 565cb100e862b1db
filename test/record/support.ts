/** What the tests of reading share. */
import type { ErrorParts } from '../../src/error.js';
import { MeterpairError } from '../../src/error.js';
import type { StudyFiles } from '../../src/record/parseStudy.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { Study } from '../../src/vocabulary.js';

/** An invented study.json with every warning's cause removed. */
export const PLAIN = {
  title: 'Invented study',
  reference: { name: 'bench meter', expanded_uncertainty_percent: 3, coverage_factor: 2 },
  candidate: { name: 'drawer meter' },
  sources: [{ name: 'green', wavelength_nm: 520 }],
  tolerance_percent: 5,
};

export const TWO_SOURCES = {
  ...PLAIN,
  sources: [
    { name: 'green', wavelength_nm: 520 },
    { name: 'red', wavelength_nm: 650 },
  ],
};

export const TIDY = 'meter,reading_mW\nreference,46.2\ncandidate,41.8\n';

/** Reads runs.csv beside a plain study.json. */
export function studyOf(
  runs: string,
  study: unknown = PLAIN,
  more: Partial<StudyFiles> = {},
): Study {
  return parseStudy(study, { ...more, runs });
}

/** The error that a call throws; fails the test when it throws none, or another one. */
export function errorOf(call: () => unknown): MeterpairError {
  try {
    call();
  } catch (error) {
    if (error instanceof MeterpairError) return error;
    throw error;
  }
  throw new Error('Nothing was thrown.');
}

/** As `errorOf`, for promises. */
export async function errorLater(promise: Promise<unknown>): Promise<MeterpairError> {
  const outcome = await promise.then(
    () => null,
    (error: unknown) => error,
  );
  if (outcome instanceof MeterpairError) return outcome;
  throw outcome ?? new Error('Nothing was thrown.');
}

/** All faults of an error, the first one included. */
export function faultsOf(error: MeterpairError): ErrorParts[] {
  const { code, message, file, row, column, found, expected } = error;
  return [
    {
      code,
      message,
      ...(file === undefined ? {} : { file }),
      ...(row === undefined ? {} : { row }),
      ...(column === undefined ? {} : { column }),
      ...(found === undefined ? {} : { found }),
      ...(expected === undefined ? {} : { expected }),
    },
    ...error.others,
  ];
}

export function codesOf(study: Study): string[] {
  return study.warnings.map((warning) => warning.code);
}

export function warningOf(study: Study, code: string): string {
  const warning = study.warnings.find((one) => one.code === code);
  if (warning === undefined) throw new Error(`No warning ${code}.`);
  return warning.message;
}
