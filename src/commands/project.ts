import { readdir } from 'node:fs/promises';
import { dirname, join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of the package: the clone, or where it is installed. */
export const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

/** Where the outputs go when nobody says: `report` in the clone, or where the command was typed. */
export function usualOutputFolder(from: string): string {
  const installed = ROOT.split(sep).includes('node_modules');
  return join(installed ? from : ROOT, 'report');
}

/** The first study that comes with the package. */
export async function demoStudy(): Promise<string> {
  const entries = await readdir(join(ROOT, 'data-demo'), { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return join(ROOT, 'data-demo', names.sort()[0] ?? '');
}
