import { mkdir, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { argumentWrong } from '../error.js';
import { runSheetHtml, runSheetPage } from '../findings/runSheetPage.js';
import type { StudyPlan } from '../plan/planStudy.js';

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
  const contents = {
    'study.json': `${JSON.stringify(plan.study, null, 2)}\n`,
    'runs.csv': plan.runs,
    'run-sheet.html': runSheetPage(String(plan.study.title), plan.sheet),
  };
  const folder = wanted ?? (await mkdtemp(join(tmpdir(), 'meterpair-plan-')));
  await mkdir(folder, { recursive: true });
  const files = Object.entries(contents).map(([name, text]) => ({
    path: join(folder, name),
    text,
  }));
  for (const { path, text } of files) {
    const there = await contentOf(path);
    if (there === null || there === text) continue;
    throw argumentWrong(
      'This file is there already and may hold readings; nothing was written.',
      path,
      'another folder, or the file moved away first',
    );
  }
  for (const { path, text } of files) await writeFile(path, text);
  return { folder, files: files.map(({ path }) => path), html: runSheetHtml(plan.sheet) };
}

async function contentOf(path: string): Promise<string | null> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}
