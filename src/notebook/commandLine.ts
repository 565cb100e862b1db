import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { MeterpairError } from '../error.js';

/** What the user asked `npm start` for. */
export type Command =
  | { readonly kind: 'help' }
  | {
      readonly kind: 'compare';
      /** Absolute path of the study folder; `null` for the demo study. */
      readonly folder: string | null;
      /** Absolute path of the output folder; `null` for `report` in the project. */
      readonly out: string | null;
      /** Absolute paths of earlier factors.json to compare with, oldest first. */
      readonly earlier: readonly string[];
    };

export const HELP = `Compares two laser power meters: reads a study, runs the comparison notebook and leaves
a report, the executed notebook, the result and the correction factors in one folder.

  npm start                             the demo study, into report/
  npm start -- FOLDER                   your own study, into report/
  npm start -- FOLDER --out DIR         your own study, into DIR
  npm start -- FOLDER --earlier FILE    the same, and whether the factors have moved
  npm start -- FOLDER --earlier OLDEST --earlier NEXT --earlier LAST
                                        the same, and all re-checks on a control chart
  npm start -- --help                   this text

FOLDER holds study.json and runs.csv (docs/file-formats.md says what stands in them).
FILE is the factors.json that an earlier comparison of the same meters left. It has no
date: name several oldest first. The last of them is the one compared with.
Paths count from the folder you type the command in.
`;

/**
 * Reads the arguments after `npm start --`.
 *
 * @param args the arguments
 * @param from folder that relative paths count from
 * @throws command-line with what was found and what would be right
 */
export function commandLine(args: readonly string[], from: string): Command {
  const { tokens } = parseArgs({
    args: [...args],
    options: {
      out: { type: 'string', short: 'o' },
      earlier: { type: 'string' },
      help: { type: 'boolean', short: 'h' },
    },
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  const folders: string[] = [];
  const outs: string[] = [];
  const earlier: string[] = [];
  let help = false;
  for (const token of tokens) {
    if (token.kind === 'positional') folders.push(token.value);
    if (token.kind !== 'option') continue;
    if (token.name === 'help') {
      if (token.value !== undefined) throw wrong('--help takes no value.', token.value, '--help');
      help = true;
    } else if (token.name === 'out') {
      // A folder is hardly ever called --something: more likely its name was forgotten.
      if (!token.value || (!token.inlineValue && token.value.startsWith('-'))) {
        throw wrong('--out needs the name of a folder.', token.value || 'nothing', '--out DIR');
      }
      outs.push(token.value);
    } else if (token.name === 'earlier') {
      if (!token.value || (!token.inlineValue && token.value.startsWith('-'))) {
        throw wrong(
          '--earlier needs the name of a file.',
          token.value || 'nothing',
          '--earlier FACTORS.json',
        );
      }
      earlier.push(token.value);
    } else {
      throw wrong(
        'There is no such option.',
        token.rawName,
        '--out DIR, --earlier FACTORS.json or --help',
      );
    }
  }
  if (help) return { kind: 'help' };
  if (outs.length > 1) throw wrong('--out stands twice.', outs.join(' and '), 'one output folder');
  const files = earlier.map((file) => resolve(from, file));
  const twice = files.find((file, place) => files.indexOf(file) < place);
  if (twice !== undefined) {
    throw wrong('One file of factors stands twice.', twice, 'each --earlier file once');
  }
  if (folders.length > 1) {
    throw wrong(
      'One study at a time.',
      folders.map((folder) => JSON.stringify(folder)).join(' and '),
      'one folder; quotes around it if there is a space in its name',
    );
  }
  if (folders[0] === '') throw wrong('The study folder has no name.', '""', 'FOLDER');
  return {
    kind: 'compare',
    folder: folders[0] === undefined ? null : resolve(from, folders[0]),
    out: outs[0] === undefined ? null : resolve(from, outs[0]),
    earlier: files,
  };
}

function wrong(message: string, found: string, expected: string): MeterpairError {
  return new MeterpairError({ code: 'command-line', message, found, expected });
}
