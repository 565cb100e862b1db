import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser'];

/** Said where figures are asked for and nothing can draw them. */
export const DRAWING_NEEDS =
  'chromium on the PATH, or the path of a browser of that family in the variable CHROMIUM';

/** Where Chromium is: the variable CHROMIUM, or the first on the PATH; `null` where there is none. */
export function chromiumPath(
  environment: Readonly<Record<string, string | undefined>> = process.env,
): string | null {
  const stated = environment.CHROMIUM;
  if (stated !== undefined && stated !== '') return isExecutable(stated) ? stated : null;
  const folders = (environment.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  const places = folders.flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return places.find(isExecutable) ?? null;
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
