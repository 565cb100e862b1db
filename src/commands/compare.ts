import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { analyse } from '../analyse.js';
import { readFactors } from '../factors/readFactors.js';
import { withoutControls } from '../findings/escape.js';
import { readStudy } from '../record/readStudy.js';
import { terminalTable } from '../terminal/terminalTable.js';
import type { Result, Study } from '../vocabulary.js';
import { compareNotebook } from './compareNotebook.js';
import { OUTPUT_FILES, outputFiles } from './compareOutputs.js';
import { badUse, type CommandLine, verb } from './options.js';
import { checkOutputFolder } from './outputFolder.js';
import { realPath } from './paths.js';
import { demoStudy, usualOutputFolder } from './project.js';
import type { OutputFiles } from './seal.js';
import { writeOutputs } from './writeOutputs.js';

const HELP = `Compares two laser power meters: reads a study and leaves a report, the result, the
correction factors and the executed notebook in one folder.

  npx meterpair compare                      the demo study, into report/
  npx meterpair compare FOLDER               your own study, into report/
  npx meterpair compare FOLDER --out DIR     your own study, into DIR
  npx meterpair compare FOLDER --earlier FILE
                                             the same, and whether the factors have moved
  npx meterpair compare FOLDER --earlier OLDEST --earlier NEXT --earlier LAST
                                             the same, and all re-checks on a control chart
  --no-notebook                              without compare.ipynb, which takes longest
  --figures                                  figures as SVG and tables as CSV (needs Chromium)

In the project's own folder  npm start -- FOLDER --out DIR  does the same.

FOLDER holds study.json and runs.csv (docs/file-formats.md says what stands in them).
FILE is the factors.json that an earlier comparison of the same meters left. Name several
oldest first. The last of them is the one compared with.
Paths count from the folder you type the command in.
`;

/** What stands on the command line of `compare`. */
export const COMPARE = {
  options: {
    out: { value: 'DIR', short: 'o' },
    earlier: { value: 'FACTORS.json', many: true },
    figures: {},
    'no-notebook': {},
  },
  places: ['FOLDER'],
} as const;

/** What `compare` was asked for; paths are absolute. */
export interface CompareWishes {
  /** The study folder; `null` for the demo study. */
  readonly folder: string | null;
  /** The output folder; `null` for the usual one. */
  readonly out: string | null;
  /** Earlier factors.json to compare with, oldest first. */
  readonly earlier: readonly string[];
  readonly figures: boolean;
  readonly notebook: boolean;
}

/** Compares the meters of a study: everything that `npm start` does. */
export const compare = verb({
  help: HELP,
  ...COMPARE,
  run: async (line, io) => {
    const wishes = compareWishes(line, io.from);
    const folder = wishes.folder ?? (await demoStudy());
    const out = wishes.out ?? usualOutputFolder(io.from);
    const study = await readStudy(folder);
    const earlier = await Promise.all(wishes.earlier.map((file) => earlierFactors(file, out)));
    const result = analyse(study, { earlier });
    await checkOutputFolder(out, OUTPUT_FILES);
    // Drawn before anything is written: where that is not possible, nothing is.
    const pictures = wishes.figures ? await figures(study, result) : null;

    io.out(`${withoutControls(study.title)}\n${terminalTable(result)}`);
    const files = outputFiles(study, result);
    const notebook = wishes.notebook
      ? await compareNotebook({ result, folder, out, earlier: wishes.earlier }, io)
      : { text: null, fault: null };
    await writeOutputs(
      out,
      {
        files: notebook.text === null ? files : { ...files, 'compare.ipynb': notebook.text },
        names: OUTPUT_FILES,
        answer: ['result.json', 'factors.json'],
      },
      io,
    );
    io.out(`Report: ${join(out, 'report.html')}\n`);
    if (pictures !== null) {
      const folder = join(out, 'figures');
      const names = Object.keys(pictures);
      await writeOutputs(folder, { files: pictures, names, answer: names }, io);
      io.out(`Figures and tables: ${folder}\n`);
    }
    // The report stands without its notebook; that there is none is said last, and is a fault.
    if (notebook.fault !== null) throw notebook.fault;
    if (notebook.text !== null && !findsPackage(out)) {
      io.out('compare.ipynb finds the package only from a folder in which it is installed.\n');
    }
    return 0;
  },
});

/** Loaded only where asked for. */
async function figures(study: Study, result: Result): Promise<OutputFiles> {
  const { figureFiles } = await import('./compareFigures.js');
  return figureFiles(study, result);
}

/** Whether a notebook in that folder can be run again. */
function findsPackage(folder: string): boolean {
  try {
    createRequire(join(realPath(folder), 'cell.js')).resolve('meterpair/package.json');
    return true;
  } catch {
    return false;
  }
}

/**
 * What the arguments ask for.
 *
 * @throws command-line
 */
export function compareWishes(
  { places: [folder], options }: CommandLine<typeof COMPARE.options>,
  from: string,
): CompareWishes {
  const earlier = options.earlier.map((file) => resolve(from, file));
  const twice = earlier.find((file, place) => earlier.indexOf(file) < place);
  if (twice !== undefined) {
    throw badUse('One file of factors stands twice.', twice, 'each --earlier file once');
  }
  return {
    folder: folder === undefined ? null : resolve(from, folder),
    out: options.out === null ? null : resolve(from, options.out),
    earlier,
    figures: options.figures,
    notebook: !options['no-notebook'],
  };
}

/** The earlier factors must be readable, and still be there when the results are written. */
async function earlierFactors(file: string, out: string) {
  const factors = await readFactors(file);
  if (realPath(file) !== realPath(join(out, 'factors.json'))) return factors;
  throw badUse(
    'The earlier factors would be written over.',
    file,
    'another output folder: --out DIR',
  );
}
