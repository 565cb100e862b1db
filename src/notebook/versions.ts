import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** What a result was computed with. */
export type Versions = Readonly<Record<'meterpair' | 'node', string> & { tslab?: string }>;

/** Versions of the package, of Node and, where it is installed, of the notebook kernel. */
export function versions(): Versions {
  const kernel = kernelPackage();
  return {
    meterpair: versionIn(new URL('../../package.json', import.meta.url)),
    node: process.versions.node,
    ...(kernel === null ? {} : { tslab: versionIn(kernel) }),
  };
}

function kernelPackage(): string | null {
  try {
    return createRequire(import.meta.url).resolve('tslab/package.json');
  } catch {
    return null;
  }
}

function versionIn(path: URL | string): string {
  const content: unknown = JSON.parse(readFileSync(path, 'utf8'));
  const found = typeof content === 'object' && content !== null && 'version' in content;
  return found ? String(content.version) : 'unknown';
}
