import { readdir } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { cellTags, readNotebook } from '../notebook/notebookFile.js';
import { readStudy } from '../record/readStudy.js';
import { suggestion } from '../statistics/didYouMean.js';
import { missingPackages, whatToInstall } from './compareNotebook.js';
import { BAD_INPUT, inputFaultOf } from './complain.js';
import { badUse, verb } from './options.js';
import { checkOutputFolder } from './outputFolder.js';
import { pathBetween } from './paths.js';
import { progressOn } from './progress.js';
import { ROOT } from './project.js';
import { notebookText } from './seal.js';
import { writeOutput } from './writeOutputs.js';

/** The cell that names the study. */
const STUDY_TAG = 'study-folder';

const HELP = `Runs one of the notebooks from top to bottom, without Jupyter, and keeps it with its outputs.

  npx meterpair notebook                         the names of all notebooks
  npx meterpair notebook 4-settling              on the study that comes with it
  npx meterpair notebook 4-settling FOLDER       on your own study
  npx meterpair notebook 4-settling FOLDER --out settling.ipynb

NAME is a file name in notebooks/ or its number; a lesson is called lessons/5-taking-turns.
Without --out the notebook goes into the folder you type the command in, under its own name.
`;

/** Runs one notebook, headless. */
export const notebook = verb({
  help: HELP,
  options: { out: { value: 'FILE', short: 'o' } },
  places: ['NAME', 'FOLDER'],
  run: async ({ places: [asked, study], options }, io) => {
    const all = await notebookNames();
    if (asked === undefined) {
      io.out(`${all.join('\n')}\n`);
      return 0;
    }
    const name = nameOf(asked, all);
    const folder = study === undefined ? null : resolve(io.from, study);
    const out = resolve(io.from, options.out ?? `${basename(name)}.ipynb`);
    const file = join(ROOT, 'notebooks', `${name}.ipynb`);
    if (folder !== null) {
      await requireStudyIn(file);
      await readStudy(folder);
    }
    await checkOutputFolder(dirname(out), [basename(out)]);
    const missing = missingPackages();
    if (missing.length > 0) {
      io.err(`The notebooks cannot run. ${whatToInstall(missing)}\n`);
      return BAD_INPUT;
    }
    const { runNotebook } = await import('../notebook/headless.js');
    const progress = progressOn(io);
    const run = await runNotebook({
      notebook: file,
      cwd: dirname(file),
      parameters:
        folder === null
          ? {}
          : { [STUDY_TAG]: { run: folder, saved: pathBetween(dirname(out), folder) } },
      onCell: progress.onCell,
    })
      .finally(progress.end)
      .catch((error: unknown) => {
        // What comes with the notebooks is in order; a study of one's own may lack what a notebook asks.
        throw (folder === null ? null : inputFaultOf(error)) ?? error;
      });
    await writeOutput(out, notebookText(run), io);
    io.out(`Notebook: ${out}\n`);
    return 0;
  },
});

/** A study makes no difference to a notebook that reads none: better said than taken. */
async function requireStudyIn(file: string): Promise<void> {
  const { cells } = await readNotebook(file);
  if (cells.some((cell) => cellTags(cell).includes(STUDY_TAG))) return;
  throw badUse(
    'This notebook uses no study.',
    basename(file),
    'the name alone; what it can be given stands in its own first cells',
  );
}

async function notebookNames(): Promise<readonly string[]> {
  const found = await readdir(join(ROOT, 'notebooks'), { recursive: true });
  return found
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => name.endsWith('.ipynb') && !name.includes('.ipynb_checkpoints'))
    .map((name) => name.slice(0, -'.ipynb'.length))
    .sort();
}

/** By its name, with or without the ending, or by its number. */
function nameOf(asked: string, names: readonly string[]): string {
  const bare = asked.replace(/^(?:\.\/)?(?:notebooks\/)?/, '').replace(/\.ipynb$/, '');
  const name =
    names.find((one) => one === bare) ??
    names.find((one) => /^\d+$/.test(bare) && one.startsWith(`${bare}-`));
  if (name !== undefined) return name;
  throw badUse(
    `There is no such notebook.${suggestion(bare, names)}`,
    asked,
    `one of ${names.join(', ')}`,
  );
}
