import { realpathSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, sep } from 'node:path';

/** The path with its links resolved, as far as it exists. */
export function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return dirname(path) === path ? path : join(realPath(dirname(path)), basename(path));
  }
}

/** The way from a folder to a file or folder, with slashes, as a kept notebook will walk it. */
export function pathBetween(from: string, to: string): string {
  const way = relative(realPath(from), realPath(to)) || '.';
  return isAbsolute(way) ? way : way.split(sep).join('/');
}
