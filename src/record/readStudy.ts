/** Folder → Study. */
import { readdir, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { argumentWrong, type ErrorParts, MeterpairError } from '../error.js';
import type { Study, Warning } from '../vocabulary.js';
import { throwFaults } from './faults.js';
import { fileText } from './fileText.js';
import { studyOf } from './parseStudy.js';
import { codeOf, regularFile, unreadable } from './regularFile.js';
import { studyValue } from './studySettings.js';
import { tableFile } from './tableText.js';

const NEEDED = ['study.json', 'runs.csv'];
const TRACES = 'traces.csv';

/**
 * Reads a study folder: study.json, runs.csv and, where they exist, traces.csv and opinions.json.
 * Gives the same record as `parseStudy` does from the same content.
 *
 * @throws file-missing (no such folder, or a file is missing in it), file-unreadable (a file where a
 * folder is expected or the other way round, or no permission), study-json-invalid with line and
 * column, and all that `parseStudy` throws.
 */
export async function readStudy(folder: string): Promise<Study> {
  if (typeof folder !== 'string' || folder.trim() === '') {
    throw argumentWrong('readStudy needs the path of a study folder.', folder, 'a path');
  }
  await requireFolder(folder);
  const names = await readdir(folder).catch((error: unknown) => {
    throw unreadable(folder, error);
  });
  const faults: ErrorParts[] = NEEDED.filter((name) => !names.includes(name)).map((name) =>
    missingFile(name, folder, names),
  );
  throwFaults(faults);
  const warnings: Warning[] = [];
  const read = async (name: string): Promise<string | undefined> => {
    if (!names.includes(name)) return undefined;
    const { text, guessed } = fileText(await regularFile(join(folder, name), name), name);
    if (guessed) warnings.push(encodingGuessed(name));
    return text;
  };
  const [studyText = '', runs = ''] = [await read('study.json'), await read('runs.csv')];
  const traces = names.includes(TRACES) ? await tableFile(join(folder, TRACES), TRACES) : undefined;
  if (traces?.guessed) warnings.push(encodingGuessed(TRACES));
  const opinions = await read('opinions.json');
  const study = studyOf(studyValue(studyText), { runs, traces, opinions });
  return { ...study, warnings: [...warnings, ...study.warnings] };
}

/** @throws file-missing, file-unreadable for a file or a folder that is closed to us */
export async function requireFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch((error: unknown) => {
    if (codeOf(error) === 'ENOENT' || codeOf(error) === 'ENOTDIR') return null;
    throw unreadable(folder, error);
  });
  if (found === null) {
    throw new MeterpairError({
      code: 'file-missing',
      file: folder,
      message: 'There is no such folder.',
      expected: 'the path of a folder that holds study.json and runs.csv',
    });
  }
  if (found.isDirectory()) return;
  const inside = [...NEEDED, TRACES, 'opinions.json'].includes(basename(folder));
  throw new MeterpairError({
    code: 'file-unreadable',
    file: folder,
    message: 'This is a file, and a study is a folder.',
    expected: inside
      ? `the folder that it lies in: ${dirname(folder)}`
      : 'the path of a folder that holds study.json and runs.csv',
  });
}

function missingFile(name: string, folder: string, names: readonly string[]): ErrorParts {
  const stem = name.slice(0, name.indexOf('.'));
  const alike = names.find((other) => other.toLowerCase().startsWith(stem));
  const spreadsheet = alike !== undefined && /\.(?:xlsx?|ods|numbers)$/i.test(alike);
  const action = spreadsheet
    ? `Open "${alike}" in the spreadsheet and save its sheet as ${name} (type CSV).`
    : alike === undefined
      ? ''
      : `There is "${alike}"; rename it to ${name}.`;
  const visible = names.filter((other) => !other.startsWith('.'));
  return {
    code: 'file-missing',
    file: name,
    message: ['The file is missing in the study folder.', action].filter(Boolean).join(' '),
    found: visible.length === 0 ? 'an empty folder' : visible.slice(0, 8).join(', '),
    expected: `a file ${name} in ${folder}`,
  };
}

function encodingGuessed(name: string): Warning {
  return {
    code: 'encoding-guessed',
    message: `${name} is not saved as UTF-8; accented letters in it may come out wrong. Save it as "CSV UTF-8" to be sure.`,
  };
}
