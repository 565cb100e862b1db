import { createRequire } from 'node:module';
import { join } from 'node:path';
import { MeterpairError } from '../error.js';
import { resultFile } from '../findings/resultFile.js';
import type { Notebook } from '../notebook/notebookFile.js';
import { recordOf } from '../notebook/recordOf.js';
import type { Result } from '../vocabulary.js';
import type { Io } from './io.js';
import { pathBetween } from './paths.js';
import { progressOn } from './progress.js';
import { ROOT } from './project.js';
import { notebookText } from './seal.js';

/** What the notebooks need beside the package. */
const NOTEBOOK_PACKAGES = ['tslab', 'danfojs'];

const HOW_TO_INSTALL =
  "npm pkg set 'overrides.danfojs.xlsx=npm:@e965/xlsx@0.20.3' && npm install tslab danfojs";

/** The packages of the notebooks that are not installed. */
export function missingPackages(): readonly string[] {
  const require = createRequire(import.meta.url);
  return NOTEBOOK_PACKAGES.filter((name) => {
    try {
      require.resolve(name);
      return false;
    } catch {
      return true;
    }
  });
}

/** One line for those who have no kernel. */
export function whatToInstall(missing: readonly string[]): string {
  return `It needs ${missing.join(' and ')}: ${HOW_TO_INSTALL}`;
}

export interface ComparedPlaces {
  readonly result: Result;
  readonly folder: string;
  readonly out: string;
  readonly earlier: readonly string[];
}

/** The text of compare.ipynb, or why there is none. */
export interface KeptNotebook {
  readonly text: string | null;
  /** A fault of the notebook, which leaves the report as it is. */
  readonly fault: MeterpairError | null;
}

/**
 * Runs the comparison notebook on the study and holds its result against the one there is already.
 * Where the kernel is not installed, a line on `io.out` says so.
 *
 * @throws notebook-failed when it comes to another result: then something is wrong with the answer
 */
export async function compareNotebook(places: ComparedPlaces, io: Io): Promise<KeptNotebook> {
  const missing = missingPackages();
  if (missing.length > 0) {
    io.out(`Without compare.ipynb. ${whatToInstall(missing)}\n`);
    return { text: null, fault: null };
  }
  let notebook: Notebook;
  try {
    notebook = await run(places, io);
  } catch (error) {
    if (error instanceof MeterpairError) return { text: null, fault: error };
    throw error;
  }
  const { result } = places;
  if (resultFile(recordOf(notebook, result.data_sha256)) === resultFile(result)) {
    return { text: notebookText(notebook), fault: null };
  }
  throw new MeterpairError({
    code: 'notebook-failed',
    file: 'compare.ipynb',
    message: 'The notebook came to another result than the analysis. Nothing was written.',
  });
}

async function run(places: ComparedPlaces, io: Io): Promise<Notebook> {
  const { runNotebook } = await import('../notebook/headless.js');
  const { folder, out, earlier } = places;
  const progress = progressOn(io);
  return await runNotebook({
    notebook: join(ROOT, 'notebooks', '2-compare.ipynb'),
    outputName: 'compare.ipynb',
    cwd: join(ROOT, 'notebooks'),
    parameters: {
      'study-folder': { run: folder, saved: pathBetween(out, folder) },
      ...(earlier.length === 0
        ? {}
        : {
            'earlier-factors': {
              run: earlier,
              saved: earlier.map((file) => pathBetween(out, file)),
            },
          }),
    },
    onCell: progress.onCell,
  }).finally(progress.end);
}
