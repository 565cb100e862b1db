import { mkdir, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { argumentWrong } from '../error.js';
import { runSheetHtml, runSheetPage } from '../findings/runSheetPage.js';
import type { StudyPlan } from '../plan/planStudy.js';
import { codeOf } from '../record/regularFile.js';

export interface WrittenPlan {
  readonly folder: string;
  /** Paths of study.json, of runs.csv and of the page to print. */
  readonly files: readonly string[];
  /** The sheet as HTML, every text in it escaped: to show below a cell. */
  readonly html: string;
}

/**
 * Writes a plan: study.json, runs.csv with empty cells, and the sheet to print for the bench. A file that is
 * there already and says something else is left alone: it may hold readings.
 *
 * @param wanted where to; `null`: a fresh folder under the system's temporary folder
 * @throws argument-wrong for a file that is there already
 */
export async function writePlan(plan: StudyPlan, wanted: string | null): Promise<WrittenPlan> {
  const contents = planFiles(plan);
  const folder = wanted ?? (await mkdtemp(join(tmpdir(), 'meterpair-plan-')));
  await mkdir(folder, { recursive: true });
  const lost = await fileInTheWay(folder, contents);
  if (lost !== null) throw argumentWrong(IN_THE_WAY.message, lost, IN_THE_WAY.expected);
  for (const [name, text] of Object.entries(contents)) await writeFile(join(folder, name), text);
  const files = Object.keys(contents).map((name) => join(folder, name));
  return { folder, files, html: runSheetHtml(plan.sheet) };
}

/** The files of a plan by their names. */
export function planFiles(
  plan: StudyPlan,
): Readonly<Record<'study.json' | 'runs.csv' | 'run-sheet.html', string>> {
  return {
    'study.json': `${JSON.stringify(plan.study, null, 2)}\n`,
    'runs.csv': plan.runs,
    'run-sheet.html': runSheetPage(String(plan.study.title), plan.sheet),
  };
}

/** Said of a file that is not written over. */
export const IN_THE_WAY = {
  message: 'This file is there already and may hold readings; nothing was written.',
  expected: 'another folder, or the file moved away first',
};

/** Path of the first of these files that is there and says something else; `null`: none is. */
export async function fileInTheWay(
  folder: string,
  files: Readonly<Record<string, string | Buffer>>,
): Promise<string | null> {
  for (const [name, content] of Object.entries(files)) {
    const there = await contentOf(join(folder, name));
    if (there !== null && !there.equals(Buffer.from(content))) return join(folder, name);
  }
  return null;
}

async function contentOf(path: string): Promise<Buffer | null> {
  try {
    return await readFile(path);
  } catch (error) {
    if (['ENOENT', 'ENOTDIR'].includes(codeOf(error))) return null;
    throw error;
  }
}
