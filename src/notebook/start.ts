import { realpathSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { analyse } from '../analyse.js';
import { type ErrorCode, MeterpairError } from '../error.js';
import { factorsFile } from '../factors/factorsFile.js';
import { reportFigures } from '../figures/index.js';
import { withoutControls } from '../findings/escape.js';
import { resultFile } from '../findings/resultFile.js';
import { factorsOf, readFactors, readStudy } from '../index.js';
import { appendixPage } from '../report/appendixPage.js';
import { cardPage } from '../report/cardPage.js';
import { reportPage } from '../report/reportPage.js';
import { terminalTable } from '../terminal/terminalTable.js';
import type { Result, Study } from '../vocabulary.js';
import { commandLine, HELP } from './commandLine.js';
import { plotlyBundle } from './figureHtml.js';
import { runNotebook } from './headless.js';
import type { Notebook } from './notebookFile.js';
import { checkOutputFolder, type OutputFiles, writeOutputs } from './outputFolder.js';
import { progressOn } from './progress.js';
import { recordOf } from './recordOf.js';
import { versions } from './versions.js';

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

/** The user's input or command is at fault. */
const BAD_INPUT = 2;
const CRASH = 1;

/** Faults that are ours and not the user's. */
const OURS: readonly ErrorCode[] = ['notebook-failed', 'argument-wrong', 'no-convergence'];

// A running notebook takes the streams; a message must get past it.
const tell = process.stderr.write.bind(process.stderr);

async function main(args: readonly string[]): Promise<void> {
  // npm runs this in the project's folder and says where the command was typed.
  const command = commandLine(args, process.env.INIT_CWD ?? process.cwd());
  if (command.kind === 'help') {
    process.stdout.write(HELP);
    return;
  }
  const folder = command.folder ?? (await demoStudy());
  const out = command.out ?? join(ROOT, 'report');
  const study = await readStudy(folder);
  const { earlier } = command;
  for (const file of earlier) await checkEarlier(file, out);
  await checkOutputFolder(out);

  process.stdout.write(`${withoutControls(study.title)}\n`);
  const notebook = await compare(study, { folder, out, earlier });
  const result = recordOf(notebook, study.data_sha256);
  await writeOutputs(out, outputFiles(study, result, notebook));

  const inside = !relative(ROOT, real(out)).startsWith('..');
  const lines = [
    terminalTable(result).trimEnd(),
    `Report: ${join(out, 'report.html')}`,
    ...(inside ? [] : ['compare.ipynb finds the package only from a folder inside the project.']),
  ];
  process.stdout.write(`${lines.join('\n')}\n`);
}

/** The earlier factors must be readable, and still be there when the results are written. */
async function checkEarlier(earlier: string, out: string): Promise<void> {
  await readFactors(earlier);
  if (real(earlier) !== real(join(out, 'factors.json'))) return;
  throw new MeterpairError({
    code: 'command-line',
    message: 'The earlier factors would be written over.',
    found: earlier,
    expected: 'another output folder: --out DIR',
  });
}

/** The first study that comes with the project. */
async function demoStudy(): Promise<string> {
  const entries = await readdir(join(ROOT, 'data-demo'), { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return join(ROOT, 'data-demo', names.sort()[0] ?? '');
}

interface Places {
  readonly folder: string;
  readonly out: string;
  readonly earlier: readonly string[];
}

async function compare(study: Study, { folder, out, earlier }: Places): Promise<Notebook> {
  const progress = progressOn(process.stdout);
  try {
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
    });
  } catch (error) {
    // Data that can be read and yet not be analysed are the user's to mend: say what the analysis
    // says, without the notebook around it.
    analyse(study);
    throw error;
  } finally {
    progress.end();
  }
}

function outputFiles(study: Study, result: Result, notebook: Notebook): OutputFiles {
  const factors = factorsOf(study, result);
  const page = {
    study,
    result,
    factors,
    figures: reportFigures(study, result),
    plotlyBundle: plotlyBundle(),
    versions: versions(),
  };
  return {
    'result.json': resultFile(result),
    'factors.json': factorsFile(factors),
    'report.html': reportPage(page),
    'card.html': cardPage(study, result),
    'appendix.html': appendixPage(page),
    'compare.ipynb': `${JSON.stringify(notebook, null, 1)}\n`,
  };
}

/** The way from the output folder to the study, as the kept notebook will walk it. */
function pathBetween(out: string, folder: string): string {
  const way = relative(real(out), real(folder)) || '.';
  return isAbsolute(way) ? way : way.split(sep).join('/');
}

/** The path with its links resolved, as far as it exists. */
function real(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return dirname(path) === path ? path : join(real(dirname(path)), basename(path));
  }
}

function complain(error: unknown): void {
  const input = error instanceof MeterpairError && !OURS.includes(error.code);
  const text = error instanceof Error ? error.message : String(error);
  const lines = text.split('\n').map(withoutControls).join('\n');
  tell(input ? `${lines}\n` : `The comparison stopped. ${lines}\n`);
  process.exitCode = input ? BAD_INPUT : CRASH;
}

for (const event of ['uncaughtException', 'unhandledRejection'] as const) {
  process.on(event, (error: unknown) => {
    complain(error);
    process.exit();
  });
}
// Whoever stops reading has seen enough.
process.stdout.on('error', () => process.exit());

await main(process.argv.slice(2)).catch(complain);
