import { createRequire } from 'node:module';
import { join } from 'node:path';
import { MeterpairError } from '../error.js';
import { resultFile } from '../findings/resultFile.js';
import type { Result } from '../vocabulary.js';
import type { Io } from './io.js';
import { pathBetween } from './paths.js';
import { progressOn } from './progress.js';
import { ROOT } from './project.js';

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

/**
 * Runs the comparison notebook on the study and holds its result against the one there is already.
 *
 * @returns the text of compare.ipynb; `null`, and a line on `io.out`, where the kernel is not installed
 * @throws notebook-failed when it stops, or comes to another result
 */
export async function compareNotebook(places: ComparedPlaces, io: Io): Promise<string | null> {
  const missing = missingPackages();
  if (missing.length > 0) {
    io.out(`Without compare.ipynb. ${whatToInstall(missing)}\n`);
    return null;
  }
  const { runNotebook } = await import('../notebook/headless.js');
  const { recordOf } = await import('../notebook/recordOf.js');
  const { result, folder, out, earlier } = places;
  const progress = progressOn(io);
  const notebook = await runNotebook({
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
  if (resultFile(recordOf(notebook, result.data_sha256)) !== resultFile(result)) {
    throw new MeterpairError({
      code: 'notebook-failed',
      file: 'compare.ipynb',
      message: 'The notebook came to another result than the analysis. Nothing was written.',
    });
  }
  return `${JSON.stringify(notebook, null, 1)}\n`;
}
