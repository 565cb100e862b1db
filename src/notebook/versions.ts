import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** What a result was computed with. */
export type Versions = Readonly<Record<'meterpair' | 'node' | 'tslab', string>>;

/** Versions of the package, of Node and of the notebook kernel, for the record. */
export function versions(): Versions {
  const require = createRequire(import.meta.url);
  return {
    meterpair: versionIn(new URL('../../package.json', import.meta.url)),
    node: process.versions.node,
    tslab: versionIn(require.resolve('tslab/package.json')),
  };
}

function versionIn(path: URL | string): string {
  const content: unknown = JSON.parse(readFileSync(path, 'utf8'));
  const found = typeof content === 'object' && content !== null && 'version' in content;
  return found ? String(content.version) : 'unknown';
}
